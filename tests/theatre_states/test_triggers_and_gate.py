"""What a trigger makes of the answers, what they are before, and when a power may be shown."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from theatre_states.answers import WHOLE, with_
from zonule.findings.answers import Answer, Unknown
from zonule.plan.states.engine import state_answer
from zonule.plan.states.gate import power_gate
from zonule.plan.states.prefill import answers_before
from zonule.plan.states.tables import tables
from zonule.plan.states.triggers import trigger_effect, trigger_links

TORN = with_(posterior_capsule="tear_large")
SHUTS = [one.id for one in trigger_links().values() if one.closes_gate]
CLEARED = ["vitreous_cleared", "rim_looked_at_again"]


def known(**told: Answer) -> Callable[[str], Answer]:
    found: Mapping[str, Answer] = told
    return lambda name: found.get(name, Unknown.NOT_RECORDED)


# ---------------------------------------------------------------- triggers


@pytest.mark.parametrize("trigger", trigger_links())
def test_a_trigger_forgets_and_sets_only_what_there_is(trigger: str) -> None:
    link = trigger_links()[trigger]
    assert set(link.forgets) <= set(tables().questions)
    for name, value in link.sets.items():
        assert value in tables().questions[name].values
    for stage in link.stages:
        found = trigger_effect(trigger, WHOLE, stage)
        untouched = set(WHOLE) - set(found.stale) - set(link.sets)
        assert {name: found.answers[name] for name in untouched} == {
            name: WHOLE[name] for name in untouched
        }


def test_what_means_nothing_yet_is_not_forgotten() -> None:
    before = answers_before(known(lens_status="phakic"))
    ports = trigger_effect("TR-15", before, "ports")
    assert ports.answers["rhexis"] == "not_started"
    assert ports.answers["vitreous"] == "through_gap"
    while_made = trigger_effect("TR-04", before, "rhexis")
    assert while_made.answers["rhexis"] == "not_known"


def test_an_earlier_word_on_vitreous_is_stale_once_the_capsule_is_open() -> None:
    assert trigger_effect("TR-11", WHOLE, "cortex").answers["vitreous"] == "not_known"


@pytest.mark.parametrize("trigger", trigger_links())
def test_after_a_trigger_nothing_is_first_that_its_answers_do_not_settle(trigger: str) -> None:
    link = trigger_links()[trigger]
    for stage in link.stages:
        told = state_answer(trigger_effect(trigger, WHOLE, stage).answers)
        if "posterior_capsule" in link.forgets and "vitreous" in link.forgets:
            assert told.first_choice is None
            assert told.next_question is not None


# ---------------------------------------------------------------- before anybody is asked


def test_what_is_not_recorded_is_not_known() -> None:
    found = answers_before(known())
    assert found["posterior_capsule"] == found["vitreous"] == found["gap_hours"] == "not_known"


@pytest.mark.parametrize(
    ("hours", "band"),
    [
        (0.0, "0"),
        (0.5, "up_to_3"),
        (3.0, "up_to_3"),
        (3.5, "up_to_4"),
        (7.0, "up_to_7"),
        (8.0, "over_7"),
    ],
)
def test_hours_fall_into_their_band(hours: float, band: str) -> None:
    assert answers_before(known(dialysis_clock_hours=8.0))["gap_hours"] == "over_7"
    assert answers_before(known(dialysis_clock_hours=hours))["gap_hours"] == band


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({}, "intact"),
        ({"lens_look": "posterior_polar"}, "not_known"),
        ({"intravitreal_injections": 2}, "not_known"),
        ({"hist_vitrectomy": Unknown.UNKNOWN}, "not_known"),
        ({"lens_status": "aphakic"}, "not_known"),
    ],
)
def test_the_capsule_counts_as_whole_only_if_nothing_speaks_against_it(
    changed: dict[str, Answer], says: str
) -> None:
    plain: dict[str, Answer] = {
        "lens_status": "phakic",
        "lens_look": "nuclear",
        "intravitreal_injections": 0,
        "hist_vitrectomy": False,
    }
    assert answers_before(known(**plain | changed))["posterior_capsule"] == says


def test_a_rhexis_not_made_is_known_only_until_its_stage() -> None:
    phakic = known(lens_status="phakic")
    told = {stage: answers_before(phakic, stage)["rhexis"] for stage in tables().stages}
    assert told["ports"] == told["rhexis"] == "not_started"
    assert told["hydro"] == told["close"] == "not_known"


# ---------------------------------------------------------------- the gate before a power


def test_the_gate_is_open_while_nothing_has_happened() -> None:
    gate = power_gate(WHOLE)
    assert (gate.open, gate.line) == (True, "")


@pytest.mark.parametrize("trigger", SHUTS)
def test_a_trigger_shuts_it_until_both_events_follow(trigger: str) -> None:
    assert not power_gate(WHOLE, [*CLEARED, trigger]).open
    assert not power_gate(WHOLE, [trigger, CLEARED[0]]).open
    assert power_gate(WHOLE, [trigger, *CLEARED]).open
    assert not power_gate(WHOLE, [trigger, *CLEARED, trigger]).open
    assert not power_gate(WHOLE, [trigger, *CLEARED, "state_changed"]).open


@pytest.mark.parametrize(
    "trigger", [one.id for one in trigger_links().values() if not one.closes_gate]
)
def test_other_triggers_do_not_shut_it(trigger: str) -> None:
    assert power_gate(WHOLE, [trigger]).open


@pytest.mark.parametrize(
    "changed",
    [
        {"vitreous": "in_chamber"},
        {"vitreous": "not_known"},
        {"usable_rim": "not_known"},
        {"gap_hours": "not_known"},
        {"safe_to_go_on": "not_known"},
        {"safe_to_go_on": "no"},
        {"capsule_opening_fit": "yes", "usable_rim": "at_least_270"},
    ],
)
def test_a_torn_capsule_shuts_it_until_everything_is_answered(changed: dict[str, str]) -> None:
    assert power_gate(TORN, CLEARED).open
    gate = power_gate(TORN | changed, CLEARED)
    assert not gate.open
    assert not gate.state_allows
    assert gate.missing
    assert gate.line == "Every lens stays in its sealed box."


def test_a_moot_question_need_not_be_answered() -> None:
    gone = with_(posterior_capsule="absent", usable_rim="under_270", gap_hours="not_known")
    assert power_gate(gone | {"capsule_opening_fit": "not_known"}, CLEARED).open
