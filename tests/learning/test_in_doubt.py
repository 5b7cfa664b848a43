"""A first eye whose figures, health or lens are in doubt teaches nothing, and says why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from assessment.eyes import AIM_D, SOUND, exact_power_d, eye_of, lens_of, practice_of
from learning.pairs import DONE_ON, LENS, PRACTICE, case_of, first_eye_of, predicted_d, read
from plan.cases import case, practice
from zonule.errors import Problem, Side
from zonule.findings.answers import Unknown
from zonule.findings.records import Eye
from zonule.learning.first_eye import read_first_eye
from zonule.pathway.plan_an_eye import plan_an_eye
from zonule.practice.first_eye import FirstEye
from zonule.practice.records import Practice

UNKNOWNS = list(Unknown)
ONE_PIECE = lens_of("one_piece_acrylic")
NEVER = (
    "one-piece acrylic never loose in the sulcus: of 30 referred eyes 93 of 100 needed surgery, "
    "83 of 100 an exchange"
)


def taught(
    first: Eye,
    *,
    store: Practice = PRACTICE,
    problems: tuple[Problem, ...] = (),
    today: date | None = None,
) -> FirstEye:
    found = read_first_eye(case_of(first), store, problems=problems, today=today)
    assert found is not None
    assert (found.lesson is None) is bool(found.withheld)
    return found


def withheld(first: Eye) -> str:
    return taught(first).withheld


def noted(first: Eye, **answers: Any) -> Eye:
    """Return a first eye with more written down of its operation."""
    assert first.operation is not None
    return replace(first, operation=replace(first.operation, answers=answers))


# ------------------------------------------------------------------ retina and cornea

OEDEMA = "macular oedema: its refraction says nothing yet"
CORNEA = "its cornea is not clear: its refraction says nothing yet"


@pytest.mark.parametrize(
    ("of_operation", "of_eye", "says"),
    [
        ({"cystoid_oedema": True}, {}, OEDEMA),
        ({"cystoid_oedema": False}, {}, ""),
        ({"cornea_failed": True}, {}, CORNEA),
        ({"cornea_failed": False}, {}, ""),
        ({}, {"oct_macula": "cmo"}, OEDEMA),
        ({}, {"oct_macula": "dmo"}, OEDEMA),
        ({}, {"oct_macula": "normal"}, ""),
        ({"cystoid_oedema": False}, {"oct_macula": "cmo"}, OEDEMA),
    ],
)
def test_an_eye_that_is_not_well_teaches_nothing(
    of_operation: dict[str, Any], of_eye: dict[str, Any], says: str
) -> None:
    first = noted(first_eye_of(answers={**SOUND, **of_eye}), **of_operation)
    assert withheld(first) == says


@pytest.mark.parametrize("unknown", UNKNOWNS)
def test_what_nobody_looked_at_is_neither_well_nor_ill(unknown: Unknown) -> None:
    first = first_eye_of(answers={**SOUND, "oct_macula": unknown})
    first = noted(first, cystoid_oedema=unknown, cornea_failed=unknown)
    assert withheld(first) == ""


# ------------------------------------------------------------------ the lens itself

LABEL = "its lens does not fit its aim: read the label of that lens again"


def with_power_off(off_d: float, **changes: Any) -> Eye:
    """Return a first eye predicted so far from its aim, that came out as predicted."""
    at = str(changes.get("placement", "bag"))
    aim_d = AIM_D - off_d
    wanted = exact_power_d(at, eye_of(), LENS)
    outcome_d = predicted_d(**changes, power_d=wanted)
    assert outcome_d == pytest.approx(AIM_D, abs=1e-6)
    return first_eye_of(**changes, power_d=wanted, achieved_d=outcome_d, aim_d=aim_d)


@pytest.mark.parametrize(
    ("off_d", "says"), [(1.49, ""), (-1.49, ""), (1.51, LABEL), (-1.51, LABEL)]
)
def test_a_lens_that_fits_its_aim_nowhere_is_read_again(off_d: float, says: str) -> None:
    assert withheld(with_power_off(off_d)) == says


def test_a_lens_meant_for_the_bag_that_ended_in_the_sulcus_fits_its_aim() -> None:
    """It misses the aim where it lies by more than the limit, and would have met it in the bag."""
    bag_power = exact_power_d("bag", eye_of(axial_length_mm=21.5), LENS)
    at: dict[str, Any] = {
        "placement": "sulcus_three_piece",
        "power_d": bag_power,
        "biometry": {"axial_length_mm": 21.5},
    }
    outcome_d = predicted_d(**at)
    assert outcome_d < AIM_D - 1.5
    assert withheld(first_eye_of(**at, achieved_d=outcome_d)) == ""


@pytest.mark.parametrize("unknown", UNKNOWNS)
def test_without_an_aim_no_lens_is_held_against_it(unknown: Unknown) -> None:
    far = with_power_off(3.0)
    assert far.operation is not None
    assert withheld(replace(far, operation=replace(far.operation, aim_d=unknown))) == ""


@pytest.mark.parametrize(
    ("lens_class", "placement", "says"),
    [
        (
            "angle_supported",
            "bag",
            "an angle-supported lens does not go there: name of lens or place wrong",
        ),
        ("three_piece", "bag", ""),
    ],
)
def test_a_lens_that_cannot_be_where_it_is_said_to_be(
    lens_class: str, placement: str, says: str
) -> None:
    lens = lens_of(lens_class)
    first = first_eye_of(placement=placement, lens_name=lens.name)
    assert taught(first, store=practice_of(lens)).withheld == says


def test_a_one_piece_acrylic_in_the_sulcus_can_be_there_and_is_warned_of() -> None:
    store = practice_of(ONE_PIECE)
    at: dict[str, Any] = {"placement": "sulcus_three_piece", "lens_name": ONE_PIECE.name}
    power = exact_power_d("sulcus_three_piece", eye_of(), LENS)
    found = taught(first_eye_of(**at, power_d=power), store=store)
    assert (found.withheld, found.warns) == ("", NEVER)
    in_the_bag = taught(first_eye_of(lens_name=ONE_PIECE.name), store=store)
    assert (in_the_bag.withheld, in_the_bag.warns) == ("", "")
    three_piece = read(first_eye_of(placement="sulcus_three_piece", power_d=power))
    assert three_piece.warns == ""


# ------------------------------------------------------------------ days and figures


@pytest.mark.parametrize(
    ("later_by", "says"),
    [(-1, "its refraction is dated after today"), (0, ""), (30, "")],
)
def test_a_refraction_of_the_future_teaches_nothing(later_by: int, says: str) -> None:
    settled_on = DONE_ON + timedelta(days=60)
    found = taught(first_eye_of(), today=settled_on + timedelta(days=later_by))
    assert found.withheld == says


def test_without_today_no_day_is_in_the_future() -> None:
    assert taught(first_eye_of()).withheld == ""


def test_the_journey_judges_days_against_today_and_not_the_day_of_surgery() -> None:
    whole = case("hard-second-eye")
    operation = whole.fellow_eye.operation
    assert operation is not None
    settled_on, surgery = operation.settled_on, whole.surgery_planned_on
    assert isinstance(settled_on, date)
    assert isinstance(surgery, date)
    early = plan_an_eye(whole, practice(), today=settled_on - timedelta(days=1))
    assert settled_on < surgery
    assert early.first_eye is not None
    assert early.first_eye.withheld == "its refraction is dated after today"
    asked = [one for one in early.problems if one.check == "days_out_of_order"]
    assert [one.field for one in asked] == [f"{whole.fellow_eye.side}.operation.settled_on"]
    on_the_day = plan_an_eye(whole, practice(), today=settled_on)
    assert on_the_day.first_eye is not None
    assert on_the_day.first_eye.withheld == ""
    assert "days_out_of_order" not in {one.check for one in on_the_day.problems}


def problem_of(eye: Side | None, stops: Any) -> Problem:
    return Problem(
        check="invented",
        field="right.axial_length_mm",
        label="Axial length",
        value="23.5 mm",
        limit="invented",
        remedy="Measure again.",
        severity="block",
        stops=stops,
        eye=eye,
    )


@pytest.mark.parametrize(
    ("eye", "stops", "says"),
    [
        ("right", "power", "its own figures are in doubt"),
        (None, "power", "its own figures are in doubt"),
        ("left", "power", ""),
        ("right", "signature", ""),
        ("right", "nothing", ""),
        (None, "first_cut", ""),
    ],
)
def test_figures_in_doubt_teach_nothing(eye: Side | None, stops: str, says: str) -> None:
    found = taught(first_eye_of(), problems=(problem_of(eye, stops),))
    assert found.withheld == says


# ------------------------------------------------------------------ an operation nobody recorded


@pytest.mark.parametrize("status", ["pseudophakic", "aphakic"])
def test_an_operated_eye_without_its_operation_says_so(status: str) -> None:
    found = taught(replace(first_eye_of(), lens_status=status, operation=None))
    assert found.withheld == "nothing of its operation is recorded"


@pytest.mark.parametrize("status", ["phakic", *UNKNOWNS])
def test_an_eye_not_known_to_be_operated_is_no_first_eye(status: str | Unknown) -> None:
    first = replace(first_eye_of(), lens_status=status, operation=None)
    assert read_first_eye(case_of(first), PRACTICE) is None
