"""Units side by side that differ by more than chance: how much more, and what it widens."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


class Overdispersion(NamedTuple):
    """How much units differ beyond chance."""

    z: Array
    """Of each unit, as chance alone would have it."""
    phi_raw: float
    phi: float
    """After the tails were drawn in."""
    tau2: float
    """Variance between units, for limits that add it."""
    z_multiplied: Array
    z_added: Array


def overdispersion(
    *, observed: ArrayLike, expected: ArrayLike, drawn_in: float = 0.10
) -> Overdispersion:
    """Return how much units differ beyond chance, by counts over what was expected.

    Parameters
    ----------
    observed, expected
        Events of each unit, and those expected; one axis.
    drawn_in
        Share of each tail that is drawn in to its quantile before the spread is taken. Quantiles
        interpolate linearly, which changes the result: another rule gives another spread.

    Notes
    -----
    Departures from print: the formulas are quoted by others; the paper itself was not seen.
    References: spiegelhalter2005funnel.

    Examples
    --------
    >>> found = overdispersion(observed=[2, 9, 1, 14], expected=[4.0, 5.0, 3.0, 8.0])
    >>> found.z.round(2).tolist()
    [-1.0, 1.79, -1.15, 2.12]
    """
    count, mean = np.asarray(observed, np.float64), np.asarray(expected, np.float64)
    ratio, variance = count / mean, 1.0 / mean
    z = (ratio - 1.0) / np.sqrt(variance)
    within = np.clip(z, *np.quantile(z, [drawn_in, 1.0 - drawn_in]))
    units, phi = len(z), float(np.mean(within**2))
    weights = 1.0 / variance
    beyond = units * phi - (units - 1.0)
    tau2 = max(beyond / (weights.sum() - (weights**2).sum() / weights.sum()), 0.0)
    widened = np.sqrt(phi) if beyond > 0.0 else 1.0
    return Overdispersion(
        z=z,
        phi_raw=float(np.mean(z**2)),
        phi=phi,
        tau2=float(tau2),
        z_multiplied=np.asarray(z / widened),
        z_added=np.asarray((ratio - 1.0) / np.sqrt(variance + tau2)),
    )
