"""Tray, steps, machine, anaesthesia and what is said, over the examples and changes to them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan.cases import NAMES, TODAY, case, example, planned, practice, with_eye, with_findings
from zonule.findings.answers import Unknown
from zonule.findings.checks import interruptions
from zonule.findings.labels import label_of
from zonule.findings.records import Overruling
from zonule.library.rules import rules
from zonule.pathway.show_a_plan import plan_as_json
from zonule.plan.main_wound import hour_of, hours_apart, main_wound, on_the_clock
from zonule.practice.department import Habits

PLAIN = example("plain-eye")


def test_the_plain_eye_shows_at_most_eight_rules_and_one_interruption() -> None:
    assert 5 <= len(PLAIN.parts.firing()) <= 8
    assert len(interruptions(PLAIN.problems)) <= 1
    assert PLAIN.parts.machine_profile == "standard"
    assert not PLAIN.parts.nucleus
    assert not PLAIN.parts.different
    assert not PLAIN.parts.conflicts


@pytest.mark.parametrize("name", NAMES)
def test_no_duty_of_the_program_stands_on_a_plan(name: str) -> None:
    duties = {key for key, rule in rules().items() if rule.scope == "program"}
    assert len(duties) >= 20
    assert not duties & {one.rule.id for one in example(name).parts.rules}


@pytest.mark.parametrize("name", NAMES)
def test_nothing_that_only_theatre_shows_is_outstanding(name: str) -> None:
    theatre = {"rhexis_state", "rhexis_mm", "posterior_capsule", "vitreous", "dialysis_now"}
    found = {item.finding for item in example(name).outstanding}
    assert not found & (theatre | {"rim_deg", "sulcus_offered"})
    assert all(label_of(finding) for finding in found)


def test_an_eye_without_its_lens_has_no_step_setting_or_question_about_one() -> None:
    plan = example("aphakic-eye")
    assert not {"rhexis", "hydro", "nucleus", "cortex"} & {s.key for s in plan.parts.steps}
    assert not {"chop", "fragments", "cortex"} & {one.stage for one in plan.parts.machine}
    assert not plan.parts.nucleus
    asked = {item.finding for item in plan.outstanding}
    assert not asked & {"phacodonesis", "locs_no", "lens_look", "acd_mm"}


def test_a_swollen_white_lens_is_decompressed_before_the_main_wound() -> None:
    white = with_findings(case("short-eye-white-lens"), lens_look="white_intumescent")
    moved = [step.key for step in planned(white).parts.steps]
    assert moved.index("main_wound") == moved.index("rhexis") + 1
    nuclear = with_findings(case("short-eye-white-lens"), lens_look="nuclear")
    usual = [step.key for step in planned(nuclear).parts.steps]
    assert usual.index("main_wound") < usual.index("rhexis")


def test_the_main_wound_is_moved_off_a_dialysis_and_says_so() -> None:
    torn = with_findings(
        case("hard-second-eye"), dialysis_clock_hours=3.0, dialysis_centre_clock=3.0
    )
    plan = planned(torn)
    wound = next(step for step in plan.parts.steps if step.key == "main_wound").clock_hours[0][1]
    assert hours_apart(wound, 3.0) >= 3.0


@given(st.sampled_from(["left", "right"]), st.floats(1, 12.9), st.floats(0.5, 9))
def test_no_wound_is_proposed_over_a_gap_or_where_hands_cannot_be(
    side: str, centre: float, width: float
) -> None:
    name = "hard-second-eye" if side == "left" else "plain-eye"
    whole = case(name)
    found = {"dialysis_centre_clock": centre, "dialysis_clock_hours": width}
    wound = main_wound(whole, practice(), lambda key: found.get(key, Unknown.NOT_RECORDED))
    if wound.hour is None:
        assert wound.moved
        return
    assert hours_apart(wound.hour, centre) >= width / 2 + 1.5
    assert hours_apart(wound.hour, hour_of("temporal", whole.eye_to_do)) <= 4.0
    assert hours_apart(wound.hour, 6.0) >= 1.5


@pytest.mark.parametrize(("centre", "site"), [(10.0, "superonasal"), (11.0, "inferotemporal")])
def test_a_gap_between_superior_and_temporal_never_sends_the_wound_to_the_nose(
    centre: float, site: str
) -> None:
    found = {"dialysis_centre_clock": centre, "dialysis_clock_hours": 3.0}
    wound = main_wound(
        case("plain-eye"), practice(), lambda key: found.get(key, Unknown.NOT_RECORDED)
    )
    assert wound.site in {site, "inferotemporal"}
    assert wound.moved


def test_capsule_hooks_go_across_a_gap_of_three_hours() -> None:
    torn = with_findings(
        case("hard-second-eye"), dialysis_clock_hours=4.0, dialysis_centre_clock=8.0
    )
    hooks = next(s for s in planned(torn).parts.steps if s.key == "capsule_hooks").clock_hours
    assert all(hours_apart(hour, 8.0) <= 2.0 for _, hour in hooks)
    assert 2 <= len(hooks) <= 3


@given(st.floats(-48, 48, allow_nan=False))
def test_an_hour_on_the_clock_is_from_one_to_just_under_thirteen(hour: float) -> None:
    found = on_the_clock(hour)
    assert 1.0 <= found < 13.0
    assert hours_apart(found, hour) < 1e-9


def test_nobody_says_a_strength_but_a_recipe_card() -> None:
    bare = replace(practice(), recipe_cards={})
    for item in planned(case("hard-second-eye"), bare).parts.tray:
        assert item.strength == ""
        assert item.needs_card == (item.kind in ("drug", "dye"))
    carded = {i.key: i for i in example("hard-second-eye").parts.tray if i.card}
    assert carded
    assert all(one.strength for one in carded.values())


def test_a_device_that_the_practice_file_does_not_name_is_not_said_to_be_there() -> None:
    bare = replace(practice(), kept={})
    devices = list(planned(case("hard-second-eye"), bare).parts.tray)
    assert {one.kept for one in devices if one.kind != "lens"} == {"not_recorded"}


def test_the_planned_lens_and_its_twin_are_both_asked_for() -> None:
    lenses = [one for one in PLAIN.parts.tray if one.kind == "lens"]
    assert lenses[0].count == 2
    assert all(one.count == 1 for one in lenses[1:])
    assert lenses[0].for_places[0] == "In the bag"


def test_an_unknown_route_of_anaesthesia_is_said_to_be_unknown() -> None:
    bare = replace(practice(), habits=Habits())
    told = planned(with_findings(case("plain-eye"), anaesthesia_route=None), bare).parts.anaesthesia
    assert told.route == "not recorded"
    assert told.route_from == ""


def test_a_finding_not_recorded_keeps_the_needle_open() -> None:
    plan = planned(with_findings(case("plain-eye"), only_eye=None))
    assert plan.parts.anaesthesia.needle_allowed is None
    assert "only_eye" in plan.parts.anaesthesia.needle_waits_for
    assert example("plain-eye").parts.anaesthesia.needle_allowed is True
    long = example("long-eye-after-vitrectomy").parts.anaesthesia
    assert long.needle_allowed is False
    assert "axial length" in long.needle_says.lower()


def test_heights_read_in_both_units() -> None:
    # 30 cm = 22.1, 45 = 33.1, 60 = 44.1, 75 = 55.2, 90 = 66.2, 105 = 77.2 mmHg: unit conversion
    for setting in (*PLAIN.parts.machine, *example("hard-second-eye").parts.machine):
        for cm, mmhg in zip(setting.infusion_cm, setting.infusion_mmhg, strict=True):
            assert mmhg == pytest.approx(cm / 1.3595, abs=0.02)


def test_a_loose_lens_not_looked_for_leaves_the_machine_open() -> None:
    plan = planned(with_findings(case("plain-eye"), phacodonesis=None))
    assert plan.parts.machine_profile == "standard"
    assert "not known" in plan.parts.machine_because


def test_every_backup_that_is_offered_brings_what_it_needs() -> None:
    torn = with_findings(
        case("hard-second-eye"), dialysis_clock_hours=3.0, dialysis_centre_clock=10.0
    )
    tray = {one.key: one for one in planned(torn).parts.tray}
    for key in ("tension_segment", "fixation_suture", "scleral_fixation_set", "cautery"):
        assert "In the bag, bag sutured to the sclera" in tray[key].for_places
        assert not tray[key].waits_for


def test_where_no_hour_is_clear_the_surgeon_is_asked() -> None:
    wide = with_findings(
        case("hard-second-eye"), dialysis_clock_hours=8.0, dialysis_centre_clock=1.5
    )
    step = next(one for one in planned(wide).parts.steps if one.key == "main_wound")
    assert step.asks
    assert "yourself" in step.says
    assert step.clock_hours == ()


def test_vitreous_in_the_chamber_stands_among_what_is_different() -> None:
    plan = planned(with_findings(case("hard-second-eye"), vitreous_in_ac=True))
    assert any("cleared before the rhexis" in line for line in plan.parts.different)
    assert any(one.key == "vitreous" for one in plan.parts.to_say)


def test_a_high_inr_forbids_scleral_work_before_anything_is_said_of_how_to_do_it() -> None:
    whole = case("hard-second-eye")
    answers = {**whole.patient.answers, "antithrombotic": "warfarin", "inr": 3.8}
    high = replace(whole, patient=replace(whole.patient, answers=answers))
    told = planned(high).parts
    assert told.anaesthesia.if_scleral.startswith("First the INR")
    assert "40 minutes at most" in told.anaesthesia.if_scleral
    assert ("W-19", "W-32") in {one.conflict.rules for one in told.conflicts}
    assert told.different[0].startswith("INR above")


def test_a_dialysis_that_lies_nobody_knows_where_gets_no_hour() -> None:
    torn = with_findings(
        case("hard-second-eye"), dialysis_clock_hours=4.0, dialysis_centre_clock=Unknown.UNKNOWN
    )
    step = next(one for one in planned(torn).parts.steps if one.key == "main_wound")
    assert step.clock_hours == ()
    assert step.says.startswith("Choose the hour yourself: where the dialysis of 4 clock hours")


def test_a_dialysis_that_was_not_looked_for_is_said_beside_the_hour() -> None:
    wound = main_wound(
        case("plain-eye"), practice(), lambda key: Unknown.NOT_RECORDED if key else ""
    )
    assert wound.hour == 9.0
    assert wound.because == "your usual site; dialysis not known"


def test_a_pupil_ring_waits_while_the_zonule_is_not_all_known() -> None:
    small = with_findings(
        case("plain-eye"), pupil_dilated_mm=4.0, dialysis_clock_hours=None, vitreous_in_ac=False
    )
    ring = {one.key: one for one in planned(small).parts.tray}["pupil_ring"]
    assert ring.waits_for == ("dialysis_clock_hours",)
    sound = with_findings(case("plain-eye"), pupil_dilated_mm=4.0)
    assert {one.key: one for one in planned(sound).parts.tray}["pupil_ring"].waits_for == ()


def test_a_rule_set_aside_that_does_not_hold_here_stays_in_sight() -> None:
    whole = case("plain-eye")
    word = Overruling("D-03", "Surgeon of the demo practice", TODAY, "own way")
    eye = replace(whole.operative_eye, overrulings=(word,))
    plan = planned(with_eye(whole, eye))
    (reading,) = [one for one in plan.parts.rules if one.rule.id == "D-03"]
    assert (reading.state, reading.set_aside, reading.in_sight) == ("silent", True, True)
    assert "D-03" in {one["rule"] for one in plan_as_json(plan)["rules"]}


def test_what_the_anaesthetist_was_not_told_is_named() -> None:
    told = planned(with_findings(case("half-missing"))).parts.anaesthesia
    assert any(one.key == "not_known" and "tremor" in one.says for one in told.lines)
    assert not any(one.key == "not_known" for one in PLAIN.parts.anaesthesia.lines)


def test_a_gap_keeps_the_pupil_ring_out_even_where_nothing_wobbles() -> None:
    torn = with_findings(
        case("plain-eye"),
        pupil_dilated_mm=4.0,
        dialysis_clock_hours=2.0,
        dialysis_centre_clock=4.0,
    )
    tray = {one.key for one in planned(torn).parts.tray}
    assert "iris_hooks" in tray
    assert "pupil_ring" not in tray
