"""The line through an own log against an independent least-squares fit, and its coverage."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from zonule.formulas import energy, student_t

GRADES = [2.1, 2.7, 3.0, 3.2, 3.6, 4.0, 4.0, 4.4, 4.8, 5.1, 5.3, 6.0]
ENERGIES = [4.9, 5.5, 6.5, 8.6, 11.0, 9.1, 13.6, 23.4, 17.7, 32.3, 35.2, 55.3]


@given(st.integers(1, 400), st.floats(0.001, 0.999))
def test_students_t_is_that_of_another_program(degrees: int, probability: float) -> None:
    found = float(student_t.quantile(probability, degrees=degrees))
    assert found == pytest.approx(float(stats.t.ppf(probability, degrees)), rel=1e-9, abs=1e-12)
    assert float(student_t.cdf(found, degrees=degrees)) == pytest.approx(probability, abs=1e-12)


@pytest.mark.parametrize("degrees", [0.0, -1.0, 2.5, np.nan, np.inf])
def test_degrees_that_are_not_whole_give_no_number(degrees: float) -> None:
    assert np.isnan(student_t.quantile(0.9, degrees=degrees))
    assert np.isnan(student_t.cdf(1.0, degrees=degrees))


@pytest.mark.parametrize("probability", [0.0, 1.0, -0.1, np.nan])
def test_a_probability_at_or_beyond_the_ends_gives_no_number(probability: float) -> None:
    assert np.isnan(student_t.quantile(probability, degrees=5))


def test_the_line_is_that_of_another_program() -> None:
    line = energy.fit_log_line(grade=GRADES, energy=ENERGIES)
    other = stats.linregress(GRADES, np.log(ENERGIES))
    assert float(line.slope_per_grade) == pytest.approx(other.slope, rel=1e-12)
    assert float(line.intercept) == pytest.approx(other.intercept, rel=1e-12)
    error_of_slope = float(line.sd) / np.sqrt(float(line.grade_squares))
    assert error_of_slope == pytest.approx(other.stderr, rel=1e-12)


@pytest.mark.parametrize("probability", [0.05, 0.25, 0.5, 0.9, 0.95])
def test_the_band_is_the_textbook_one_for_a_next_case(probability: float) -> None:
    line = energy.fit_log_line(grade=GRADES, energy=ENERGIES)
    x, y = np.array(GRADES), np.log(ENERGIES)
    design = np.column_stack([np.ones_like(x), x])
    beta, *_ = np.linalg.lstsq(design, y, rcond=None)
    rest = y - design @ beta
    spread = np.sqrt(rest @ rest / (len(x) - 2))
    at = np.array([1.0, 5.9])
    widened = spread * np.sqrt(1.0 + at @ np.linalg.inv(design.T @ design) @ at)
    wanted = np.exp(at @ beta + stats.t.ppf(probability, len(x) - 2) * widened)
    found = energy.next_eye(line, grade=5.9, probability=probability)
    assert float(found) == pytest.approx(float(wanted), rel=1e-10)


@pytest.mark.parametrize("cases", [10, 40])
def test_nine_of_ten_next_eyes_stay_under_the_limit_however_few_the_cases(cases: int) -> None:
    draw, repeats = np.random.default_rng(5), 20_000
    grade = draw.uniform(2.0, 6.0, (repeats, cases))
    logs = 0.3 + 0.6 * grade + draw.normal(0.0, 0.35, (repeats, cases))
    line = energy.fit_log_line(grade=grade, energy=np.exp(logs))
    limit = energy.next_eye(line, grade=5.5, probability=0.9)
    following = np.exp(0.3 + 0.6 * 5.5 + draw.normal(0.0, 0.35, repeats))
    assert np.mean(following <= limit) == pytest.approx(0.9, abs=0.008)


@given(st.floats(0.2, 5.0), st.floats(2.0, 6.0))
def test_another_unit_changes_the_limit_by_the_same_factor(factor: float, grade: float) -> None:
    one = energy.fit_log_line(grade=GRADES, energy=ENERGIES)
    other = energy.fit_log_line(grade=GRADES, energy=factor * np.array(ENERGIES))
    first, second = (energy.next_eye(x, grade=grade, probability=0.9) for x in (one, other))
    assert float(second) == pytest.approx(factor * float(first), rel=1e-9)


def test_too_few_cases_or_one_density_draw_no_line() -> None:
    for grade in ([3.0, 4.0], [3.0, 3.0, 3.0, 3.0]):
        line = energy.fit_log_line(grade=grade, energy=np.arange(1.0, 1.0 + len(grade)))
        assert np.isnan(energy.next_eye(line, grade=3.0, probability=0.5))


def test_a_case_that_is_not_known_makes_the_line_unknown() -> None:
    line = energy.fit_log_line(grade=[2.0, np.nan, 4.0, 5.0], energy=[5.0, 9.0, 22.0, 41.0])
    assert np.isnan(line.slope_per_grade)


@given(st.lists(st.tuples(st.floats(0, 200), st.floats(0, 1)), min_size=1, max_size=4))
def test_a_measure_adds_its_terms(terms: list[tuple[float, float]]) -> None:
    seconds, powers = ([one[at] for one in terms] for at in (0, 1))
    found = energy.energy(seconds=seconds, power_share=powers, factor=[1.0] * len(terms))
    assert float(found) == pytest.approx(sum(s * p for s, p in terms), abs=1e-9)
