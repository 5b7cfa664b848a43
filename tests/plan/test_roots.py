"""From the roots over the states of the capsule to the places: shares, sums, ranges."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.risk_eyes import FINDINGS, PLAIN, eyes, lookup_of
from plan.cases import NAMES, case, example, planned, refusing, with_findings, with_status
from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.own import surgeons_in_general
from zonule.assessment.risk.rupture import rupture_risk
from zonule.findings.answers import Answer, Unknown
from zonule.findings.conditions import parse
from zonule.library.placements import places
from zonule.library.reading import table
from zonule.library.risk_models import model, scores
from zonule.plan.roots.of_an_eye import gaps_before, roots_of
from zonule.plan.roots.records import Roots
from zonule.plan.roots.states import GAPS, every_combination, states_given
from zonule.plan.roots.tree import GapBefore, RootChances, likelihoods
from zonule.plan.states.engine import state_answer
from zonule.practice.risk import RiskChoices

OWN = surgeons_in_general(RiskChoices())
EVERYTHING = tuple(
    (key, one.placement)
    for key, one in places().items()
    if not one.property_of and key != "none_final"
)
"""Every rung there can be, in the order of the list."""
LENSLESS = ("later", "later")


def _roots(findings: dict[str, Answer], offered: tuple[tuple[str, str], ...]) -> Roots:
    lookup = lookup_of(findings)
    return roots_of(rupture_risk(lookup, OWN), lookup, offered)


def test_the_shares_of_every_split_sum_to_one() -> None:
    splits = table("risk/roots")["split"]
    assert len(splits) >= 5
    for split in splits:
        assert sum(row["share"] for row in split["rows"]) == pytest.approx(1.0, abs=1e-12)
    before = table("risk/roots")["gap_before"]["rows"]
    assert sum(row["prevalence"] for row in before) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("gap", GAPS)
def test_every_state_is_one_the_team_could_answer(gap: str) -> None:
    """No state contradicts itself, each has one first choice, and the shares sum to 1."""
    for given_ in every_combination():
        states = states_given(given_, gap)
        assert sum(one.share for one in states) == pytest.approx(1.0, abs=1e-12)
        for one in states:
            answer = state_answer(one.answers)
            assert answer.contradictions == (), one
            assert answer.first_choice is not None, one


@st.composite
def offered(draw: st.DrawFn) -> tuple[tuple[str, str], ...]:
    kept = draw(st.lists(st.sampled_from(EVERYTHING), unique=True))
    return tuple(one for one in EVERYTHING if one in kept or one == LENSLESS)


@settings(max_examples=500)
@given(eyes(), offered())
def test_the_rungs_of_500_invented_eyes_sum_to_one(
    drawn: tuple[dict[str, Answer], dict[str, Answer]], rungs: tuple[tuple[str, str], ...]
) -> None:
    found = _roots(drawn[1], rungs)
    assert sum(one.value for one in found.rungs.values()) == pytest.approx(1.0, abs=1e-9)
    assert set(found.rungs) == {key for key, _ in rungs}
    for one in found.rungs.values():
        assert -1e-12 <= one.low <= one.value + 1e-12 <= one.high + 2e-12 <= 1.0 + 4e-12
    assert sum(one.share for one in found.states) == pytest.approx(1.0, abs=1e-9)


@settings(max_examples=60)
@given(eyes())
def test_the_range_of_a_rung_holds_every_completion(
    drawn: tuple[dict[str, Answer], dict[str, Answer]],
) -> None:
    whole, partly = (_roots(one, EVERYTHING).rungs for one in drawn)
    for key, one in whole.items():
        assert partly[key].low - 1e-9 <= one.value <= partly[key].high + 1e-9


def test_a_gap_that_is_not_known_is_not_read_as_none() -> None:
    known = gaps_before(lookup_of(PLAIN))
    assert known == (GapBefore("0", 1.0),)
    open_ = gaps_before(lookup_of(PLAIN | {"dialysis_clock_hours": Unknown.NOT_RECORDED}))
    assert {one.gap_hours for one in open_} == set(GAPS)
    assert sum(one.weight for one in open_) == pytest.approx(1.0)
    swings = gaps_before(lookup_of(PLAIN | {"phacodonesis": "marked"}))
    assert [one.gap_hours for one in swings] == ["0", "up_to_7"], "ring or anchor: both stay open"


@pytest.mark.parametrize(
    ("hours", "band"),
    [(0, "0"), (3, "up_to_3"), (3.5, "up_to_4"), (4, "up_to_4"), (7, "up_to_7"), (9, "over_7")],
)
def test_the_hours_counted_before_surgery_fall_into_one_band(hours: float, band: str) -> None:
    found = gaps_before(lookup_of(PLAIN | {"dialysis_clock_hours": hours}))
    assert found == (GapBefore(band, 1.0),)


def test_more_of_a_root_never_makes_the_whole_bag_likelier() -> None:
    def bag(capsule: float, zonule: float, rim: float) -> float:
        at = (Chance(one, one, one) for one in (capsule, zonule, rim))
        found = likelihoods(
            RootChances(*at),
            [GapBefore("0", 1.0)],
            [key for key, _ in EVERYTHING],
            lambda answers: "bag" if answers.get("posterior_capsule") == "intact" else "later",
        )
        return found["bag"].value

    assert bag(0.0, 0.0, 0.0) == 1.0
    assert bag(0.02, 0.02, 0.02) > bag(0.10, 0.02, 0.02)
    assert bag(0.02, 0.02, 0.02) > bag(0.02, 0.10, 0.02)
    assert bag(0.02, 0.02, 0.02) > bag(0.02, 0.02, 0.10)


@pytest.mark.parametrize("name", NAMES)
def test_a_plan_shows_likelihoods_where_there_is_a_model_for_the_eye(name: str) -> None:
    plan = example(name)
    shown = [one.likelihood for one in plan.rungs if one.offered]
    if plan.risks is None:
        assert plan.case.operative_eye.lens_status != "phakic"
        assert set(shown) <= {None}
        return
    assert sum(one for one in shown if one is not None) == pytest.approx(1.0, abs=1e-9)
    assert None not in shown
    assert {one.likelihood for one in plan.rungs if not one.offered} <= {None}


def test_a_place_the_patient_refuses_gets_no_share_and_the_next_one_gets_it() -> None:
    before = example("hard-second-eye")
    after = planned(refusing(case("hard-second-eye"), "sulcus_capture"))
    first, second = before.rung("sulcus_three_piece"), after.rung("sulcus_three_piece")
    assert first is not None
    assert second is not None
    assert first.likelihood is not None
    assert second.likelihood is not None
    assert second.likelihood > 1.5 * first.likelihood


def test_an_eye_without_its_own_lens_has_no_risks() -> None:
    for status in ("aphakic", "pseudophakic"):
        plan = planned(with_status(case("plain-eye"), status))
        assert plan.risks is None


def test_the_hard_eye_keeps_its_bag_less_often_than_the_plain_one() -> None:
    hard, plain = example("hard-second-eye").risks, example("plain-eye").risks
    assert hard is not None
    assert plain is not None
    assert hard.roots.rungs["bag"].value < plain.roots.rungs["bag"].value
    worse = planned(with_findings(case("hard-second-eye"), phacodonesis="marked")).risks
    assert worse is not None
    assert worse.roots.rungs["bag"].value < hard.roots.rungs["bag"].value


def test_every_finding_of_the_roots_is_among_those_drawn() -> None:
    used = {
        parse(text).finding
        for factor in model("rupture_uk_2009").factors
        for level in factor.levels
        for text in (*level.when_all, *level.when_any)
    }
    used |= {
        parse(text).finding
        for item in scores()["muhtaseb_2004"].items
        for text in (*item.when_all, *item.when_any)
    }
    assert used <= set(FINDINGS), used - set(FINDINGS)
