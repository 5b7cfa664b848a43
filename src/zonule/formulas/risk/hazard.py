"""Hazard ratios: they multiply the cumulative hazard, not the risk."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def risk_from_hazard(*, cumulative_risk: ArrayLike, ratios: ArrayLike) -> Array:
    """Return the cumulative risk that hazard ratios give.

    Parameters
    ----------
    cumulative_risk
        Share of eyes at every reference level that have had the event by the time asked about,
        0 to 1; shape of the axes before the ratios.
    ratios
        Hazard ratio of each level the eye has; last axis, multiplied. Unknown is NaN.

    Returns
    -------
    Array
        ``1 - (1 - F0) ** product``; NaN where an input is NaN or outside its range.

    Notes
    -----
    Hazards stand in one proportion throughout. Departures from print: nothing is printed; the
    usual relation. References: petousis2016detachment.

    Examples
    --------
    Retinal detachment within 7 years where the capsule tore and vitreous was lost.

    >>> risk = risk_from_hazard(cumulative_risk=0.0030, ratios=[12.83])
    >>> round(100 * float(risk), 1)
    3.8
    """
    base = np.asarray(cumulative_risk, dtype=np.float64)
    base = np.where((base >= 0.0) & (base <= 1.0), base, np.nan)
    every = np.asarray(ratios, dtype=np.float64)
    product = np.prod(np.where(every > 0.0, every, np.nan), axis=-1)
    with np.errstate(divide="ignore"):
        # Through logarithms: a risk far below 1 keeps all its digits.
        return np.asarray(-np.expm1(product * np.log1p(-base)))
