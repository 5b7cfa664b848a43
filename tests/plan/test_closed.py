"""Why a place is closed, waits, or is open with something to say."""

from __future__ import annotations

import ast
from dataclasses import replace
from typing import Any

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
        ("iris_claw:behind", ("iris_claw",), True),
        ("iris_claw:in_front", ("iris_claw",), True),
        ("scleral:one_piece", ("scleral",), True),
        ("scleral:one_piece", ("iris_claw",), False),
        ("bag", ("bag:posterior_tear",), True),
        ("bag:posterior_tear", ("bag:ring",), True),
        ("bag_posterior_capture", ("bag:posterior_tear",), False),
        ("bag", ("bag_anchored",), False),
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
    if operator == "in":
        first = ast.literal_eval(text)[0]
        return finding, first, first
    number = float(text) + {">": 0.5, ">=": 0.0, "<": -0.5}[operator]
    return finding, number, f"{number:,.10g}"


SOUND: dict[str, Answer] = {
    "depth_in_front_mm": 3.5,
    "ecd": 2500,
    "glaucoma": False,
    "hist_angle_closure": False,
    "hist_uveitis": False,
    "guttata": "none",
    "dialysis_clock_hours": 0,
}
"""Everything the rules ask for, in an eye where none of them holds."""


RULES = [(rule, key) for rule in exclusions() for key in rule.places]


def test_there_are_rules_to_try() -> None:
    assert len(RULES) >= 20


@pytest.mark.parametrize("key", [key for key, one in places().items() if one.holds_lens])
def test_where_no_rule_holds_the_eye_closes_nothing(key: str) -> None:
    found = verdict(place(key), Eye(side="left"), EVERYTHING, SOUND.__getitem__)
    assert (found.closes, found.says) == (False, ())


@pytest.mark.parametrize(("rule", "key"), RULES)
def test_a_rule_that_holds_closes_and_gives_its_reason(rule: Exclusion, key: str) -> None:
    finding, value, written = _true_value(rule.when)
    known = {**SOUND, finding: value}
    found = verdict(place(key), Eye(side="left"), EVERYTHING, known.__getitem__)
    assert found.refused_because == _says(rule, written)
    assert not found.waits_for


