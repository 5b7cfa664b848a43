"""The formulas fall where optics says they must."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.power_eyes import (
    CONSTANTS,
    FORMULA_LIST,
    LENSES_D,
    MEASURED,
    Measured,
    given_to,
)
from zonule.formulas.power import PowerFormula, srkt

EVERY_FORMULA = pytest.mark.parametrize("formula", FORMULA_LIST, ids=lambda formula: formula.name)
SMOOTH = [formula for formula in FORMULA_LIST if formula.name != "srkt"]
EVERY_SMOOTH_FORMULA = pytest.mark.parametrize("formula", SMOOTH, ids=lambda formula: formula.name)
ROUNDING_D = 1e-9

LENGTHS = np.arange(2000, 3401)[:, None] / 100.0
CORNEAS = np.arange(152, 209)[None, :] / 4.0


@EVERY_FORMULA
@given(eye=MEASURED, lens=LENSES_D, stronger=st.floats(0.01, 10.0))
def test_refraction_falls_with_lens_power(
    formula: PowerFormula, eye: Measured, lens: float, stronger: float
) -> None:
    keywords = given_to(formula, eye)
    weak, strong = formula.refraction(**keywords, lens_power_d=[lens, lens + stronger])
    assert strong < weak


@EVERY_SMOOTH_FORMULA
def test_power_falls_with_length_and_keratometry(formula: PowerFormula) -> None:
    keywords = given_to(formula, Measured(LENGTHS, CORNEAS, 3.1))
    power = formula.lens_power(**keywords, target_refraction_d=0.0)
    assert np.isfinite(power).all()
    assert (np.diff(power, axis=0) < 0.0).all()
    assert (np.diff(power, axis=1) < 0.0).all()


@pytest.mark.parametrize("a_constant", [112.0, 115.0, 118.4, 119.27])
@pytest.mark.parametrize("axis", [0, 1], ids=["length", "keratometry"])
def test_every_rise_of_srkt_is_flagged(a_constant: float, axis: int) -> None:
    power = srkt.lens_power(
        axial_length_mm=LENGTHS,
        corneal_power_d=CORNEAS,
        target_refraction_d=0.0,
        a_constant=a_constant,
    )
    flags = srkt.cusp_flag(axial_length_mm=LENGTHS, corneal_power_d=CORNEAS, a_constant=a_constant)
    rises = np.diff(power, axis=axis) > ROUNDING_D
    ends = np.logical_or(
        np.take(flags, range(flags.shape[axis] - 1), axis=axis),
        np.take(flags, range(1, flags.shape[axis]), axis=axis),
    )
    assert rises.any(), "the cusp is there to be found"
    assert ends[rises].all()


def test_the_radicand_alone_would_miss_rises_of_srkt() -> None:
    power = srkt.lens_power(
        axial_length_mm=LENGTHS,
        corneal_power_d=CORNEAS,
        target_refraction_d=0.0,
        a_constant=CONSTANTS["a_constant"],
    )
    radicand = srkt.corneal_height_radicand(axial_length_mm=LENGTHS, corneal_power_d=CORNEAS)
    failed = radicand <= 0.0
    rises = np.diff(power, axis=0) > ROUNDING_D
    assert (rises & ~failed[1:] & ~failed[:-1]).any()


def test_ordinary_eyes_are_not_flagged() -> None:
    flags = srkt.cusp_flag(
        axial_length_mm=np.linspace(22.5, 25.0, 26)[:, None],
        corneal_power_d=np.linspace(42.0, 45.0, 13),
        a_constant=118.4,
    )
    assert not flags.any()
