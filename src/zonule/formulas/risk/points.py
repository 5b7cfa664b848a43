"""Point scores: the sum of points, and the band it falls in."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def total(*, points: ArrayLike, present: ArrayLike) -> Array:
    """Return the sum of the points that an eye earns.

    Parameters
    ----------
    points
        Points of each row of the score; last axis.
    present
        1 where the eye has it, 0 where not, NaN where that is not known; last axis.

    Returns
    -------
    Array
        Sum; NaN where anything is not known, since unknown earns neither its points nor none.

    Notes
    -----
    Departures from print: none. References: muhtaseb2004score.

    Examples
    --------
    Dense lens, pseudoexfoliation, small pupil.

    >>> float(total(points=[3, 3, 1, 1], present=[1, 1, 1, 0]))
    7.0
    """
    given = np.asarray(points, dtype=np.float64) * _present(present)
    return np.asarray(given.sum(axis=-1))


def least_and_most(*, points: ArrayLike, present: ArrayLike) -> tuple[Array, Array]:
    """Return the fewest and the most points an eye may have, over what is not known.

    Parameters
    ----------
    points, present
        As in :func:`total`; points are 0 or more.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> few, many = least_and_most(points=[3, 1], present=[1.0, float("nan")])
    >>> float(few), float(many)
    (3.0, 4.0)
    """
    known, each = _present(present), np.asarray(points, dtype=np.float64)
    few = (each * np.where(np.isnan(known), 0.0, known)).sum(axis=-1)
    many = (each * np.where(np.isnan(known), 1.0, known)).sum(axis=-1)
    return np.asarray(few), np.asarray(many)


def band(*, points: ArrayLike, lows: ArrayLike) -> NDArray[np.intp]:
    """Return which band a sum of points falls in.

    Parameters
    ----------
    points
        Sums; whole and 0 or more.
    lows
        Lowest points of each band, rising, the first 0.

    Returns
    -------
    Array
        Index of the band from 0; -1 where the sum is not known or below the first band.

    Notes
    -----
    Departures from print: none. References: muhtaseb2004score.

    Examples
    --------
    >>> band(points=[0, 2, 5, 7, float("nan")], lows=[0, 1, 3, 6]).tolist()
    [0, 1, 2, 3, -1]
    """
    sums = np.asarray(points, dtype=np.float64)
    edges = np.asarray(lows, dtype=np.float64)
    found = np.searchsorted(edges, np.where(np.isnan(sums), -np.inf, sums), side="right") - 1
    return np.asarray(found, dtype=np.intp)


def _present(present: ArrayLike) -> Array:
    value = np.asarray(present, dtype=np.float64)
    return np.where((value == 0.0) | (value == 1.0), value, np.nan)
