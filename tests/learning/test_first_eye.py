"""What the first eye may teach, read against the place its lens has."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.eyes import exact_power_d, eye_of
from learning.pairs import (
    LENS,
    carried,
    first_eye_of,
    lesson_of,
    predicted_d,
    read,
    second_prediction,
    with_error,
)
from zonule.findings.records import Eye
from zonule.formulas.uncertainty import law
from zonule.intake import read_case, read_practice
from zonule.learning.first_eye import read_first_eye

EXAMPLES = Path(__file__).parents[2] / "examples"
SULCUS: dict[str, Any] = {"placement": "sulcus_three_piece", "power_d": 20.5}
CONTACT: dict[str, Any] = {"biometry": {"method": "ultrasound_contact"}}


def share(first: Eye, at: str = "bag", second: Eye | None = None) -> float:
    return float(carried(first, at, second).share[0])


def moved_d(first: Eye, at: str = "bag") -> float:
    return float(carried(first, at).mean_d[0])


# ------------------------------------------------------------------ how much is carried


@pytest.mark.parametrize("error_d", [-0.6, 0.6])
def test_two_lenses_in_the_bag_share_about_half(error_d: float) -> None:
    assert 0.45 < share(with_error(error_d)) < 0.60
    assert 0.25 < abs(moved_d(with_error(error_d))) < 0.40


@pytest.mark.parametrize("error_d", [-0.9, -0.6, 0.6, 0.9])
def test_what_a_loose_sulcus_lens_leaves_is_next_to_nothing_for_the_other_eye(
    error_d: float,
) -> None:
    first = with_error(error_d, **SULCUS)
    assert share(first) < 0.11
    assert abs(moved_d(first)) < 0.1


def test_a_captured_lens_stands_between() -> None:
    captured = share(with_error(-0.6, placement="sulcus_capture"))
    assert share(with_error(-0.6, **SULCUS)) < captured < share(with_error(-0.6))
    assert 0.2 < captured < 0.35


def test_a_surprise_explained_by_its_place_is_not_carried() -> None:
    """The bag's power in the sulcus comes out myopic: that is the sulcus, not the patient."""
    bag_power_in_the_sulcus: dict[str, Any] = {"placement": "sulcus_three_piece", "power_d": 22.0}
    outcome_d = predicted_d(**bag_power_in_the_sulcus)
    found = read(first_eye_of(**bag_power_in_the_sulcus, achieved_d=outcome_d - 0.05))
    assert found.in_the_bag_d is not None
    assert found.predicted_d is not None
    assert found.predicted_d < found.in_the_bag_d - 1.0
    assert found.error_d == pytest.approx(-0.05)
    as_it_is = moved_d(first_eye_of(**bag_power_in_the_sulcus, achieved_d=outcome_d - 0.05))
    assert abs(as_it_is) < 0.01
    against_the_bag = read(first_eye_of(achieved_d=outcome_d - 0.05))
    assert against_the_bag.error_d is not None
    assert against_the_bag.error_d < -1.2
    assert against_the_bag.withheld.startswith("more than 1.2 D is usually one eye's own")


def test_the_example_of_a_hard_second_eye() -> None:
    case = read_case((EXAMPLES / "hard-second-eye.toml").read_bytes(), name="case")
    practice = read_practice((EXAMPLES / "practice.toml").read_bytes(), name="practice")
    found = read_first_eye(case, practice)
    assert found is not None
    assert found.error_d is not None
    assert found.in_the_bag_d is not None
    assert found.achieved_d is not None
    assert found.lesson is not None
    assert abs(found.error_d) < 0.1
    assert found.achieved_d - found.in_the_bag_d < -0.9
    assert found.predicted_band_d is not None
    low, high = found.predicted_band_d
    assert low < found.achieved_d < high


@pytest.mark.parametrize("place_key", ["bag", "sulcus_capture", "sulcus_three_piece"])
@pytest.mark.parametrize("error_d", [0.2, 0.6, 1.1])
def test_the_sign_of_the_error_is_the_sign_of_what_is_carried(
    place_key: str, error_d: float
) -> None:
    up, down = moved_d(with_error(error_d), place_key), moved_d(with_error(-error_d), place_key)
    assert up == pytest.approx(-down, abs=1e-9)
    assert up > 0.0


def test_the_larger_the_first_error_the_smaller_the_share() -> None:
    shares = [share(with_error(error)) for error in (0.3, 0.6, 0.9, 1.19)]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] < 0.5 * shares[0]


def test_eyes_measured_unlike_share_less() -> None:
    alike = share(with_error(-0.6))
    two_rooms = {"biometry": {"instrument": "room 1"}}
    other_instrument = share(with_error(-0.6, **two_rooms), second=eye_of(instrument="room 2"))
    same_instrument = share(with_error(-0.6, **two_rooms), second=eye_of(instrument="room 1"))
    assert same_instrument == pytest.approx(alike)
    assert 0.2 < other_instrument < alike - 0.1
    assert share(with_error(-0.6, **CONTACT)) < 0.2


