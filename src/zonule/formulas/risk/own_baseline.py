"""One number learned from a surgeon's own cases: how far their odds lie from the model's.

``logit p' = logit p + d`` with ``d ~ N(0, spread²)`` before any case. Given the expected risks, how
many events there were says all that the outcomes say about d. The posterior is taken on a grid:
with few events it leans, and a normal about its peak would not.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas.risk.odds import expit, logit
from zonule.formulas.uncertainty.roots import bracketed_root

Array = NDArray[np.float64]

SPREAD: Final = 0.5
"""Between surgeons, on the log odds; an assumption: no published figure was found. 95 of 100
surgeons then lie between 0.38 and 2.66 times the model's odds."""
POINTS: Final = 401
REACH: Final = 9.0
"""Half-width of the grid in spreads of a normal about the peak."""


class Posterior(NamedTuple):
    """What is known of the shift: points on the last axis, and the weight of each."""

    shift: Array
    weight: Array
    """They sum to 1."""
    mode: Array

    @property
    def mean(self) -> Array:
        """Mean of the shift."""
        return np.asarray((self.shift * self.weight).sum(axis=-1))

    @property
    def sd(self) -> Array:
        """Standard deviation of the shift."""
        off = self.shift - self.mean[..., None]
        return np.asarray(np.sqrt((off**2 * self.weight).sum(axis=-1)))


class Shown(NamedTuple):
    """A risk as it is shown: its mean over the posterior and the ends of a band."""

    mean: Array
    low: Array
    high: Array


def posterior(
    *,
    probability: ArrayLike,
    cases: ArrayLike = 1.0,
    events: ArrayLike,
    spread: ArrayLike = SPREAD,
) -> Posterior:
    """Return what a surgeon's own cases say of their shift.

    Parameters
    ----------
    probability
        Expected risk of each case, or of each group of cases with one risk; last axis. From
        findings of the eye alone: a model that already holds this surgeon's grade would count
        the surgeon twice.
    cases
        How many cases each group holds; broadcasts with ``probability``.
    events
        How many events there were in all; shape of the axes before the groups.
    spread
        Spread of the shift among surgeons before any case [log odds].

    Returns
    -------
    Posterior
        NaN where an input is NaN or outside its range, or there are more events than cases.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation; the spread
    own_assumption.

    Examples
    --------
    Five events in 200 cases that the model puts at 1.01% each.

    >>> found = posterior(probability=[0.0101], cases=200, events=5)
    >>> round(float(found.mode), 3), round(float(found.mean), 3)
    (0.457, 0.428)
    """
    risk, count = np.broadcast_arrays(
        np.asarray(probability, dtype=np.float64), np.asarray(cases, dtype=np.float64)
    )
    risk = np.where((risk > 0.0) & (risk < 1.0) & (count >= 0.0), risk, np.nan)
    base, total = logit(probability=risk), np.asarray(count.sum(axis=-1))
    met, tau = np.asarray(events, dtype=np.float64), np.asarray(spread, dtype=np.float64)
    met = np.where((met >= 0.0) & (met <= total), met, np.nan)
    variance = np.where(tau > 0.0, tau, np.nan) ** 2
    mode, width = _peak(base, count, met, variance)
    grid = mode[..., None] + width[..., None] * np.linspace(-REACH, REACH, POINTS)
    log_weight = _log_posterior(grid, base, count, met, variance)
    weight = np.exp(log_weight - log_weight.max(axis=-1, keepdims=True))
    return Posterior(shift=grid, weight=weight / weight.sum(axis=-1, keepdims=True), mode=mode)


def _peak(base: Array, count: Array, met: Array, variance: Array) -> tuple[Array, Array]:
    """Return where the posterior peaks, and the spread of a normal with its curvature there."""

    def rising(value: Array) -> Array:
        expected = (count * expit(logit=base + value[..., None])).sum(axis=-1)
        return np.asarray(expected - met + value / variance)

    def curvature(value: Array) -> Array:
        risk = expit(logit=base + value[..., None])
        return np.asarray((count * risk * (1.0 - risk)).sum(axis=-1) + 1.0 / variance)

    # Every case an event, or none, pulls no further than this against the prior.
    high = np.asarray(met * variance)
    low = np.asarray((met - count.sum(axis=-1)) * variance)
    # A bracket that is not known keeps the root from being taken for known.
    unknown = 0.0 * base.sum(axis=-1)
    low, high = np.broadcast_arrays(low + unknown, high + unknown)
    mode = bracketed_root(rising, slope=curvature, low=low, high=high)
    return mode, 1.0 / np.sqrt(curvature(mode))


