"""Scalars, columns and grids give the same numbers; what is not finite gives NaN, quietly."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.power_eyes import (
    AVERAGE,
    FORMULA_LIST,
    MEASURED,
    TARGETS_D,
    Measured,
    given_to,
)
from zonule.formulas.power import PowerFormula, srkt

EVERY_FORMULA = pytest.mark.parametrize("formula", FORMULA_LIST, ids=lambda formula: formula.name)
LENGTHS = np.linspace(19.0, 33.0, 29)
CORNEAS = np.linspace(39.0, 49.0, 11)


def power_of(formula: PowerFormula, eye: Measured, target: Any = 0.0) -> Any:
    return formula.lens_power(**given_to(formula, eye), target_refraction_d=target)


@EVERY_FORMULA
@given(eyes=st.lists(MEASURED, min_size=1, max_size=5), target=TARGETS_D)
def test_a_column_is_its_scalars(
    formula: PowerFormula, eyes: list[Measured], target: float
) -> None:
    column = power_of(formula, Measured(*np.array(eyes).T), target)
    assert column.shape == (len(eyes),)
    scalars = [power_of(formula, eye, target) for eye in eyes]
    # One square root may round otherwise for a column than for a scalar: the last bit is free.
    np.testing.assert_allclose(column, scalars, rtol=1e-13)


@EVERY_FORMULA
def test_a_grid_is_its_columns(formula: PowerFormula) -> None:
    grid = power_of(formula, Measured(LENGTHS[:, None], CORNEAS, 3.1))
    assert grid.shape == (29, 11)
    for column, cornea in enumerate(CORNEAS):
        alone = power_of(formula, Measured(LENGTHS, cornea, 3.1))
        np.testing.assert_allclose(grid[:, column], alone, rtol=1e-13)


@EVERY_FORMULA
def test_a_row_of_lenses_is_tried_in_one_eye(formula: PowerFormula) -> None:
    lenses = np.arange(18.0, 26.0, 0.5)
    row = formula.refraction(**given_to(formula, AVERAGE), lens_power_d=lenses)
    assert row.shape == lenses.shape


@EVERY_FORMULA
@pytest.mark.parametrize("broken", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_gives_nan_there_and_only_there(
    formula: PowerFormula, broken: float
) -> None:
    whole = {**given_to(formula, AVERAGE), "target_refraction_d": 0.0}
    for name, value in whole.items():
        pair = np.array([broken, value])
        power = formula.lens_power(**{**whole, name: pair})
        assert np.isnan(power).tolist() == [True, False], name


@EVERY_FORMULA
@pytest.mark.parametrize("broken", [math.nan, math.inf, -math.inf])
def test_refraction_and_position_pass_nan_on(formula: PowerFormula, broken: float) -> None:
    keywords = given_to(formula, AVERAGE)
    assert np.isnan(formula.refraction(**keywords, lens_power_d=broken))
    outcome = {
        "axial_length_mm": 23.5,
        "corneal_power_d": 44.0,
        "lens_power_d": 21.0,
        "refraction_d": -0.5,
    }
    assert np.isfinite(formula.position_from_outcome(**outcome))
    for name in outcome:
        assert np.isnan(formula.position_from_outcome(**{**outcome, name: broken})), name


@EVERY_FORMULA
@given(
    length=st.floats(allow_nan=True, allow_infinity=True),
    cornea=st.floats(allow_nan=True, allow_infinity=True),
    target=st.floats(allow_nan=True, allow_infinity=True),
)
def test_no_number_warns_or_raises(
    formula: PowerFormula, length: float, cornea: float, target: float
) -> None:
    power = power_of(formula, Measured(length, cornea, 3.1), target)
    assert not np.isinf(power)
    srkt.cusp_flag(axial_length_mm=length, corneal_power_d=cornea, a_constant=118.4)


def test_an_eye_that_cannot_be_judged_is_not_clear_of_the_cusp() -> None:
    flags = srkt.cusp_flag(
        axial_length_mm=[math.nan, 23.5], corneal_power_d=[44.0, math.inf], a_constant=118.4
    )
    assert flags.tolist() == [True, True]
