"""Relative risks: they multiply the risk itself."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def risk_from_relative(*, baseline_risk: ArrayLike, ratios: ArrayLike) -> Array:
    """Return the risk that relative risks give.

    Parameters
    ----------
    baseline_risk
        Risk of the eye at every reference level, 0 to 1; shape of the axes before the ratios.
    ratios
        Relative risk of each level the eye has; last axis, multiplied. Unknown is NaN.

    Returns
    -------
    Array
        Risk, 0 to 1; NaN where an input is NaN or outside its range.

    Raises
    ------
    ValueError
        If a product goes above 1: relative risks cannot be multiplied that far, and no number
        is better than a false one.

    Notes
    -----
    Departures from print: none. References: chu2016oedema.

    Examples
    --------
    Macular oedema after rupture.

    >>> risk = risk_from_relative(baseline_risk=0.0117, ratios=[2.61])
    >>> round(100 * float(risk), 2)
    3.05
    """
    base = np.asarray(baseline_risk, dtype=np.float64)
    base = np.where((base >= 0.0) & (base <= 1.0), base, np.nan)
    every = np.asarray(ratios, dtype=np.float64)
    risk = np.asarray(base * np.prod(np.where(every > 0.0, every, np.nan), axis=-1))
    refuse_above_one(risk, "relative risks")
    return risk


def refuse_above_one(risk: Array, of: str) -> None:
    """Raise where a risk is above 1, with the figure.

    Raises
    ------
    ValueError
        With the highest risk found.

    Examples
    --------
    >>> refuse_above_one(np.array([0.4, 1.2]), "relative risks")
    Traceback (most recent call last):
        ...
    ValueError: relative risks give a risk of 1.2; it must be 1 or less; use a model in odds
    """
    with np.errstate(invalid="ignore"):
        above = risk > 1.0
    if np.any(above):
        highest = float(np.max(risk[above]))
        raise ValueError(
            f"{of} give a risk of {highest:.3g}; it must be 1 or less; use a model in odds"
        )