def _log_posterior(grid: Array, base: Array, count: Array, met: Array, variance: Array) -> Array:
    with np.errstate(all="ignore"):
        each = np.logaddexp(0.0, base[..., None] + grid[..., None, :])
    spared = count[..., None] * each
    prior = grid**2 / (2.0 * np.asarray(variance)[..., None])
    return np.asarray(met[..., None] * grid - spared.sum(axis=-2) - prior)


def quantile(*, posterior: Posterior, probability: ArrayLike) -> Array:
    """Return quantiles of the shift.

    Parameters
    ----------
    posterior
        Of one surgeon or of many.
    probability
        0 to 1; one value, or one for each surgeon.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> found = posterior(probability=[0.0101], cases=200, events=0)
    >>> [round(float(quantile(posterior=found, probability=p)), 2) for p in (0.05, 0.5, 0.95)]
    [-1.1, -0.37, 0.31]
    """
    below = np.cumsum(posterior.weight, axis=-1) - 0.5 * posterior.weight
    wanted = np.broadcast_to(np.asarray(probability, dtype=np.float64), below.shape[:-1])
    upper = np.clip((below < wanted[..., None]).sum(axis=-1), 1, below.shape[-1] - 1)[..., None]
    ends = [
        np.take_along_axis(part, upper - at, axis=-1)[..., 0]
        for part in (below, posterior.shift)
        for at in (1, 0)
    ]
    first, last, from_shift, to_shift = ends
    with np.errstate(invalid="ignore", divide="ignore"):
        along = np.clip((wanted - first) / (last - first), 0.0, 1.0)
    return np.asarray(from_shift + along * (to_shift - from_shift))


def shown_risk(*, probability: ArrayLike, posterior: Posterior, level: float = 0.90) -> Shown:
    """Return a risk with a surgeon's own baseline, and what is not known of it.

    Parameters
    ----------
    probability
        Risk that the model gives the eye; broadcasts against the surgeons.
    posterior
        Of one surgeon or of many.
    level
        Share that the band holds.

    Returns
    -------
    Shown
        Mean over the posterior and both ends of the band, broadcast.

    Notes
    -----
    The band holds what is not known of the surgeon's shift, and nothing of what is not known of
    the model. Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> own = posterior(probability=[0.0101], cases=200, events=5)
    >>> risk = shown_risk(probability=0.06, posterior=own)
    >>> [round(100 * float(part), 1) for part in risk]
    [9.4, 4.9, 15.1]
    """
    base = logit(probability=probability)
    every = expit(logit=base[..., None] + posterior.shift)
    ends = [
        expit(logit=base + quantile(posterior=posterior, probability=share))
        for share in (0.5 - 0.5 * level, 0.5 + 0.5 * level)
    ]
    return Shown(np.asarray((every * posterior.weight).sum(axis=-1)), ends[0], ends[1])


def own_weight(
    *, probability: ArrayLike, cases: ArrayLike = 1.0, spread: ArrayLike = SPREAD
) -> Array:
    """Return how far own cases count against the model, 0 to 1.

    Parameters
    ----------
    probability, cases, spread
        As in :func:`posterior`.

    Notes
    -----
    Information of the cases over that of cases and prior together, at the model's own risks.
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> own_weight(probability=[[0.014]], cases=[[50], [200], [3000]]).round(2).tolist()
    [0.15, 0.41, 0.91]
    """
    risk = np.asarray(probability, dtype=np.float64)
    held = (np.asarray(cases, dtype=np.float64) * risk * (1.0 - risk)).sum(axis=-1)
    told = held * np.asarray(spread, dtype=np.float64) ** 2
    return np.asarray(told / (1.0 + told))
