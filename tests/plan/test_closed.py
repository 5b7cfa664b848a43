"""Why a place is closed, waits, or is open with something to say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import case, planned, practice, refusing, rung, with_biometry, with_findings
from zonule.findings.answers import Answer, Unknown
from zonule.findings.labels import named
from zonule.findings.records import Eye
from zonule.library.placements import Exclusion, exclusions, place, places
from zonule.plan.closed import in_repertoire, verdict

PLAIN = case("plain-eye")
EVERYTHING = replace(practice(), repertoire=tuple(places()))
UNKNOWNS = list(Unknown)


def _nothing_recorded(_name: str) -> Answer:
    return Unknown.NOT_RECORDED


@pytest.mark.parametrize(
    ("key", "repertoire", "does"),
    [
        ("bag", ("bag",), True),
        ("bag:posterior_tear", ("bag",), True),
        ("bag:ring", ("bag",), True),
        ("bag_anchored", ("bag",), False),
        ("iris_claw:behind", ("iris_claw:behind",), True),
        ("iris_claw:in_front", ("iris_claw:behind",), False),
        ("iris_claw:behind", ("iris_claw",), False),
        ("scleral:one_piece", ("scleral",), False),
        ("later", (), True),
        ("none_final", (), True),
    ],
)
def test_repertoire(key: str, repertoire: tuple[str, ...], *, does: bool) -> None:
    assert in_repertoire(place(key), replace(practice(), repertoire=repertoire)) is does


def test_what_the_surgeon_does_not_do_is_closed_before_anything_else() -> None:
    plan = planned(refusing(PLAIN, "iris_suture"))
    assert rung(plan, "iris_suture").refused_because == "not in your repertoire"


@pytest.mark.parametrize(
    ("word", "closed", "open_"),
    [
        (
            "scleral",
            ("scleral:intrascleral_2_0_mm", "scleral:sutured_1_0_mm"),
            ("iris_claw:behind",),
        ),
        (
            "scleral:sutured_1_0_mm",
            ("scleral:sutured_1_0_mm",),
            ("scleral:intrascleral_2_0_mm",),
        ),
        ("sulcus_capture", ("sulcus_capture",), ("sulcus_three_piece",)),
        ("later", ("later",), ("bag",)),
    ],
)
def test_the_patients_word_closes_a_place_or_one_variant_of_it(
    word: str, closed: tuple[str, ...], open_: tuple[str, ...]
) -> None:
    plan = planned(refusing(PLAIN, word))
    for key in closed:
        assert rung(plan, key).refused_because == "the patient does not want it"
        assert not rung(plan, key).offered
    for key in open_:
        assert rung(plan, key).offered


def _says(rule: Exclusion, value: str) -> str:
    return rule.says.format(value=value)


def _true_value(when: str) -> tuple[str, Answer, str]:
    """Return a finding, a value for which the condition holds, and how it is written."""
    finding, operator, text = when.split(" ", 2)
    if text == "true":
        return finding, True, "True"
    number = float(text) + (0.5 if operator == ">" else -0.5)
    return finding, number, f"{number:,.10g}"


RULES = [(rule, key) for rule in exclusions() for key in rule.places]


def test_there_are_rules_to_try() -> None:
    assert len(RULES) >= 12


@pytest.mark.parametrize(("rule", "key"), RULES)
def test_a_rule_that_holds_closes_and_gives_its_reason(rule: Exclusion, key: str) -> None:
    finding, value, written = _true_value(rule.when)
    others = {_true_value(r.when)[0]: False for r in exclusions() if _true_value(r.when)[1] is True}
    numbers: dict[str, Answer] = {"anterior_chamber_depth_mm": 3.5, "ecd": 2500}
    known = {**numbers, **others, "dialysis_clock_hours": 0, finding: value}
    found = verdict(place(key), Eye(side="left"), EVERYTHING, known.__getitem__)
    assert found.refused_because == _says(rule, written)
    assert not found.waits_for


@pytest.mark.parametrize("unknown", UNKNOWNS)
@pytest.mark.parametrize(("rule", "key"), RULES)
def test_an_unknown_finding_holds_or_says_and_is_never_read_as_absent(
    rule: Exclusion, key: str, unknown: Unknown
) -> None:
    finding = _true_value(rule.when)[0]
    others: dict[str, Answer] = {
        "anterior_chamber_depth_mm": 3.5,
        "ecd": 2500,
        "glaucoma": False,
        "hist_angle_closure": False,
        "hist_uveitis": False,
        "dialysis_clock_hours": 0,
    }
    found = verdict(
        place(key), Eye(side="left"), EVERYTHING, {**others, finding: unknown}.__getitem__
    )
    assert found.refused_because == ""
    if rule.if_unknown == "hold":
        assert (found.waits_for, found.finding) == (named(finding), finding)
        assert found.says == ()
    else:
        assert found.waits_for == ""
        assert f"{named(finding)} not known" in found.says


def test_a_rule_that_does_not_hold_is_silent() -> None:
    plan = planned(PLAIN)
    assert rung(plan, "anterior_chamber").offered
    assert "finding_says" not in {one.name for one in rung(plan, "bag").caveats}


@pytest.mark.parametrize(
    ("hours", "closed"),
    [
        (3, ()),
        (3.5, ("sulcus_three_piece", "sulcus_capture")),
        (4, ("sulcus_three_piece", "sulcus_capture")),
        (4.5, ("sulcus_three_piece", "sulcus_capture", "bag", "bag:posterior_tear")),
    ],
)
def test_a_dialysis_closes_sulcus_then_bag(hours: float, closed: tuple[str, ...]) -> None:
    plan = planned(with_findings(PLAIN, dialysis_clock_hours=hours))
    for key in ("sulcus_three_piece", "sulcus_capture", "bag", "bag:posterior_tear"):
        assert rung(plan, key).offered is (key not in closed)
    assert rung(plan, "bag_anchored").offered


def test_when_the_bag_is_closed_the_next_place_is_the_one_in_hand() -> None:
    plan = planned(with_findings(PLAIN, dialysis_clock_hours=5))
    assert plan.in_hand is not None
    assert plan.in_hand.place.key == "bag_anchored"
    assert rung(plan, "bag").refused_because == (
        "dialysis of 5 clock hours: the bag needs an anchor"
    )


@pytest.mark.parametrize(
    ("depth", "reason"),
    [(2.99, "chamber depth 2.99 mm, needs 3.0"), (3.0, ""), (3.01, "")],
)
def test_the_chamber_is_closed_below_its_limit_and_open_at_it(depth: float, reason: str) -> None:
    plan = planned(with_biometry(PLAIN, anterior_chamber_depth_mm=depth))
    assert rung(plan, "anterior_chamber").refused_because == reason


APHAKIC = case("aphakic-eye")
BAG_PLACES = (
    "bag",
    "bag:posterior_tear",
    "bag_anchored",
    "bag_posterior_capture",
    "reverse_capture",
)


@pytest.mark.parametrize(
    ("capsule", "captured", "loose"),
    [
        ("posterior_torn", "", ""),
        ("rim", "no opening with a whole edge to capture the optic in", ""),
        ("complete", "no opening with a whole edge to capture the optic in", ""),
        ("none", "no capsule is present", "no capsule is present"),
    ],
)
def test_the_capsule_that_is_there_decides_in_an_aphakic_eye(
    capsule: str, captured: str, loose: str
) -> None:
    eye = replace(APHAKIC.operative_eye, answers={"capsule_present": capsule})
    for key, reason in (("sulcus_capture", captured), ("sulcus_three_piece", loose)):
        assert verdict(place(key), eye, EVERYTHING, _nothing_recorded).refused_because == reason


@pytest.mark.parametrize("unknown", UNKNOWNS)
def test_an_unknown_capsule_makes_the_sulcus_wait(unknown: Unknown) -> None:
    plan = planned(with_findings(APHAKIC, capsule_present=unknown))
    for key in ("sulcus_capture", "sulcus_three_piece"):
        assert rung(plan, key).waits_for == "which capsule is present"
        assert not rung(plan, key).offered


def test_part_of_a_rim_leaves_a_loose_sulcus_lens_waiting() -> None:
    eye = replace(APHAKIC.operative_eye, answers={"capsule_present": "rim"})
    found = verdict(place("sulcus_three_piece"), eye, EVERYTHING, _nothing_recorded)
    assert found.waits_for == "whether 270 degrees of rim are sound"


def test_the_bag_of_an_aphakic_eye_is_closed_for_good() -> None:
    plan = planned(APHAKIC)
    for key in BAG_PLACES:
        assert rung(plan, key).refused_because == "the bag has closed after the first operation"
