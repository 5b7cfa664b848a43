"""Charts of results case by case: the risk-adjusted sum, and the chart of a skill being learnt."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def weight(*, probability: ArrayLike, event: ArrayLike, odds_ratio: ArrayLike) -> Array:
    """Return what one case adds to a risk-adjusted chart.

    The log likelihood ratio of odds ``odds_ratio`` times those expected against those expected.

    Parameters
    ----------
    probability
        Expected risk of each case, from findings of the eye alone; 0 to 1.
    event
        1 where it happened, 0 where not.
    odds_ratio
        What the chart looks for: 2 for twice the odds, 1/2 for half of them.

    Notes
    -----
    Departures from print: none. References: steiner2000cusum; one printed weight of
    rigdon2015cusum carries a slip of two digits.

    Examples
    --------
    >>> weight(probability=0.099124, event=0, odds_ratio=0.5).round(5).item()
    0.05083
    """
    risk, ratio = np.asarray(probability, dtype=np.float64), np.asarray(odds_ratio, np.float64)
    return np.asarray(
        np.asarray(event, np.float64) * np.log(ratio) - np.log1p(risk * (ratio - 1.0))
    )


def path(*, probability: ArrayLike, event: ArrayLike, odds_ratio: float) -> Array:
    """Return a risk-adjusted chart after each case: the sum of weights, never below 0.

    Parameters
    ----------
    probability, event, odds_ratio
        As in :func:`weight`, in the order of the cases; last axis.

    Notes
    -----
    Departures from print: none. References: steiner2000cusum.

    Examples
    --------
    >>> path(probability=[0.05, 0.05, 0.05], event=[0, 1, 0], odds_ratio=2.0).round(3).tolist()
    [0.0, 0.644, 0.596]
    """
    added = weight(probability=probability, event=event, odds_ratio=odds_ratio)
    height = np.zeros(added.shape[:-1])
    found = np.empty_like(added)
    for at in range(added.shape[-1]):
        height = np.maximum(height + added[..., at], 0.0)
        found[..., at] = height
    return found


class Competence(NamedTuple):
    """The chart of a skill: what a success takes off, and how far both limits lie."""

    step: float
    upper: float
    lower: float
    cases_without_failure: int
    """How many cases in a row without a failure reach the lower limit."""


def competence(*, acceptable: float, unacceptable: float, alpha: float, beta: float) -> Competence:
    """Return the chart that tells an acceptable failure rate from an unacceptable one.

    Parameters
    ----------
    acceptable, unacceptable
        Failure rates, 0 to 1.
    alpha, beta
        Chances of calling an acceptable one unacceptable, and the other way round.

    Notes
    -----
    Departures from print: none. References: vedana2017learning for the rates; the formulas are
    the usual sequential test.

    Examples
    --------
    >>> found = competence(acceptable=0.05, unacceptable=0.10, alpha=0.10, beta=0.10)
    >>> round(found.step, 4), round(found.upper, 3), found.cases_without_failure
    (0.0724, 2.941, 41)
    """
    failing = np.log(unacceptable / acceptable)
    passing = np.log((1.0 - acceptable) / (1.0 - unacceptable))
    scale = failing + passing
    step = passing / scale
    lower = np.log((1.0 - alpha) / beta) / scale
    upper = np.log((1.0 - beta) / alpha) / scale
    return Competence(float(step), float(upper), float(lower), int(np.ceil(lower / step)))
