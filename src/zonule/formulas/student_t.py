"""Student's t for whole degrees of freedom: closed sums, no table.

Good to a few units of the last digit for chances from 0.001 to 0.999, the range that bands need.
Arrays broadcast; NaN in, NaN out; NaN where the degrees of freedom are not 1, 2, 3 …; nothing is
raised and nothing is warned about.

Departures from print
---------------------
None: the sums are the usual ones over powers of the cosine, one for odd and one for even degrees.

References
----------
own_derivation
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_HALVINGS: Final = 200
_WIDEST: Final = 1e12


def _central(score: float, degrees: int) -> float:
    """Return the chance of lying between minus and plus a score, signed as the score is."""
    angle = math.atan2(score, math.sqrt(degrees))
    sine, square = math.sin(angle), math.cos(angle) ** 2
    odd = degrees % 2
    term = math.cos(angle) if odd else 1.0
    total = 0.0
    for power in range(odd, degrees - 1, 2):
        total += term
        term *= square * (power + 1.0) / (power + 2.0)
    return 2.0 / math.pi * (angle + sine * total) if odd else sine * total


def _cdf_of_one(score: float, degrees: float) -> float:
    if math.isnan(score) or not _whole(degrees):
        return math.nan
    return 0.5 + 0.5 * _central(score, int(degrees))


def _whole(degrees: float) -> bool:
    return math.isfinite(degrees) and degrees >= 1.0 and degrees == int(degrees)


def _quantile_of_one(probability: float, degrees: float) -> float:
    if not _whole(degrees) or not 0.0 < probability < 1.0:
        return math.nan
    wanted, low, high = abs(2.0 * probability - 1.0), 0.0, 1.0
    while high < _WIDEST and _central(high, int(degrees)) < wanted:
        low, high = high, 2.0 * high
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        below = _central(middle, int(degrees)) < wanted
        low, high = (middle, high) if below else (low, middle)
    return math.copysign(0.5 * (low + high), probability - 0.5)


_cdf = np.frompyfunc(_cdf_of_one, 2, 1)
_quantile = np.frompyfunc(_quantile_of_one, 2, 1)


def cdf(score: ArrayLike, *, degrees: ArrayLike) -> Array:
    """Return the chance that Student's t lies at or below a score.

    Parameters
    ----------
    score
        The score.
    degrees
        Degrees of freedom, whole and at least 1.

    Examples
    --------
    >>> round(float(cdf(1.0, degrees=1)), 6), round(float(cdf(0.0, degrees=8)), 6)
    (0.75, 0.5)
    """
    given = np.asarray(score, dtype=np.float64), np.asarray(degrees, dtype=np.float64)
    with np.errstate(all="ignore"):
        return np.asarray(_cdf(*given), dtype=np.float64)


def quantile(probability: ArrayLike, *, degrees: ArrayLike) -> Array:
    """Return the score below which Student's t lies with a given probability.

    Parameters
    ----------
    probability
        Above 0 and below 1.
    degrees
        Degrees of freedom, whole and at least 1.

    Examples
    --------
    >>> round(float(quantile(0.95, degrees=8)), 4), round(float(quantile(0.5, degrees=3)), 4)
    (1.8595, 0.0)
    """
    given = np.asarray(probability, dtype=np.float64), np.asarray(degrees, dtype=np.float64)
    with np.errstate(all="ignore"):
        return np.asarray(_quantile(*given), dtype=np.float64)
