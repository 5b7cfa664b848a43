"""Odds and log odds: the scale on which a logistic model multiplies and shifts."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def from_probability(*, probability: ArrayLike) -> Array:
    """Return odds.

    Parameters
    ----------
    probability
        0 to 1; outside NaN.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> from_probability(probability=[0.0, 0.2, 0.5, 1.0]).tolist()
    [0.0, 0.25, 1.0, inf]
    """
    share = _share(probability)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(share / (1.0 - share))


def to_probability(*, odds: ArrayLike) -> Array:
    """Return the probability that odds stand for.

    Parameters
    ----------
    odds
        0 and above; negative NaN.

    Notes
    -----
    Departures from print: none. References: narendran2009rupture.

    Examples
    --------
    >>> round(float(to_probability(odds=0.00736)), 5)
    0.00731
    """
    value = np.asarray(odds, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(value >= 0.0, 1.0 / (1.0 + 1.0 / value), np.nan)


def logit(*, probability: ArrayLike) -> Array:
    """Return the natural logarithm of the odds; −inf at 0, inf at 1, outside NaN.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> round(float(logit(probability=0.0192)), 4)
    -3.9335
    """
    share = _share(probability)
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(share) - np.log1p(-share))


def expit(*, logit: ArrayLike) -> Array:
    """Return the probability of a logit, exact in both tails.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> expit(logit=[-1000.0, 0.0, 1000.0]).tolist()
    [0.0, 0.5, 1.0]
    """
    value = np.asarray(logit, dtype=np.float64)
    with np.errstate(all="ignore"):
        return np.asarray(np.exp(-np.logaddexp(0.0, -value)))


def risk_from_odds(*, baseline_odds: ArrayLike, ratios: ArrayLike) -> Array:
    """Return the risk that a logistic model gives.

    Parameters
    ----------
    baseline_odds
        Odds of the eye at every reference level; shape of the axes before the ratios.
    ratios
        Odds ratio of each level the eye has; last axis, multiplied. A level that is not known is
        NaN, never 1, and makes the risk NaN.

    Returns
    -------
    Array
        Risk, 0 to 1; NaN where odds or a ratio are not above 0.

    Notes
    -----
    Departures from print: none; the adjusted ratios are multiplied and applied to the baseline
    odds, as in narendran2009rupture. References: narendran2009rupture.

    Examples
    --------
    A man of 84 with a brunescent lens and a small pupil.

    >>> risk = risk_from_odds(baseline_odds=0.00736, ratios=[1.58, 1.28, 2.99, 1.45])
    >>> round(100 * float(risk), 3)
    6.062
    """
    every = _positive(ratios)
    return to_probability(odds=_positive(baseline_odds) * np.prod(every, axis=-1))


def shift_to_rate(*, rate: ArrayLike, from_rate: ArrayLike) -> Array:
    """Return the shift of the log odds that brings a model from one overall rate to another.

    Parameters
    ----------
    rate
        The new rate.
    from_rate
        The rate of the series the model was made on.

    Notes
    -----
    Holds for the same case mix, and nearly: the log odds of a mean are not the mean of log odds.
    Departures from print: nothing is printed. References: own_derivation.

    Examples
    --------
    >>> round(float(shift_to_rate(rate=0.0069, from_rate=0.0192)), 4)
    -1.0359
    """
    return logit(probability=rate) - logit(probability=from_rate)


def shifted(*, probability: ArrayLike, shift_logit: ArrayLike) -> Array:
    """Return a risk after its log odds have been shifted.

    Parameters
    ----------
    probability
        Risk before.
    shift_logit
        What is added to the log odds.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> round(float(shifted(probability=0.0192, shift_logit=-1.0359)), 4)
    0.0069
    """
    return expit(logit=logit(probability=probability) + np.asarray(shift_logit, dtype=np.float64))


def _share(probability: ArrayLike) -> Array:
    value = np.asarray(probability, dtype=np.float64)
    return np.where((value >= 0.0) & (value <= 1.0), value, np.nan)


def _positive(given: ArrayLike) -> Array:
    value = np.asarray(given, dtype=np.float64)
    return np.where(value > 0.0, value, np.nan)
