"""What the sheet for the theatre wall says, against the plan it is made from."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from plan.cases import (
    NAMES,
    TODAY,
    case,
    example,
    lens_named,
    planned,
    practice,
    rung,
    with_biometry,
    with_eye,
)
from report.sheets import MADE_AT, called, sheet, texts_of
from zonule.errors import Problem
from zonule.pathway.plan_an_eye import plan_an_eye
from zonule.plan.records import Outstanding, Plan
from zonule.plan.wish import Wish
from zonule.practice.records import StockedPower
from zonule.report.sheet import wording
from zonule.report.sheet.of_plan import sheet_of
from zonule.report.sheet.records import Sheet
from zonule.report.words import dioptres, of_100

HARD = "hard-second-eye"


def _sheet(plan: Plan) -> Sheet:
    return sheet_of(plan, made_at=MADE_AT)


def _withheld() -> Plan:
    return planned(with_biometry(case("plain-eye"), measured_as="aphakic"))


@pytest.mark.parametrize("name", NAMES)
def test_the_first_block_is_the_intended_place_of_the_eye_to_do(name: str) -> None:
    plan, first = example(name), sheet(name).first
    intended = plan.intended
    assert first.side == f"{plan.case.eye_to_do.upper()} EYE"
    assert first.numbers[0] == plan.case.patient.record_number
    assert first.aim == dioptres(plan.case.aim.spherical_equivalent_d)
    assert intended is not None
    assert first.intended is not None
    assert first.intended.place == intended.place.label
    if intended.chosen is None or intended.lens is None:
        assert first.no_power == wording.NO_POWER
        assert first.no_power_because
    else:
        assert first.intended.power == dioptres(intended.chosen.power_d)
        assert first.intended.lens == intended.lens.name
        assert first.no_power == first.no_power_because == ""


@pytest.mark.parametrize("name", NAMES)
def test_every_place_of_the_plan_stands_on_the_sheet_once(name: str) -> None:
    plan, told = example(name), sheet(name)
    assert told.first.intended is not None
    named = [told.first.intended.place, *(one.place for one in told.backups)]
    named += [place for one in told.refused for place in one.places]
    assert sorted(named) == sorted(one.place.label for one in plan.rungs)


@pytest.mark.parametrize("name", NAMES)
def test_backups_stand_in_order_with_power_lens_and_likelihood(name: str) -> None:
    plan, told = example(name), sheet(name)
    later = [one for one in plan.rungs if one.order > 0]
    assert [one.number for one in told.backups] == [str(n) for n in range(1, len(later) + 1)]
    for line, one in zip(told.backups, later, strict=True):
        assert line.chance == ("" if one.likelihood is None else of_100(one.likelihood))
        assert line.rare == (one.likelihood is not None and one.likelihood < 0.01)
        if one.chosen is not None and one.lens is not None and one.in_stock is not None:
            assert line.power == dioptres(one.chosen.power_d)
            assert line.lens == one.lens.name
            assert line.code == one.in_stock.device_identifier
            assert line.instead == ""
        else:
            assert line.power == line.box == line.expected == ""
            assert line.instead


def test_predicted_refractions_are_said_to_the_quarter_and_powers_are_not() -> None:
    told, plan = sheet(HARD), example(HARD)
    first = told.first.intended
    assert first is not None
    assert (first.power, first.box, first.expected) == ("+20.50 D", "20.5 D", "−0.25 D")
    assert rung(plan, "bag").chosen is not None
    for line in (first, *told.backups):
        if line.expected:
            assert line.expected[-4:-2] in ("00", "25", "50", "75")


def test_where_each_lens_is_stands_beside_it() -> None:
    told = sheet(HARD)
    assert {one.kept for one in told.backups if one.at_hand} == {"in the room, sealed"}
    claw = next(one for one in told.backups if one.lens == "iris-claw 8.5")
    assert claw.kept.startswith("to fetch")
    assert not claw.at_hand


def test_a_store_with_minus_powers_says_that_no_minus_sign_is_on_the_box() -> None:
    lens = lens_named("three-piece acrylic 13.0")
    deep = replace(lens, stock=(*lens.stock, StockedPower(-2.0, 1, "to_fetch")))
    plan = planned(case(HARD), replace(practice(), lenses=(deep,)))
    first = _sheet(plan).first.intended
    assert first is not None
    assert (first.box, first.box_note) == ("20.5 D", "no minus sign")


def test_a_note_of_the_intended_place_is_not_said_again_at_every_backup() -> None:
    told = sheet(HARD)
    assert told.first.intended is not None
    above = set(told.first.intended.notes)
    assert above
    assert not any(above & set(one.notes) for one in told.backups)


def test_the_name_and_its_absence() -> None:
    named = called(example(HARD), name="Edith Marlowe-Demo")
    assert _sheet(named).first.name == "Edith Marlowe-Demo"
    assert _sheet(called(named, name=None)).first.name == "name not recorded"


def test_allergies_are_said_in_all_three_ways() -> None:
    plan = example(HARD)
    told = {
        answer: _sheet(called(plan, allergies=answer)).first
        for answer in (("none_known",), ("latex", "sulfa_drugs"), None)
    }
    assert (told["none_known",].allergies, told["none_known",].allergic) == (
        "No allergy known",
        False,
    )
    both = told["latex", "sulfa_drugs"]
    assert (both.allergies, both.allergic) == ("ALLERGIC TO latex, sulfa drugs", True)
    assert (told[None].allergies, told[None].allergic) == ("Allergies not recorded: ask", True)


def test_blood_that_does_not_clot_and_an_only_eye_stand_beside_the_allergies() -> None:
    plan = example(HARD)
    eye = replace(
        plan.case.operative_eye, answers={**plan.case.operative_eye.answers, "only_eye": True}
    )
    whole = replace(plan.case, left=eye)
    answers = {**whole.patient.answers, "antithrombotic": "warfarin", "inr": 3.6}
    whole = replace(whole, patient=replace(whole.patient, answers=answers))
    first = _sheet(plan_an_eye(whole, practice(), today=TODAY)).first
    assert first.allergies == "No allergy known · takes warfarin, INR 3.6 · only useful eye"
    assert first.allergic


def test_a_power_withheld_is_said_large_with_its_reason_once() -> None:
    told = _sheet(_withheld())
    assert told.first.no_power == "NO LENS POWER"
    assert "measured as aphakic" in told.first.no_power_because
    assert {one.instead for one in told.backups if not one.place.startswith("Leave")} == {
        "no power"
    }
    assert not any(one.power or one.box for one in told.backups)
    assert told.first.notices == ()


def test_a_sheet_that_differs_from_the_files_says_so() -> None:
    plan = plan_an_eye(
        case(HARD),
        practice(),
        today=TODAY,
        wish=Wish(hand="sulcus_three_piece", aim_d=-1.0, power_d=20.0),
    )
    told = _sheet(plan)
    assert told.first.notices[0] == (
        "DIFFERS FROM THE FILES, asked for once: aim −1.00 D, power +20.00 D (Sulcus, not "
        "captured)."
    )
    assert told.first.intended is not None
    assert told.first.intended.place == "In the bag", "the one in hand is not the intended one"
    looked_at = plan_an_eye(case(HARD), practice(), today=TODAY, wish=Wish(hand="sulcus_capture"))
    assert _sheet(looked_at).first == sheet(HARD).first


def _asked(number: int) -> Problem:
    return Problem("x", f"left.x{number}", f"X{number}", "1", "is odd", "Look.", "confirm")


def test_what_must_be_cleared_up_is_said_and_what_is_too_much_is_counted() -> None:
    plan = example(HARD)
    told = _sheet(replace(plan, problems=tuple(_asked(n) for n in range(4)))).first.notices
    assert told == (
        "To be cleared up: X0 1: is odd. Look.",
        "To be cleared up: X1 1: is odd. Look.",
        "And 2 more to be cleared up: see the plan.",
    )


def test_what_is_outstanding_is_named_and_the_rest_counted() -> None:
    plan = example(HARD)
    items = tuple(Outstanding(f"f{n}", f"F{n}", "much", "not recorded", 1) for n in range(6))
    assert _sheet(replace(plan, outstanding=items)).not_known == (
        "Outstanding before surgery: F0 (not recorded); F1 (not recorded); F2 (not recorded); "
        "F3 (not recorded); and 2 more in the plan."
    )
    assert _sheet(replace(plan, outstanding=())).not_known == ""


def test_refused_places_of_one_reason_stand_together() -> None:
    told = sheet(HARD).refused
    reasons = [one.reason for one in told]
    assert len(reasons) == len(set(reasons))
    theirs = next(one for one in told if one.reason == "not in your repertoire")
    assert len(theirs.places) == 4


def test_what_different_and_triggers_say_is_the_plans() -> None:
    plan, told = example(HARD), sheet(HARD)
    assert told.different == plan.parts.different
    assert [one.name for one in told.triggers] == [one.name for one in plan.parts.triggers[:3]]
    assert len(told.triggers) == 3
    assert len(told.different) <= 5


def test_every_stage_of_the_machine_is_one_line() -> None:
    plan, told = example(HARD), sheet(HARD)
    assert [f"{one.name}: {one.says}" for one in told.machine] == [
        one.sentence for one in plan.parts.machine
    ]
    assert told.machine


def test_an_eye_without_triggers_machine_or_hours_says_so() -> None:
    plan = example(HARD)
    bare = replace(plan.parts, triggers=(), machine=(), steps=(), different=())
    told = _sheet(replace(plan, parts=bare))
    assert told.triggers_say == wording.NO_TRIGGERS_SAY
    assert told.machine_says == wording.NO_MACHINE_SAYS
    assert told.devices_say == wording.NO_DEVICES_SAY
    assert (told.different, told.different_says) == ((), wording.NOTHING_DIFFERENT)


def test_the_other_eyes_power_is_nowhere() -> None:
    whole = case(HARD)
    operation = whole.right.operation
    assert operation is not None
    other = replace(whole.right, operation=replace(operation, lens_power_d=26.5))
    told = _sheet(planned(with_eye(whole, other)))
    shown = " ".join(texts_of(told))
    assert "+20.50 D" in shown
    assert "26.5" not in shown


def test_an_eye_without_a_model_shows_no_likelihood_and_it_is_said() -> None:
    plan = example("aphakic-eye")
    told = _sheet(plan)
    assert told.backups_say.startswith(wording.NO_SHARES_SAY)
    assert not any(one.chance or one.rare for one in told.backups)


def test_the_foot_names_program_library_plan_and_instant() -> None:
    told = sheet(HARD).foot
    assert told.lines[0].startswith("Zonule ")
    assert " · library " in told.lines[0]
    assert told.lines[0].endswith(" · made 25 November 2026, 10:40 (Europe/London)")
    assert "not signed" in told.lines[1]
    assert "local protocol first" in told.lines[1]


def test_an_instant_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="without a time zone"):
        sheet_of(example(HARD), made_at=datetime(2026, 11, 25, 10, 40))


def test_the_walk_over_the_record_finds_its_texts() -> None:
    found = texts_of(sheet(HARD))
    assert "LEFT EYE" in found
    assert len(found) > 100
