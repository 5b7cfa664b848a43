"""A practice file, and what can be wrong with one."""

import pytest

from intake.sample_cases import PRACTICE
from zonule.errors import BadInput, Problem
from zonule.intake import read_practice
from zonule.practice.machine import Machine
from zonule.practice.records import Practice


def read(text: str) -> Practice:
    return read_practice(text.encode(), name="practice.toml")


def only(old: str, new: str) -> Problem:
    assert old in PRACTICE
    with pytest.raises(BadInput) as caught:
        read(PRACTICE.replace(old, new))
    assert len(caught.value.problems) == 1, str(caught.value)
    return caught.value.problems[0]


def test_a_practice_reads_whole() -> None:
    practice = read(PRACTICE)
    assert practice.repertoire[3] == "iris_claw:behind"
    single, three = practice.lenses
    assert single.lens_class == "one_piece_acrylic"
    assert single.constants["srkt"].values == {"a_constant": 119.2709}
    assert single.constants["srkt"].eyes == 888
    assert single.constants["haigis"].values == {"a0": -0.5914, "a1": 0.357, "a2": 0.197}
    assert [(one.power_d, one.kept) for one in single.stock] == [
        (-3.0, "to_order"),
        (20.5, "in_room"),
    ]
    assert three.stock == ()
    assert practice.shares == {"sulcus_three_piece": 0.6, "iris_claw:behind": 0.1}
    assert practice.machine == Machine(label="theatre 2", infusion_offset_cm=-8.0)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            '"Europe/London"',
            '"Europe/Londn"',
            "Time zone Europe/Londn: is not in the time zone list. Did you mean Europe/London?",
        ),
        (
            '"consultant"',
            '"boss"',
            "Grade boss: must be one of consultant, senior, fellow, trainee. Choose one of these.",
        ),
        (
            "04012345123456",
            "04012345123457",
            "Device identifier 04012345123457: its check digit does not fit. "
            "Type the digits of the box again.",
        ),
        (
            '"-3.00"',
            '"-3,00"',
            "Power in stock -3,00: a number takes a point, not a comma. "
            "Type a point instead of the comma.",
        ),
        (
            '"-3.00"',
            '"+205"',
            "Power in stock +205 D: must be −20 to 60 D. Check the decimal point: 20.5?",
        ),
        (
            '"-3.00"',
            '"20.5"',
            "Power in stock 20.5 D: stands twice for this lens. Keep one row per power.",
        ),
        (
            'preferred_lens = "single"',
            'preferred_lens = "singel"',
            "Preferred lens singel: is not in the store. Did you mean single?",
        ),
        (
            "sulcus_three_piece = 0.6",
            "sulcus_three_piece = 60",
            "Own share 60: must be 0 to 1. Check the decimal point: 0.6?",
        ),
        (
            'formula_choice = "mean"',
            'formula_choice = "t2"',
            "Formula that decides t2: has no constants for this lens. "
            "Add [lens.constants.t2], or choose another.",
        ),
        (
            "[lens.constants.haigis]\na0 = -0.5914\n",
            "[lens.constants.haigis]\n",
            "Haigis a0: is needed, and must be −12 to 12. "
            "Add a0 = … under [lens.constants.haigis].",
        ),
        (
            'name = "three"',
            'name = "single"',
            "Lens name single: stands twice in the store. Give each model its own name.",
        ),
    ],
)
def test_each_fault_is_told_in_one_sentence(old: str, new: str, sentence: str) -> None:
    problem = only(old, new)
    assert problem.sentence() == sentence
    assert problem.line is not None


CLAW = """
[[lens]]
name = "claw"
class = "iris_claw"
optic_mm = 5.4
overall_mm = 8.5
{side}
[lens.constants.srkt]
a_constant = 116.9
length_method = "optical"
origin = "own"
eyes = 40
"""


@pytest.mark.parametrize("side", ["behind", "in_front"])
def test_the_own_constant_of_a_claw_lens_names_its_side_of_the_iris(side: str) -> None:
    claw = read(PRACTICE + CLAW.format(side=f'constants_for = "{side}"')).lenses[-1]
    assert (claw.constants_for, claw.constants["srkt"].values["a_constant"]) == (side, 116.9)


def test_a_claw_lens_with_a_constant_and_no_side_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        read(PRACTICE + CLAW.format(side=""))
    (problem,) = caught.value.problems
    assert problem.sentence() == (
        "Place of the constants: not given, and an iris-claw lens needs another constant on each "
        "side of the iris. Add constants_for, behind or in_front."
    )
    assert problem.line is not None


def test_a_claw_lens_without_constants_needs_no_side() -> None:
    bare = CLAW.format(side="").partition("[lens.constants")[0]
    assert read(PRACTICE + bare).lenses[-1].constants_for == ""


def test_other_lenses_need_no_side() -> None:
    assert {lens.constants_for for lens in read(PRACTICE).lenses} == {""}


def test_an_identifier_stands_for_one_power() -> None:
    problem = only(
        'kept = "to_order" }', 'kept = "to_order", device_identifier = "04012345123456" }'
    )
    assert problem.limit == "also stands for lens[0].stock.+20.50"
