"""The hard second eye: which devices, which steps in which order, with each reason and strength."""

from __future__ import annotations

import pytest

from plan.cases import example
from zonule.plan.parts import RuleReading, Step
from zonule.report.why.paths import why

PLAN = example("hard-second-eye")
PARTS = PLAN.parts
FIRING = {one.rule.id: one for one in PARTS.firing()}
STEPS = {step.key: step for step in PARTS.steps}


def _text(reading: RuleReading) -> str:
    rule = reading.rule
    return " ".join((rule.title, *rule.do, *rule.avoid)).lower()


def _step(key: str) -> Step:
    return STEPS[key]


@pytest.mark.parametrize(
    ("rule", "step", "words"),
    [
        ("D-04", "pupil", ("hooks", "pupil ring")),
        ("D-05", "pupil", ("own stab", "diamond")),
        ("D-17", "dye", ("paint", "under viscoelastic", "after the iris hooks")),
        ("T-03", "rhexis", ("centre", "sharp")),
        ("T-09", "nucleus", ("chop", "no ultrasound")),
        ("T-14", "cortex", ("tangential", "rim")),
        ("T-16", "rim", ("polish",)),
        ("D-11", "ring", ("late", "tension ring")),
        ("D-21", "lens", ("three-piece",)),
        ("D-09", "capsule_hooks", ("capsule hooks", "hydrodissection")),
    ],
)
def test_the_rule_stands_at_its_step_with_reason_and_strength(
    rule: str, step: str, words: tuple[str, ...]
) -> None:
    reading = FIRING[rule]
    assert rule in [one.rule.id for one in _step(step).rules]
    for word in words:
        assert word in _text(reading), (rule, word)
    assert reading.rule.why
    assert reading.because
    told = why(PLAN, f"rules.{rule}")
    assert any(one.label == "Strength" and one.value[0] in "ABCD" for one in told.inputs)
    assert any(one.label == "Reason" for one in told.inputs)
    assert told.sources


def test_hooks_lie_in_the_room_and_no_pupil_ring_does() -> None:
    tray = {one.key: one for one in PARTS.tray}
    assert tray["iris_hooks"].kept == "in_room"
    assert tray["capsule_hooks"].kept == "in_room"
    assert tray["tension_ring"].count >= 1
    assert "pupil_ring" not in tray


def test_the_steps_stand_in_operating_order() -> None:
    order = [step.key for step in PARTS.steps]
    wanted = [
        "ports",
        "viscoelastic",
        "pupil",
        "main_wound",
        "dye",
        "rhexis",
        "capsule_hooks",
        "hydro",
        "nucleus",
        "cortex",
        "rim",
        "ring",
        "lens",
        "iris_hooks_out",
        "close",
    ]
    assert [key for key in order if key in wanted] == wanted
    assert [step.order for step in PARTS.steps] == list(range(1, len(order) + 1))


def test_one_iris_hook_goes_in_at_the_hour_of_the_wound() -> None:
    wound = [hour for _, hour in _step("main_wound").clock_hours]
    hooks = [hour for label, hour in _step("pupil").clock_hours if label == "Iris hooks"]
    assert wound == [3.0]  # temporal, in a left eye
    assert sorted(hooks) == [3.0, 6.0, 9.0, 12.0]


def test_the_machine_is_set_gently_and_says_why() -> None:
    assert PARTS.machine_profile == "low_flow"
    assert "lens wobble" in PARTS.machine_because
    stages = {one.stage: one for one in PARTS.machine}
    assert stages["chop"].vacuum_mmhg == (200.0, 350.0)
    assert stages["last_fragment"].flow_ml_min == (15.0, 20.0)
    assert "mmHg" in stages["chop"].sentence
    assert "cm" in stages["chop"].sentence


def test_the_nucleus_has_its_own_backups() -> None:
    assert [one.key for one in PARTS.nucleus] == ["chop", "assisted_splitting", "larger_wound"]
    assert all(one.wound and one.suture and one.astigmatism for one in PARTS.nucleus)


def test_low_vacuum_against_holding_power_is_shown_and_settled_for_the_zonule() -> None:
    found = {one.conflict.rules: one.conflict for one in PARTS.conflicts}
    assert "zonule" in found["T-13", "F-06"].settled.lower()


def test_the_anaesthetist_is_told_time_needle_and_scleral_work() -> None:
    told = PARTS.anaesthesia
    assert told.route == "topical with intracameral anaesthetic"
    assert told.longest_flat_min == 40.0
    assert told.needle_allowed is None, "whether it is the only useful eye is not recorded"
    assert told.needle_waits_for == ("only_eye",)
    assert "sub-Tenon" in told.if_scleral


def test_five_lines_are_different_in_this_eye() -> None:
    assert len(PARTS.different) == 5
    assert any("hooks" in line.lower() for line in PARTS.different)


def test_the_likeliest_triggers_are_those_of_a_loose_hard_lens() -> None:
    assert {one.key for one in PARTS.triggers[:3]} <= {
        "gap_grows",
        "no_counter_traction",
        "plate_will_not_part",
        "posterior_capsule_open",
    }
    assert PARTS.triggers[0].because


def test_what_a_surgeon_set_aside_stays_in_sight() -> None:
    aside = [one for one in PARTS.rules if one.state == "overruled"]
    assert aside
    assert all(one.overruling is not None and one.overruling.reason for one in aside)
    assert all(one.would_be in ("fires", "waits") for one in aside)
