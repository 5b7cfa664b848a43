"""The risk of the eye without a factor, where only the rate of a whole series is printed."""

from __future__ import annotations

from typing import Final, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.errors import NoSuchName
from zonule.formulas.risk.odds import expit, logit
from zonule.formulas.risk.relative import refuse_above_one
from zonule.formulas.uncertainty.roots import bracketed_root

Array = NDArray[np.float64]

Scale = Literal["odds", "relative_risk", "hazard"]
SCALES: Final[tuple[Scale, ...]] = get_args(Scale)
SUM_WITHIN: Final = 1e-6


def reference_risk(
    *, overall: ArrayLike, ratio: ArrayLike, share: ArrayLike, scale: Scale
) -> Array:
    """Return the risk of an eye without a factor, given that of a series some of which has it.

    Parameters
    ----------
    overall
        Rate of the whole series, 0 to 1.
    ratio
        Ratio of eyes with the factor to those without.
    share
        Share of the series with the factor, 0 to 1.
    scale
        What the ratio multiplies: ``odds``, ``relative_risk`` or ``hazard``.

    Returns
    -------
    Array
        Risk without the factor, broadcast; NaN where an input is NaN or outside its range.

    Raises
    ------
    NoSuchName
        If there is no such scale.
    ValueError
        If eyes with the factor would have a risk above 1.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    Suprachoroidal haemorrhage in eyes whose capsule held: 1% tear, odds 17.6 times as high.

    >>> risk = reference_risk(overall=0.000288, ratio=17.6, share=0.0101, scale="odds")
    >>> round(100 * float(risk), 4)
    0.0247
    """
    times, part = np.broadcast_arrays(
        np.asarray(ratio, dtype=np.float64), np.asarray(share, dtype=np.float64)
    )
    return reference_risk_of_mix(
        overall=overall,
        ratios=np.stack([np.ones_like(times), times], axis=-1),
        shares=np.stack([1.0 - part, part], axis=-1),
        scale=scale,
    )


def reference_risk_of_mix(
    *, overall: ArrayLike, ratios: ArrayLike, shares: ArrayLike, scale: Scale
) -> Array:
    """Return the risk at ratio 1 such that a mix of eyes has the rate of its series.

    Parameters
    ----------
    overall
        Rate of the whole series, 0 to 1; shape of the axes before the kinds of eye.
    ratios
        Product of ratios of each kind of eye; last axis.
    shares
        Share of each kind in the series; last axis; they sum to 1, or the risk is NaN.
    scale
        As in :func:`reference_risk`.

    Raises
    ------
    NoSuchName
        If there is no such scale.
    ValueError
        If relative risks give a kind of eye a risk above 1.

    Notes
    -----
    Departures from print: none; nothing is printed. References: own_derivation.

    Examples
    --------
    >>> risk = reference_risk_of_mix(
    ...     overall=0.0192, ratios=[1.0, 1.5, 3.0], shares=[0.7, 0.2, 0.1], scale="odds"
    ... )
    >>> round(100 * float(risk), 3)
    1.489
    """
    if scale not in SCALES:
        raise NoSuchName("scale of a ratio", scale, SCALES)
    rate = np.asarray(overall, dtype=np.float64)
    rate = np.where((rate > 0.0) & (rate < 1.0), rate, np.nan)
    times, part = _mix(ratios, shares)
    if scale == "relative_risk":
        return _relative(rate, times, part)
    return _in_odds(rate, times, part) if scale == "odds" else _in_hazard(rate, times, part)


def _mix(ratios: ArrayLike, shares: ArrayLike) -> tuple[Array, Array]:
    times, part = np.broadcast_arrays(
        np.asarray(ratios, dtype=np.float64), np.asarray(shares, dtype=np.float64)
    )
    whole = np.abs(part.sum(axis=-1, keepdims=True) - 1.0) <= SUM_WITHIN
    usable = whole & (part >= 0.0).all(axis=-1, keepdims=True)
    return np.where(usable & (times > 0.0), times, np.nan), part


def _relative(rate: Array, times: Array, part: Array) -> Array:
    risk = np.asarray(rate / (times * part).sum(axis=-1))
    refuse_above_one(np.asarray(risk[..., None] * times), "relative risks")
    return risk


def _in_odds(rate: Array, times: Array, part: Array) -> Array:
    up = np.log(times)

    def gap(value: Array) -> Array:
        found = (expit(logit=value[..., None] + up) * part).sum(axis=-1) - rate
        return np.asarray(found)

    def slope(value: Array) -> Array:
        risk = expit(logit=value[..., None] + up)
        return np.asarray((risk * (1.0 - risk) * part).sum(axis=-1))

    middle = logit(probability=rate)
    found = bracketed_root(
        gap, slope=slope, low=middle - up.max(axis=-1), high=middle - up.min(axis=-1)
    )
    return expit(logit=found)


def _in_hazard(rate: Array, times: Array, part: Array) -> Array:
    up = np.log(times)

    def gap(value: Array) -> Array:
        hazard = np.exp(value[..., None] + up)
        return np.asarray((-np.expm1(-hazard) * part).sum(axis=-1) - rate)

    def slope(value: Array) -> Array:
        hazard = np.exp(value[..., None] + up)
        return np.asarray((hazard * np.exp(-hazard) * part).sum(axis=-1))

    middle = np.log(-np.log1p(-rate))
    found = bracketed_root(
        gap, slope=slope, low=middle - up.max(axis=-1), high=middle - up.min(axis=-1)
    )
    return np.asarray(-np.expm1(-np.exp(found)))