@pytest.mark.parametrize(
    ("first_has", "operation", "length", "cornea", "refraction"),
    [
        ({}, {}, True, True, True),
        ({"instrument": "room 1"}, {}, False, False, True),
        ({"method": "ultrasound_contact"}, {}, False, False, True),
        ({"method": "ultrasound_contact", "instrument": "room 2"}, {}, False, True, True),
        ({}, {"settled_refraction_kind": "autorefraction"}, True, True, False),
    ],
)
def test_only_what_was_measured_alike_is_shared(
    first_has: dict[str, Any],
    operation: dict[str, Any],
    length: bool,
    cornea: bool,
    refraction: bool,
) -> None:
    """The share of a small error, from the slopes of both eyes by hand."""
    first = with_error(0.001, biometry=first_has, **operation)
    second = eye_of(instrument="room 2") if "instrument" in first_has else eye_of()
    one, two = lesson_of(first, second), second_prediction(None, second=second).slopes
    contact, auto = one.length_method != "optical", not refraction
    shared = (
        one.position_d_per_mm * two.position_d_per_mm[0] * 0.14**2
        + length * one.length_d_per_mm * two.fixed_length_d_per_mm[0] * 0.035**2
        + cornea * one.cornea_d_per_d * two.fixed_cornea_d_per_d[0] * 0.15**2
        + refraction * 0.14**2
    )
    own = (
        one.position_d_per_mm**2 * (0.14**2 + 0.12**2)
        + one.length_d_per_mm**2 * (0.035**2 + (0.15 if contact else 0.018) ** 2)
        + one.cornea_d_per_d**2 * (0.15**2 + 0.10**2)
        + 0.14**2
        + (0.25 if auto else 0.14) ** 2
        + (one.power_d_per_d * 0.15) ** 2
    )
    gross = own + 1.36**2
    odds = 0.113 / 0.887 * np.sqrt(own / gross)
    expected = (shared / own + odds * shared / gross) / (1.0 + odds)
    assert share(first, second=second) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize("kind", ["autorefraction", "retinoscopy"])
def test_a_refraction_that_asked_nobody_teaches_less(kind: str) -> None:
    first = with_error(-0.6, settled_refraction_kind=kind)
    assert lesson_of(first).refraction_kind == kind
    assert share(first) < share(with_error(-0.6)) - 0.1


# ------------------------------------------------------------------ what the second eye becomes


@pytest.mark.parametrize(
    "at", ["bag", "sulcus_capture", "sulcus_three_piece", "scleral:sutured_1_0_mm"]
)
def test_a_lesson_moves_the_second_eye_and_narrows_it_a_little(at: str) -> None:
    first = with_error(-0.6)
    before, after = second_prediction(None, at), second_prediction(first, at)
    shift_d = float(law.mean(after.law)[0] - law.mean(before.law)[0])
    assert shift_d == pytest.approx(moved_d(first, at), abs=1e-9)
    assert -0.4 < shift_d < 0.0
    width = [float(law.standard_deviation(one.law)[0]) for one in (before, after)]
    assert 0.75 * width[0] < width[1] < width[0]


def test_a_lesson_of_the_sulcus_hardly_narrows_the_bag() -> None:
    before, after = second_prediction(None), second_prediction(with_error(-0.6, **SULCUS))
    assert 0.97 < after.law.sds_d[0, 0] / before.law.sds_d[0, 0] < 1.0


def test_a_first_error_that_may_be_gross_leaves_the_second_eye_wider() -> None:
    """Whether the first eye holds a gross error is itself open, and that is spread."""
    doubtful = carried(with_error(1.1))
    assert 0.1 < doubtful.core_probability < 0.9
    assert doubtful.variance_gone_d2[0] < 0.0 < carried(with_error(0.3)).variance_gone_d2[0]


@settings(max_examples=60)
@given(
    error_d=st.floats(min_value=-1.19, max_value=1.19),
    length_mm=st.floats(min_value=20.0, max_value=30.0),
    corneal_power_d=st.floats(min_value=40.0, max_value=47.0),
    at=st.sampled_from(["bag", "sulcus_capture", "sulcus_three_piece", "iris_suture"]),
    first_at=st.sampled_from(["bag", "sulcus_capture", "sulcus_three_piece"]),
)
def test_no_lesson_takes_away_all_the_spread(
    error_d: float, length_mm: float, corneal_power_d: float, at: str, first_at: str
) -> None:
    numbers: dict[str, Any] = {"axial_length_mm": length_mm, "corneal_power_d": corneal_power_d}
    wanted_d = exact_power_d(first_at, eye_of(**numbers), LENS)
    first = with_error(error_d, placement=first_at, power_d=wanted_d, biometry=numbers)
    second = eye_of(axial_length_mm=length_mm, corneal_power_d=corneal_power_d)
    before, after = (second_prediction(one, at, second) for one in (None, first))
    assert np.isfinite(after.law.means_d).all()
    assert (after.law.sds_d.min() > 0.5 * before.law.sds_d.min() - 1e-9).all()


# ------------------------------------------------------------------ what else is told


def test_in_what_the_eyes_differ_is_told() -> None:
    second = eye_of(axial_length_mm=23.9, corneal_power_d=44.7, chamber_depth_mm=2.7)
    assert read(first_eye_of(), second).less_alike == (
        "length by 0.40 mm",
        "cornea by 1.20 D",
        "chamber depth by 0.40 mm",
    )
    assert read(first_eye_of()).less_alike == ()


def test_the_lesson_holds_what_the_second_eye_needs() -> None:
    lesson = lesson_of(with_error(-0.4, biometry={"instrument": "room 1"}))
    assert (lesson.place_key, lesson.length_method) == ("bag", "optical")
    assert (lesson.instrument, lesson.refraction_kind) == ("room 1", "subjective")
    assert lesson.error_d == pytest.approx(-0.4)
    assert (lesson.tail_weight, lesson.lens_power_d) == (0.113, 22.0)
    assert lesson_of(with_error(-0.4, **SULCUS)).tail_weight == 0.02
