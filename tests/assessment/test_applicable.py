"""Which formulas speak, and what the silent ones say."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from assessment.eyes import (
    AIM_D,
    OF_888_EYES,
    SOUND,
    WITH_A_LENS,
    case_of,
    constants,
    exact_power_d,
    eye_of,
    lens_of,
    practice_of,
    speaking_of,
    use_of,
    uses_of,
)
from zonule.assessment.applicable import formulas_for, speaking
from zonule.assessment.eye_optics import eye_optics
from zonule.assessment.measured import measured
from zonule.findings.answers import Unknown
from zonule.findings.facts import facts_of
from zonule.findings.labels import named
from zonule.formulas import power
from zonule.library.placements import place
from zonule.plan.build import build_plan
from zonule.practice.records import StockedPower

TODAY = date(2026, 11, 25)
FOUR = ("srkt", "holladay1", "hofferq", "haigis")
NO_CAPSULE = tuple(key for key in WITH_A_LENS if place(key).formulas == "no_capsule")
HELD_BACK = f"held back until {named('phacodonesis')} is recorded"
LOOK = named("lens_look")
OFF_CENTRE = "the lens is off centre, so its measured depth does not tell where an implant will lie"
NO_OWN = "this lens has no constant of its own for it"


def test_four_speak_in_a_sound_eye_and_the_fifth_says_why_not() -> None:
    assert speaking_of("bag", eye_of()) == FOUR
    assert use_of("t2", "bag", eye_of()).says == NO_OWN


def test_t2_speaks_with_a_constant_of_its_own() -> None:
    lens = lens_of(constants=constants() | constants({"t2": {"a_constant": 119.27}}))
    assert set(speaking_of("bag", eye_of(), lens)) == {*FOUR, "t2"}


@pytest.mark.parametrize(
    ("changes", "applies", "says"),
    [
        (
            {"phacodonesis": "slight"},
            False,
            "the lens is loose, so its measured depth does not tell where an implant will lie",
        ),
        (
            {"phacodonesis": "marked"},
            False,
            "the lens is loose, so its measured depth does not tell where an implant will lie",
        ),
        (
            {"dialysis_clock_hours": 2.0},
            False,
            "the zonule is broken, so the measured depth does not tell where an implant will lie",
        ),
        (
            {"iridodonesis": True},
            False,
            "the iris trembles: the lens may be loose, and its depth cannot be relied on",
        ),
        (
            {"lens_look": "white_intumescent"},
            False,
            "the lens is swollen, so its measured depth is too shallow",
        ),
        (
            {"phacodonesis": Unknown.NOT_EXAMINED},
            None,
            HELD_BACK,
        ),
        ({"phacodonesis": Unknown.UNKNOWN}, None, HELD_BACK),
        (
            {"lens_decentration_mm": 0.3},
            False,
            OFF_CENTRE,
        ),
        (
            {"dialysis_clock_hours": Unknown.NOT_EXAMINED},
            None,
            "held back until zonular dialysis is recorded",
        ),
        ({"lens_look": Unknown.UNKNOWN}, None, f"held back until {LOOK} is recorded"),
        ({"phacodonesis": Unknown.UNKNOWN, "lens_decentration_mm": 0.3}, False, OFF_CENTRE),
    ],
)
def test_haigis_is_silent_when_the_depth_cannot_be_trusted(
    changes: dict[str, Any], applies: bool | None, says: str
) -> None:
    eye = eye_of(answers={**SOUND, **changes})
    found = use_of("haigis", "bag", eye)
    assert (found.applies, found.says) == (applies, says)
    assert speaking_of("bag", eye) == FOUR[:3]


@pytest.mark.parametrize(
    "changes",
    [
        {"lens_decentration_mm": 0.25},
        {"lens_decentration_mm": Unknown.NOT_EXAMINED},
        {"iridodonesis": Unknown.NOT_EXAMINED},
        {"dialysis_clock_hours": 0},
    ],
)
def test_haigis_speaks_where_the_depth_can_be_trusted(changes: dict[str, Any]) -> None:
    assert use_of("haigis", "bag", eye_of(answers={**SOUND, **changes})).applies is True


@pytest.mark.parametrize("finding", ["phacodonesis", "dialysis_clock_hours", "lens_look"])
def test_haigis_waits_for_what_was_not_recorded(finding: str) -> None:
    answers = {key: value for key, value in SOUND.items() if key != finding}
    found = use_of("haigis", "bag", eye_of(answers=answers))
    assert (found.applies, found.says) == (None, f"held back until {named(finding)} is recorded")


@pytest.mark.parametrize(
    ("origin", "says"),
    [
        ("published", "published constant, optical lengths"),
        ("own", "your own constant, optical lengths"),
        ("maker", "the maker's constant, optical lengths"),
        ("starting_value", "starting value, not a constant, optical lengths"),
    ],
)
def test_where_a_constant_comes_from_is_said(origin: str, says: str) -> None:
    lens = lens_of(constants=constants(origin=origin))
    assert {use.says for use in uses_of("bag", eye_of(), lens) if use.applies} == {says}


def test_haigis_is_silent_without_a_depth() -> None:
    found = use_of("haigis", "bag", eye_of(chamber_depth_mm=None))
    assert found.applies is False
    assert found.says == "chamber depth not measured, or not of a lens in its place"


def test_a_silent_haigis_moves_no_power_by_its_depth() -> None:
    loose = {**SOUND, "phacodonesis": "marked"}
    powers = {
        exact_power_d("bag", eye_of(answers=loose, chamber_depth_mm=depth))
        for depth in (1.8, 3.1, 4.4)
    }
    assert len(powers) == 1


@pytest.mark.parametrize("place_key", NO_CAPSULE)
def test_without_a_capsule_holladay_1_speaks_alone(place_key: str) -> None:
    assert speaking_of(place_key, eye_of()) == ("holladay1",)
    said = {use.name: use.says for use in uses_of(place_key, eye_of())}
    assert {said[name] for name in ("srkt", "hofferq", "haigis")} == {"no capsule: Holladay 1"}
    assert said["t2"] == NO_OWN


def test_without_a_capsule_the_choice_of_the_lens_does_not_count() -> None:
    chosen = lens_of(formula_choice="srkt")
    assert speaking_of("scleral:sutured_1_0_mm", eye_of(), chosen) == ("holladay1",)


def test_without_a_capsule_and_without_holladay_1_no_formula_speaks() -> None:
    rest = {name: row for name, row in OF_888_EYES.items() if name != "holladay1"}
    lens = lens_of(constants=constants(rest))
    assert speaking_of("iris_suture", eye_of(), lens) == ()


@pytest.mark.parametrize("name", FOUR)
def test_the_formula_named_for_a_lens_decides_alone(name: str) -> None:
    lens = lens_of(formula_choice=name)
    assert speaking_of("bag", eye_of(), lens) == (name,)
    beside = [use for use in uses_of("bag", eye_of(), lens) if use.name in FOUR and not use.applies]
    assert len(beside) == 3
    assert {use.says for use in beside} == {"shown beside the formula chosen for this lens"}
    by_hand = power.select(name).lens_power(
        axial_length_mm=23.5,
        corneal_power_d=43.5,
        target_refraction_d=AIM_D,
        **power.arguments(name, anterior_chamber_depth_mm=3.1, constants=OF_888_EYES[name]),
    )
    assert exact_power_d("bag", eye_of(), lens) == pytest.approx(float(by_hand), abs=1e-6)


def test_a_named_formula_that_does_not_apply_leaves_the_rest_to_speak() -> None:
    loose = eye_of(answers={**SOUND, "phacodonesis": "slight"})
    assert speaking_of("bag", loose, lens_of(formula_choice="haigis")) == FOUR[:3]


def test_srkt_is_dropped_where_it_bends() -> None:
    eye = eye_of(axial_length_mm=28.0, corneal_power_d=48.0)
    found = use_of("srkt", "bag", eye)
    assert speaking_of("bag", eye) == FOUR[1:]
    assert found.says == (
        "SRK/T bends here (its corneal height fails for this length and cornea) and differs from "
        "T2 by more than 0.5 D"
    )
    assert speaking_of("bag", eye_of()) == FOUR


def test_where_srkt_bends_a_claw_lens_gets_no_power() -> None:
    eye, at = eye_of(axial_length_mm=28.0, corneal_power_d=48.0), place("iris_claw:behind")
    found = measured(eye)
    assert found is not None
    uses = formulas_for(at, lens_of("iris_claw"), found, facts_of(case_of(eye), "left"))
    assert speaking(uses) == ()
    assert eye_optics(at, uses, found) is None


def caveat_names(lens_constants: dict[str, Any]) -> dict[str, tuple[str, str]]:
    lens = lens_of(constants=lens_constants, stock=(StockedPower(22.0, 1, "in_room"),))
    plan = build_plan(
        case_of(eye_of()), practice_of(lens), first_eye=None, problems=(), made_on=TODAY
    )
    assert plan.in_hand is not None
    return {one.name: (one.says, one.stops) for one in plan.in_hand.caveats}


def test_a_starting_value_blocks_the_signature() -> None:
    starting = replace(constants()["srkt"], origin="starting_value")
    said = caveat_names(constants() | {"srkt": starting})
    assert said["starting_value"] == (
        "SRK/T: a starting value, not a constant of this lens; not to be signed",
        "signature",
    )
    assert "starting_value" not in caveat_names(constants())


def test_one_formula_alone_says_so() -> None:
    only = {"srkt": OF_888_EYES["srkt"]}
    assert caveat_names(constants(only))["one_formula"] == (
        "one formula alone: nothing to compare it with",
        "nothing",
    )
