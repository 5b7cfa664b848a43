"""Invented eyes with the printed means and SDs of the 888.

The table prints means, SDs and quantiles, not correlations. Assumed here: axial length with
corneal radius as the caller says (0.55 to 0.60 gives the printed SD of the lens power, 3.73 D),
axial length with chamber depth 0.5, axial length with refraction −0.15, and none between the
others. From a correlation of 0.65 on, SRK/T leaves the 0.06 D by a thousandth. Axial length
is drawn skewed to the long side and refraction to the myopic side, as the printed medians ask;
means and SDs are then made exact.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

EYES = 4000
LENGTH_SKEW = 0.29
REFRACTION_SKEW = 0.62


class Eyes(NamedTuple):
    """One number per eye."""

    axial_length_mm: Array
    corneal_power_d: Array
    anterior_chamber_depth_mm: Array
    refraction_d: Array


def draw(length_with_radius: float) -> Eyes:
    """Return the invented eyes for one assumed correlation."""
    correlations = np.eye(4)
    for row, column, value in ((0, 1, length_with_radius), (0, 2, 0.5), (0, 3, -0.15)):
        correlations[row, column] = correlations[column, row] = value
    normal = np.random.default_rng(888).standard_normal((EYES, 4))
    drawn = _whitened(normal) @ np.linalg.cholesky(correlations).T
    length = _exact(np.exp(LENGTH_SKEW * drawn[:, 0]), mean=24.10, sd=1.41)
    radius = _exact(drawn[:, 1], mean=7.77, sd=0.27)
    chamber = _exact(drawn[:, 2], mean=3.19, sd=0.41)
    refraction = _exact(-np.exp(-REFRACTION_SKEW * drawn[:, 3]), mean=-0.56, sd=0.92)
    return Eyes(length, 337.5 / radius, chamber, refraction)


def _whitened(normal: Array) -> Array:
    centred = normal - normal.mean(axis=0)
    factor = np.linalg.cholesky(np.cov(centred, rowvar=False))
    return np.asarray(np.linalg.solve(factor, centred.T).T)


def _exact(values: Array, *, mean: float, sd: float) -> Array:
    return np.asarray(mean + sd * (values - values.mean()) / values.std(ddof=1))
