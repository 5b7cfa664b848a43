"""The error budget: parts, covariance, tilt, own spread."""

from typing import Any

import numpy as np
import pytest

from zonule.formulas.uncertainty import budget

EYE = {
    "length_d_per_mm": -2.8,
    "cornea_d_per_d": -1.0,
    "position_d_per_mm": 1.4,
    "power_d_per_d": -0.7,
    "length_sd_mm": 0.04,
    "cornea_sd_d": 0.18,
    "position_sd_mm": 0.45,
    "label_sd_d": 0.15,
    "refraction_sd_d": 0.2,
}


def test_parts_add_up_and_none_is_lost() -> None:
    found = budget.core_budget(
        **EYE,
        chamber_d_per_mm=0.56,
        chamber_sd_mm=0.15,
        length_chamber_correlation=0.5,
        position_mean_sd_mm=0.12,
        tilt_sd_d=0.1,
        disagreement_d2=0.09,
    )
    assert sum(found) == pytest.approx(float(found.total))
    shown = budget.spreads_d(found)
    assert sum(sd**2 for sd in shown.values()) == pytest.approx(float(found.total))
    assert found.sd_without_position_d**2 == pytest.approx(
        float(found.total - found.position - found.position_mean)
    )


def test_a_correlation_acts_through_the_sign_of_both_slopes() -> None:
    """Length and chamber errors that go together partly cancel: their slopes have unlike signs."""
    chamber = {"chamber_d_per_mm": 0.56, "chamber_sd_mm": 0.15}
    together, apart, against = (
        budget.core_budget(**EYE, **chamber, length_chamber_correlation=correlation)
        for correlation in (0.5, 0.0, -0.5)
    )
    assert together.measured < apart.measured < against.measured
    rng = np.random.default_rng(3)
    drawn = rng.multivariate_normal([0, 0], [[0.04**2, 0.003], [0.003, 0.15**2]], size=200_000)
    cornea = together.cornea
    assert np.var(drawn @ [-2.8, 0.56]) == pytest.approx(
        float(together.measured - cornea), rel=0.02
    )


def test_budget_broadcasts_and_keeps_unknowns() -> None:
    powers: dict[str, Any] = {**EYE, "position_d_per_mm": np.array([1.3, 1.4, np.nan])}
    found = budget.core_budget(**powers)
    assert found.label.shape == found.total_sd_d.shape == (3,)
    assert np.isnan(found.total_sd_d).tolist() == [False, False, True]


def test_tilt_against_draws() -> None:
    given = {"lens_power_d": 20.0, "tilt_mean_deg": 6.0, "tilt_sd_deg": 3.0}
    theta = np.radians(np.random.default_rng(5).normal(6.0, 3.0, size=400_000))
    drawn = -0.64 * 20.0 * (theta**2 - 0.0750**2)
    assert budget.tilt_shift_d(**given) == pytest.approx(drawn.mean(), abs=0.001)
    assert budget.tilt_sd_d(**given) == pytest.approx(drawn.std(), abs=0.001)


def test_an_ordinary_tilt_shifts_nothing() -> None:
    ordinary = np.degrees(budget.ORDINARY_TILT_RAD)
    assert f"{ordinary:.1f}" == "4.3"
    given = {"lens_power_d": 22.0, "tilt_mean_deg": ordinary, "tilt_sd_deg": 0.0}
    assert budget.tilt_shift_d(**given) == pytest.approx(0.0, abs=1e-12)
    assert budget.tilt_sd_d(**given) == 0.0


def test_own_spread_needs_two_eyes_and_moves_slowly() -> None:
    found = budget.own_spread(
        published_sd=0.45, own_sd=[np.nan, np.nan, 0.9, 0.9, 0.9], own_eyes=[0, 1, 2, 11, 10_000]
    )
    assert found[:2] == pytest.approx([0.45, 0.45])
    assert np.all(np.diff(found[1:]) > 0.0)
    assert found[3] ** 2 == pytest.approx((0.45**2 + 0.9**2) / 2.0)
    assert found[4] == pytest.approx(0.9, abs=0.001)


def test_an_own_spread_that_is_missing_with_eyes_counted_stays_unknown() -> None:
    assert np.isnan(budget.own_spread(published_sd=0.45, own_sd=np.nan, own_eyes=12))
