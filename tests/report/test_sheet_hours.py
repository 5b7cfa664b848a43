"""Clock hours on the sheet: each device once, and the face of the eye it is for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import case, example, planned, with_findings
from report.sheets import MADE_AT, sheet
from zonule.errors import Side
from zonule.plan.parts import Step
from zonule.report.sheet.of_plan import sheet_of
from zonule.report.sheet.theatre import Gap, clock_face, devices
from zonule.report.sheet.wording import hours_say
from zonule.report.words import clock_hour

HARD = "hard-second-eye"
HOOKS = Step("pupil", 1, "Pupil", "", (), (("Iris hooks", 3.0), ("Iris hooks", 12.0)))
MORE = Step("hooks", 2, "More", "", (), (("Iris hooks", 9.0), ("Main wound", 12.75)))


def test_hours_of_one_device_stand_together_clockwise_from_12() -> None:
    parts = replace(example(HARD).parts, steps=(HOOKS, MORE))
    found = devices(parts)
    assert [(one.mark, one.label, one.says) for one in found] == [
        ("A", "Iris hooks", "12, 3, 9"),
        ("B", "Main wound", "12:45"),
    ]
    assert found[0].hours == (0.0, 3.0, 9.0)


def test_every_hour_of_the_plan_is_on_the_sheet() -> None:
    plan, told = example(HARD), sheet(HARD)
    wanted = sorted((lab, h % 12.0) for step in plan.parts.steps for lab, h in step.clock_hours)
    assert wanted
    assert sorted((one.label, hour) for one in told.devices for hour in one.hours) == wanted


@pytest.mark.parametrize(
    ("side", "at_3", "at_9"),
    [("left", "3 temporal", "9 nasal"), ("right", "3 nasal", "9 temporal")],
)
def test_temporal_and_nasal_are_written_for_the_eye_to_do(side: Side, at_3: str, at_9: str) -> None:
    face = clock_face(side, (), Gap(0.0))
    assert (face.at_3, face.at_9) == (at_3, at_9)
    temporal, nasal = (3, 9) if side == "left" else (9, 3)
    assert f"in this {side} eye temporal is {temporal}, nasal is {nasal}" in hours_say(side)
    assert "Proposed: check against the eye." in hours_say(side)


def test_the_drawing_is_said_in_words_too() -> None:
    told = sheet(HARD).clock.alt
    assert told.startswith("Clock face of the left eye, 3 temporal, 9 nasal. A ")


@pytest.mark.parametrize("hour", [0.0, 12.0, 24.0])
def test_twelve_is_never_nought(hour: float) -> None:
    assert clock_hour(hour) == "12"


def test_each_of_many_devices_has_a_letter_of_its_own() -> None:
    many = tuple(Step(str(n), n, "", "", (), ((f"Device {n}", 3.0),)) for n in range(12))
    told = sheet_of(
        replace(example(HARD), parts=replace(example(HARD).parts, steps=many)), made_at=MADE_AT
    )
    assert [one.mark for one in told.devices] == list("ABCDEFGHIJKL")


def test_a_dialysis_is_drawn_where_it_lies_and_said_where_nobody_knows() -> None:
    assert Gap(3.0, 10.0).hours[0] == 8.5
    assert Gap(3.0, 10.0).hours[-1] == 11.5
    assert Gap(3.0, None).says == "Zonular dialysis, 3 clock hours: where it lies is not known."
    assert Gap(None, None).says == "Zonular dialysis: not known."
    assert (Gap(0.0, None).says, Gap(0.0, None).hours) == ("", ())


def test_a_wound_without_a_proposed_hour_is_asked_for_on_the_sheet() -> None:
    wide = with_findings(case(HARD), dialysis_clock_hours=8.0, dialysis_centre_clock=1.5)
    said = sheet_of(planned(wide), made_at=MADE_AT).devices_say
    assert said.startswith("Main wound: Choose the hour yourself: no site is clear")
