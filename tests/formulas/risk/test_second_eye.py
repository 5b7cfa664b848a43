"""The second eye after a rupture: against quadrature, bounds, and what the shared effect does."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import expit, logit
from scipy.stats import norm

from zonule.formulas.risk.second_eye import risk_given_first


def over_patients(inside: Callable[[float], float], spread: float) -> float:
    return float(
        quad(
            lambda u: inside(u) * norm.pdf(u, scale=spread),
            -10.0 * spread,
            10.0 * spread,
            epsabs=1e-13,
            limit=400,
        )[0]
    )


def by_quadrature(second: float, first: float, spread: float) -> float:
    def centre(risk: float) -> float:
        def gap(value: float) -> float:
            return over_patients(lambda u: expit(value + u), spread) - risk

        return float(brentq(gap, logit(risk) - 9.0, logit(risk) + 9.0, xtol=1e-12))

    low, high = centre(first), centre(second)
    joint = over_patients(lambda u: expit(low + u) * expit(high + u), spread)
    return joint / over_patients(lambda u: expit(low + u), spread)


@pytest.mark.parametrize("spread", [0.5, 0.8, 1.2, 2.5])
@pytest.mark.parametrize(("second", "first"), [(0.01, 0.01), (0.06, 0.01), (0.16, 0.4)])
def test_agrees_with_quadrature(second: float, first: float, spread: float) -> None:
    found = risk_given_first(probability=second, first_probability=first, spread=spread)
    assert float(found) == pytest.approx(by_quadrature(second, first, spread), abs=1e-7)


@given(st.floats(1e-4, 0.9), st.floats(1e-4, 0.9), st.floats(0.0, 2.0))
def test_a_rupture_raises_and_none_lowers_and_both_together_are_the_marginal(
    second: float, first: float, spread: float
) -> None:
    torn, held = (
        float(
            risk_given_first(
                probability=second, first_probability=first, spread=spread, ruptured=one
            )
        )
        for one in (True, False)
    )
    assert torn >= second - 1e-9 >= held - 2e-9
    assert first * torn + (1.0 - first) * held == pytest.approx(second, rel=1e-6)


def test_a_cause_that_cannot_carry_over_changes_nothing() -> None:
    found = risk_given_first(probability=[0.01, 0.2], spread=0.0)
    assert found == pytest.approx([0.01, 0.2])


def test_the_wider_the_shared_effect_the_higher_the_risk() -> None:
    found = risk_given_first(probability=0.05, spread=np.linspace(0.0, 2.0, 9))
    assert (np.diff(found) > 0.0).all()


def test_an_unlikely_first_rupture_says_more() -> None:
    found = risk_given_first(probability=0.05, first_probability=[0.5, 0.05, 0.005], spread=1.0)
    assert (np.diff(found) > 0.0).all()


@pytest.mark.parametrize(
    "wrong", [{"probability": np.nan}, {"probability": 1.2}, {"spread": -0.1}, {"spread": np.nan}]
)
def test_what_cannot_be_stays_unknown(wrong: dict[str, float]) -> None:
    usual = {"probability": 0.05, "spread": 0.8, **wrong}
    found = risk_given_first(probability=usual["probability"], spread=usual["spread"])
    assert np.isnan(found)
