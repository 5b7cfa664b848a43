"""The machine of a practice file: read whole, and every slip told with field, value and limit."""

from __future__ import annotations

from datetime import date

import pytest

from intake.sample_cases import PRACTICE
from zonule.errors import BadInput
from zonule.intake import read_practice
from zonule.practice.machine import CupTest, Machine

TEST = """
[[machine.cup_test]]
height_cm = 60
collected_ml = 62
seconds = 30
vacuum_shown_mmhg = 118
aspiration_flow_ml_min = 40
measured_on = 2026-11-16
"""
WHOLE = PRACTICE + "allowed_floor_mmhg = 12\n" + TEST


def machine(text: str) -> Machine:
    return read_practice(text.encode(), name="practice.toml").machine


def told(text: str) -> list[str]:
    with pytest.raises(BadInput) as caught:
        machine(text)
    return [one.sentence() for one in caught.value.problems]


def test_a_machine_reads_whole() -> None:
    assert machine(WHOLE) == Machine(
        label="theatre 2",
        infusion_offset_cm=-8.0,
        allowed_floor_mmhg=12.0,
        cup_tests=(
            CupTest(
                height_cm=60.0,
                collected_ml=62.0,
                seconds=30.0,
                measured_on=date(2026, 11, 16),
                vacuum_shown_mmhg=118.0,
                aspiration_flow_ml_min=40.0,
            ),
        ),
    )


def test_a_practice_without_a_machine_knows_nothing_of_it() -> None:
    assert machine(PRACTICE.split("[machine]")[0]) == Machine()


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("height_cm = 60", "height_cm = 600", "Height of the cup test 600 cm: must be 20 to 160"),
        ("seconds = 30", "seconds = 0", "Time of collecting 0 s: must be 5 to 300 s"),
        ("= 118", "= 1180", "Vacuum shown 1180 mmHg: must be 5 to 600 mmHg"),
        ("floor_mmhg = 12", "floor_mmhg = -3", "Allowed floor −3 mmHg: must be 0 to 40 mmHg"),
        ("= 62", "= 5", "Free flow of the cup test 10 mL/min: must be 20 to 1500 mL/min"),
        (
            "vacuum_shown_mmhg = 118\n",
            "",
            "Aspiration flow 40 mL/min: says nothing without vacuum_shown_mmhg. "
            "Add vacuum_shown_mmhg = …, or take aspiration_flow_ml_min out.",
        ),
        (
            "vacuum_shown_mmhg = 118\naspiration_flow_ml_min = 40\n",
            "vacuum_sd_mmhg = 4\n",
            "Spread of the vacuum 4 mmHg: says nothing without vacuum_shown_mmhg",
        ),
        ("collected_ml = 62\n", "", "Collected: is needed, and must be 5 to 1000 mL"),
        ("seconds = 30", "secs = 30", "Key secs: is not known here. Did you mean seconds?"),
        ("[[machine.cup_test]]", "[machine.cup_test]", "Cup test: must be a list of sections"),
    ],
)
def test_a_slip_is_told(old: str, new: str, sentence: str) -> None:
    assert old in WHOLE
    assert any(one.startswith(sentence) for one in told(WHOLE.replace(old, new))), told(
        WHOLE.replace(old, new)
    )


def test_every_fault_is_told_at_once() -> None:
    wrong = WHOLE.replace("= 60\n", "= 6\n").replace("= 40\n", "= 400\n")
    assert len(told(wrong)) == 2


def test_too_many_readings_are_refused() -> None:
    assert told(PRACTICE + TEST * 51) == [
        "Cup test 51 readings: must be at most 50 readings. Keep those of the set-up in use."
    ]
