"""The unit normal against an independent library."""

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from zonule.formulas.uncertainty import normal

SCORES = np.concatenate([np.linspace(-38.0, 38.0, 20_001), np.linspace(-1.5, 1.5, 4_001)])


def test_cdf_is_right_to_double_accuracy() -> None:
    assert np.max(np.abs(normal.cdf(SCORES) - ndtr(SCORES))) < 1e-14


def test_cdf_keeps_relative_accuracy_in_the_low_tail() -> None:
    tail = np.linspace(-35.0, -1.0, 5_001)
    assert np.max(np.abs(normal.cdf(tail) / ndtr(tail) - 1.0)) < 1e-12


def test_quantile_is_right() -> None:
    shares = np.concatenate([np.logspace(-300, -1, 500), np.linspace(0.1, 1.0 - 1e-12, 500)])
    assert normal.quantile(shares) == pytest.approx(ndtri(shares), rel=1e-12, abs=1e-14)


def test_density_is_the_slope_of_the_cdf() -> None:
    scores = np.linspace(-6.0, 6.0, 241)
    step = 1e-5
    slope = (normal.cdf(scores + step) - normal.cdf(scores - step)) / (2.0 * step)
    assert normal.density(scores) == pytest.approx(slope, abs=1e-10)


def test_ends_and_not_a_number() -> None:
    given = np.array([-np.inf, np.inf, np.nan])
    assert normal.cdf(given).tolist()[:2] == [0.0, 1.0]
    assert np.isnan(normal.cdf(given)[2])
    assert normal.quantile([0.0, 1.0]).tolist() == [-np.inf, np.inf]
    assert np.isnan(normal.quantile([np.nan, -0.1, 1.1])).all()


def test_shapes_are_kept() -> None:
    assert normal.cdf(np.zeros((0,))).shape == (0,)
    assert normal.cdf(np.zeros((2, 3))).shape == (2, 3)
    assert normal.quantile(np.full((2, 1), 0.5)).dtype == np.float64