@pytest.mark.parametrize("unknown", UNKNOWNS)
@pytest.mark.parametrize(("rule", "key"), RULES)
def test_an_unknown_finding_holds_or_says_and_is_never_read_as_absent(
    rule: Exclusion, key: str, unknown: Unknown
) -> None:
    finding = _true_value(rule.when)[0]
    found = verdict(
        place(key), Eye(side="left"), EVERYTHING, {**SOUND, finding: unknown}.__getitem__
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


SULCUS = ("sulcus_three_piece", "sulcus_capture")
BAG = ("bag", "bag:posterior_tear", "bag_posterior_capture", "reverse_capture")


@pytest.mark.parametrize(
    ("hours", "closed"),
    [
        (3, ()),
        (3.5, SULCUS),
        (4, SULCUS),
        (4.5, (*SULCUS, *BAG)),
        (8.5, (*SULCUS, *BAG)),
        (9, (*SULCUS, *BAG, "bag_anchored")),
        (12, (*SULCUS, *BAG, "bag_anchored")),
    ],
)
def test_a_dialysis_closes_the_sulcus_then_the_bag_then_an_anchored_bag(
    hours: float, closed: tuple[str, ...]
) -> None:
    plan = planned(with_findings(PLAIN, dialysis_clock_hours=hours))
    for key in (*SULCUS, *BAG, "bag_anchored"):
        assert rung(plan, key).offered is (key not in closed), key


@pytest.mark.parametrize(
    ("hours", "key", "reason"),
    [
        (5, "bag_posterior_capture", "dialysis of 5 clock hours: the bag needs an anchor"),
        (5, "reverse_capture", "dialysis of 5 clock hours: the bag needs an anchor"),
        (9, "bag_anchored", "dialysis of 9 clock hours: no bag worth saving"),
        (
            3.5,
            "sulcus_capture",
            "dialysis of 3.5 clock hours: no support for haptics in the sulcus",
        ),
    ],
)
def test_how_a_wide_dialysis_is_said(hours: float, key: str, reason: str) -> None:
    plan = planned(with_findings(PLAIN, dialysis_clock_hours=hours))
    assert rung(plan, key).refused_because == reason


CHAMBER = ("anterior_chamber", "iris_claw:in_front")
FRONT = replace(practice(), repertoire=("bag", "iris_claw", "anterior_chamber"))


@pytest.mark.parametrize(
    ("answers", "reason"),
    [
        ({"guttata": "none"}, ""),
        ({"guttata": "central_few"}, ""),
        ({"guttata": "confluent"}, "guttata: confluent"),
        ({"guttata": "oedema"}, "guttata: oedema"),
        ({"hist_angle_closure": True}, "angle closure in the past"),
        ({"hist_angle_closure": False}, ""),
    ],
)
@pytest.mark.parametrize("key", CHAMBER)
def test_a_poor_cornea_and_a_closed_angle_keep_a_lens_out_of_the_chamber(
    key: str, answers: dict[str, Any], reason: str
) -> None:
    plan = planned(with_findings(PLAIN, **answers), FRONT)
    assert rung(plan, key).refused_because == reason
    assert rung(plan, key).offered is (reason == "")
    assert rung(plan, "iris_claw:behind").offered


@pytest.mark.parametrize("unknown", UNKNOWNS)
@pytest.mark.parametrize("key", CHAMBER)
def test_guttata_not_known_are_said_and_a_closed_angle_not_known_is_waited_for(
    key: str, unknown: Unknown
) -> None:
    says = [
        c.says for c in rung(planned(with_findings(PLAIN, guttata=unknown), FRONT), key).caveats
    ]
    assert "guttata not known" in says
    angle = planned(with_findings(PLAIN, hist_angle_closure=unknown), FRONT)
    assert (rung(angle, key).offered, rung(angle, key).waits_for) == (False, "angle closure")


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


@pytest.mark.parametrize(
    ("measured", "reason", "waits"),
    [
        ({"depth": 2.50, "origin": "endothelium", "thickness": 520.0}, "", ""),
        (
            {"depth": 2.45, "origin": "endothelium", "thickness": 520.0},
            "chamber depth 2.97 mm, needs 3.0",
            "",
        ),
        ({"depth": 2.97, "origin": "epithelium"}, "chamber depth 2.97 mm, needs 3.0", ""),
        ({"depth": 3.4, "origin": "endothelium"}, "", "anterior chamber depth"),
        ({"depth": 3.4, "origin": Unknown.UNKNOWN}, "", "anterior chamber depth"),
        ({"depth": Unknown.NOT_POSSIBLE}, "", "anterior chamber depth"),
    ],
)
def test_the_chamber_is_measured_from_the_front_of_the_cornea(
    measured: dict[str, Any], reason: str, waits: str
) -> None:
    plan = planned(
        with_biometry(
            PLAIN,
            anterior_chamber_depth_mm=measured["depth"],
            anterior_chamber_depth_from=measured.get("origin", Unknown.NOT_RECORDED),
            corneal_thickness_um=measured.get("thickness", Unknown.NOT_RECORDED),
        )
    )
    found = rung(plan, "anterior_chamber")
    assert (found.refused_because, found.waits_for) == (reason, waits)


def test_the_chamber_of_an_aphakic_eye_counts_though_no_formula_takes_it() -> None:
    shallow = planned(with_biometry(APHAKIC, anterior_chamber_depth_mm=2.4))
    assert rung(shallow, "anterior_chamber").refused_because == "chamber depth 2.4 mm, needs 3.0"


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
        ("rim", "less than 270 degrees of rim", "less than 270 degrees of rim"),
        ("rim_270", "no opening with a whole edge to capture the optic in", ""),
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


@pytest.mark.parametrize("key", SULCUS)
@pytest.mark.parametrize("capsule", ["rim", "rim_270", "posterior_torn", "complete"])
def test_the_patients_word_on_the_capsule_is_not_enough(capsule: str, key: str) -> None:
    told = {"capsule_present": capsule, "capsule_seen_by": "patient"}
    eye = replace(APHAKIC.operative_eye, answers=told)
    found = verdict(place(key), eye, EVERYTHING, _nothing_recorded)
    assert (found.refused_because, found.waits_for) == ("", "someone who has seen the capsule")
    assert found.finding == "capsule_seen_by"


@pytest.mark.parametrize("seen_by", ["slit_lamp", "ultrasound", "operation_note", *Unknown])
def test_whoever_else_saw_the_capsule_is_believed(seen_by: str | Unknown) -> None:
    told = {"capsule_present": "posterior_torn", "capsule_seen_by": seen_by}
    eye = replace(APHAKIC.operative_eye, answers=told)
    for key in SULCUS:
        assert not verdict(place(key), eye, EVERYTHING, _nothing_recorded).closes


def test_the_capsule_of_an_eye_with_its_own_lens_is_not_asked_for() -> None:
    told = {"capsule_present": "none", "capsule_seen_by": "patient"}
    eye = replace(PLAIN.operative_eye, answers=told)
    for key in SULCUS:
        assert not verdict(place(key), eye, EVERYTHING, _nothing_recorded).closes


def test_the_bag_of_an_aphakic_eye_is_closed_for_good() -> None:
    plan = planned(APHAKIC)
    for key in BAG_PLACES:
        assert rung(plan, key).refused_because == "the bag has closed after the first operation"
