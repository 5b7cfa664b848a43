"""Power and refraction undo each other, and an outcome gives back the position it came from.

Over the eyes tried here the inverse is defined everywhere. It is not where the eye needs more
than −83.3 D at the cornea (a pole of the vertex rule at 12 mm), at a target of +83.3 D or more,
for a position at a lens power of zero, and for a position at a myopia that exceeds the cornea's
own power (beyond −40 D nothing is tried); there the formulas answer NaN.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given

from properties.power_eyes import (
    AVERAGE,
    FORMULA_LIST,
    LENSES_D,
    MEASURED,
    TARGETS_D,
    Measured,
    given_to,
)
from zonule.formulas.power import PowerFormula

EVERY_FORMULA = pytest.mark.parametrize("formula", FORMULA_LIST, ids=lambda formula: formula.name)


@EVERY_FORMULA
@given(eye=MEASURED, target=TARGETS_D)
def test_target_to_power_to_refraction(formula: PowerFormula, eye: Measured, target: float) -> None:
    keywords = given_to(formula, eye)
    power = formula.lens_power(**keywords, target_refraction_d=target)
    assert abs(float(formula.refraction(**keywords, lens_power_d=power)) - target) < 1e-9


@EVERY_FORMULA
@given(eye=MEASURED, lens=LENSES_D)
def test_lens_to_refraction_to_power(formula: PowerFormula, eye: Measured, lens: float) -> None:
    keywords = given_to(formula, eye)
    left_over = formula.refraction(**keywords, lens_power_d=lens)
    assert abs(float(formula.lens_power(**keywords, target_refraction_d=left_over)) - lens) < 1e-9


@EVERY_FORMULA
@given(eye=MEASURED, lens=LENSES_D)
def test_outcome_gives_back_the_position(formula: PowerFormula, eye: Measured, lens: float) -> None:
    assume(abs(lens) >= 3.0)
    keywords = given_to(formula, eye)
    left_over = float(formula.refraction(**keywords, lens_power_d=lens))
    assume(left_over > -40.0)
    found = formula.position_from_outcome(
        axial_length_mm=eye.axial_length_mm,
        corneal_power_d=eye.corneal_power_d,
        lens_power_d=lens,
        refraction_d=left_over,
    )
    expected = formula.thin_eye(**keywords).lens_position_mm
    assert abs(float(found) - float(expected)) < 1e-7


@EVERY_FORMULA
def test_the_inverse_is_undefined_beyond_its_poles(formula: PowerFormula) -> None:
    keywords = given_to(formula, AVERAGE)
    assert np.isnan(formula.lens_power(**keywords, target_refraction_d=[83.4, 200.0])).all()
    assert np.isnan(formula.refraction(**keywords, lens_power_d=200.0))
    found = formula.position_from_outcome(
        axial_length_mm=AVERAGE.axial_length_mm,
        corneal_power_d=AVERAGE.corneal_power_d,
        lens_power_d=0.0,
        refraction_d=0.0,
    )
    assert np.isnan(found)
    beyond_the_cornea = formula.position_from_outcome(
        axial_length_mm=34.0, corneal_power_d=30.0, lens_power_d=45.0, refraction_d=-48.0
    )
    assert np.isnan(beyond_the_cornea)
