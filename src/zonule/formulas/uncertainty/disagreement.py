"""How far the formulas differ for one lens in one eye, and what that says.

Formulas that disagree as much as they usually do add nothing: that much is in the error budget
already. Only what goes beyond the ordinary widens the band, and beyond the 95th centile it is
said aloud, with the formula that stands apart.

The formulas stand on the last axis; a formula that does not apply is NaN there and is omitted.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


class Disagreement(NamedTuple):
    """What a set of formulas says together."""

    centre_d: Array
    """Mean of the formulas that apply, equal weights; NaN when none does."""
    spread_d: Array
    """Sample standard deviation across them; NaN with fewer than two."""
    excess_variance_d2: Array
    """What the band widens by [D²]."""
    unusual: NDArray[np.bool_]
    """Whether the spread lies above the 95th centile for this length."""
    odd_one_out: NDArray[np.intp]
    """Index of the formula that stands apart; -1 when the spread is not unusual, or when fewer
    than three formulas apply and neither can be called the odd one."""


def centre_d(*, refraction_d: ArrayLike) -> Array:
    """Return the mean of the formulas that apply, with equal weights.

    Examples
    --------
    >>> round(float(centre_d(refraction_d=[-0.2, -0.4, np.nan])), 2)
    -0.3
    """
    given = np.asarray(refraction_d, dtype=np.float64)
    with np.errstate(invalid="ignore"):
        return np.asarray(np.nansum(given, axis=-1) / _count(given))


def spread_d(*, refraction_d: ArrayLike) -> Array:
    """Return the sample standard deviation across the formulas that apply.

    NaN with fewer than two: one formula alone has nothing to disagree with.

    Examples
    --------
    >>> round(float(spread_d(refraction_d=[-0.2, -0.4, np.nan])), 3)
    0.141
    """
    given = np.asarray(refraction_d, dtype=np.float64)
    deviations = given - centre_d(refraction_d=given)[..., None]
    freedom = np.where(_count(given) > 1, _count(given) - 1.0, np.nan)
    return np.asarray(np.sqrt(np.nansum(deviations**2, axis=-1) / freedom))


def excess_variance_d2(*, spread_d: ArrayLike, ordinary_up_to_d: ArrayLike) -> Array:
    """Return the variance that the disagreement adds to the budget.

    Parameters
    ----------
    spread_d
        From :func:`spread_d`. NaN (fewer than two formulas) adds nothing, since nothing was
        compared; the reader must be told that nothing was.
    ordinary_up_to_d
        Spread up to which the disagreement of the same formulas is ordinary in eyes of this
        length, the 95th centile [D].

    Notes
    -----
    ``max(0, spread^2 - ordinary^2)``. What formulas ordinarily differ by is in the budget
    already, which was fitted to whole series; errors were found to grow only about where the
    disagreement leaves the 95th centile. Departures from print: none; nothing is printed.
    Source: own_derivation; that the factor before it is 1 is an assumption.

    Examples
    --------
    >>> round(float(excess_variance_d2(spread_d=0.5, ordinary_up_to_d=0.3)), 2)
    0.16
    >>> float(excess_variance_d2(spread_d=0.1, ordinary_up_to_d=0.3))
    0.0
    """
    spread = np.asarray(spread_d, dtype=np.float64)
    spread = np.where(np.isnan(spread), 0.0, spread)
    return np.maximum(0.0, spread**2 - np.asarray(ordinary_up_to_d, dtype=np.float64) ** 2)


def compare(*, refraction_d: ArrayLike, ordinary_up_to_d: ArrayLike) -> Disagreement:
    """Return everything that a set of formulas says together.

    Parameters
    ----------
    refraction_d
        Refraction that each formula predicts for the same lens, formulas last [D]; NaN where a
        formula does not apply.
    ordinary_up_to_d
        95th centile of the spread of these formulas in eyes of this length [D].

    Notes
    -----
    The odd one out is the formula furthest from the mean of the others, which is also the one
    furthest from the mean of all.

    Examples
    --------
    >>> said = compare(
    ...     refraction_d=[-0.30, -0.35, np.nan, 0.55],
    ...     ordinary_up_to_d=0.32,
    ... )
    >>> bool(said.unusual), int(said.odd_one_out)
    (True, 3)
    """
    given = np.asarray(refraction_d, dtype=np.float64)
    centre, spread = centre_d(refraction_d=given), spread_d(refraction_d=given)
    unusual = spread > np.asarray(ordinary_up_to_d, dtype=np.float64)
    distance = np.abs(given - centre[..., None])
    furthest = np.where(np.isnan(distance), -1.0, distance).argmax(axis=-1)
    return Disagreement(
        centre_d=centre,
        spread_d=spread,
        excess_variance_d2=excess_variance_d2(spread_d=spread, ordinary_up_to_d=ordinary_up_to_d),
        unusual=unusual,
        odd_one_out=np.where(unusual & (_count(given) > 2), furthest, -1),
    )


def _count(given: Array) -> Array:
    return np.asarray((~np.isnan(given)).sum(axis=-1), dtype=np.float64)
