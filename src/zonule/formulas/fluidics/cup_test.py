"""Resistances of a set-up from a measuring cup: free flow at a height, vacuum at a free flow.

Free flow into the air spends the whole height on the irrigation path, so that height pressure
over flow is its resistance R there. Over several heights R is a line in flow, R = a + b F, which
is drop = a F + b F². Each reading has its spread; the spread of R about that line is
sqrt(s_P² + (a + 2 b F)² s_F²) / F, and the line is fitted with weights of one over its square.
Departures from print: the equations of jeng2001chamber were not seen; worked out here.
References: own_derivation, olson_fluidics (that set flow and real flow differ).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.fluidics.units import Array, as_array


class Line(NamedTuple):
    """Resistance as a line in flow, with the spread of both parts."""

    linear_mmhg_per_ml_min: Array
    square_mmhg_per_ml2_min2: Array
    linear_sd: Array
    square_sd: Array
    covariance: Array


class Mean(NamedTuple):
    """One figure from several readings."""

    value: Array
    sd: Array
    scatter: Array
    """Root of chi² per degree of freedom: about 1 where the readings agree within their spreads,
    NaN for a single reading."""


@np.errstate(all="ignore")
def free_flow_ml_min(*, collected_ml: ArrayLike, seconds: ArrayLike) -> Array:
    """Return the flow of what was collected in a time [mL/min].

    Parameters
    ----------
    collected_ml
        Collected in the cup [mL].
    seconds
        Time [s].

    Examples
    --------
    >>> float(free_flow_ml_min(collected_ml=62.0, seconds=30.0))
    124.0
    """
    return as_array(60.0 * as_array(collected_ml) / as_array(seconds))


@np.errstate(all="ignore")
def free_flow_sd_ml_min(
    *,
    collected_ml: ArrayLike,
    seconds: ArrayLike,
    collected_sd_ml: ArrayLike,
    seconds_sd: ArrayLike,
) -> Array:
    """Return the spread of that flow from the spreads of its two readings [mL/min].

    Parameters
    ----------
    collected_ml, seconds
        As in :func:`free_flow_ml_min`.
    collected_sd_ml, seconds_sd
        Spread of each reading.

    Examples
    --------
    >>> readings = dict(collected_ml=60.0, seconds=30.0, collected_sd_ml=1.8, seconds_sd=1.2)
    >>> float(free_flow_sd_ml_min(**readings))
    6.0
    """
    collected, time = as_array(collected_ml), as_array(seconds)
    relative = np.hypot(as_array(collected_sd_ml) / collected, as_array(seconds_sd) / time)
    return as_array(free_flow_ml_min(collected_ml=collected, seconds=time) * relative)


@np.errstate(all="ignore")
def ratio_sd(
    *, pressure_mmhg: ArrayLike, flow_ml_min: ArrayLike, pressure_sd: ArrayLike, flow_sd: ArrayLike
) -> Array:
    """Return the spread of pressure over flow [mmHg per mL/min].

    Parameters
    ----------
    pressure_mmhg, flow_ml_min
        The two readings.
    pressure_sd, flow_sd
        Their spreads.

    Examples
    --------
    >>> float(ratio_sd(pressure_mmhg=50.0, flow_ml_min=100.0, pressure_sd=3.0, flow_sd=8.0))
    0.05
    """
    flow = as_array(flow_ml_min)
    ratio = as_array(pressure_mmhg) / flow
    return as_array(np.hypot(as_array(pressure_sd), ratio * as_array(flow_sd)) / flow)


@np.errstate(all="ignore")
def weighted_mean(*, values: ArrayLike, sds: ArrayLike) -> Mean:
    """Return the mean of readings along the last axis, weighted by one over their squared spread.

    Parameters
    ----------
    values, sds
        The readings and their spreads.

    Returns
    -------
    Mean
        Its spread is widened by the scatter where the readings disagree more than their spreads.

    Examples
    --------
    >>> found = weighted_mean(values=[0.30, 0.34], sds=[0.01, 0.01])
    >>> round(float(found.value), 2), round(float(found.scatter), 2), round(float(found.sd), 3)
    (0.32, 2.83, 0.02)
    """
    value, weight = as_array(values), as_array(sds) ** -2.0
    total = np.sum(weight, axis=-1)
    mean = np.sum(weight * value, axis=-1) / total
    off = np.sum(weight * (value - mean[..., None]) ** 2, axis=-1)
    scatter = np.sqrt(off / (value.shape[-1] - 1)) if value.shape[-1] > 1 else mean * np.nan
    return Mean(as_array(mean), as_array(np.fmax(scatter, 1.0) / np.sqrt(total)), as_array(scatter))


@np.errstate(all="ignore")
def resistance_line(
    *, pressure_mmhg: ArrayLike, flow_ml_min: ArrayLike, pressure_sd: ArrayLike, flow_sd: ArrayLike
) -> Line:
    """Return resistance as a line in flow from readings at two or more heights, last axis.

    Parameters
    ----------
    pressure_mmhg
        Height pressure of each reading [mmHg].
    flow_ml_min
        Free flow of each reading [mL/min].
    pressure_sd, flow_sd
        Their spreads.

    Returns
    -------
    Line
        NaN where all flows are alike: one height cannot tell the two parts from each other.
        With two readings the line goes through both.

    Examples
    --------
    >>> flows = np.array([100.0, 160.0])
    >>> found = resistance_line(
    ...     pressure_mmhg=0.3 * flows + 0.0005 * flows**2, flow_ml_min=flows,
    ...     pressure_sd=0.7, flow_sd=3.0,
    ... )
    >>> round(float(found.linear_mmhg_per_ml_min), 3), round(float(found[1]), 5)
    (0.3, 0.0005)
    """
    pressure, flow = as_array(pressure_mmhg), as_array(flow_ml_min)
    s_pressure, s_flow = as_array(pressure_sd), as_array(flow_sd)
    linear, square = pressure / flow, np.zeros_like(flow)
    fitted = _fitted(pressure, flow, s_pressure, s_flow, linear + 2.0 * square * flow)
    steeper = fitted.linear_mmhg_per_ml_min[..., None] + (
        2.0 * fitted.square_mmhg_per_ml2_min2[..., None] * flow
    )
    return _fitted(pressure, flow, s_pressure, s_flow, steeper)


def _fitted(
    pressure: Array, flow: Array, pressure_sd: Array, flow_sd: Array, steepness: Array
) -> Line:
    """Fit the line with weights for a given steepness of drop over flow."""
    weight = (flow / np.hypot(pressure_sd, steepness * flow_sd)) ** 2
    resistance = pressure / flow
    total = np.sum(weight, axis=-1)
    middle = np.sum(weight * flow, axis=-1) / total
    away = flow - middle[..., None]
    wide = np.sum(weight * away**2, axis=-1)
    square = np.where(wide > 0.0, np.sum(weight * away * resistance, axis=-1) / wide, np.nan)
    height = np.sum(weight * resistance, axis=-1) / total
    return Line(
        as_array(height - square * middle),
        as_array(square),
        as_array(np.sqrt(1.0 / total + middle**2 / wide)),
        as_array(np.sqrt(1.0 / wide)),
        as_array(-middle / wide),
    )


def line_sd(*, flow_ml_min: ArrayLike, line: Line) -> Array:
    """Return the spread of the resistance that a line gives at a flow [mmHg per mL/min].

    Parameters
    ----------
    flow_ml_min
        Flow [mL/min].
    line
        As fitted.

    Examples
    --------
    >>> flat = Line(as_array(0.3), as_array(0.0), as_array(0.03), as_array(0.0), as_array(0.0))
    >>> float(line_sd(flow_ml_min=20.0, line=flat))
    0.03
    """
    flow = as_array(flow_ml_min)
    variance = line.linear_sd**2 + 2.0 * flow * line.covariance + (flow * line.square_sd) ** 2
    return as_array(np.sqrt(np.maximum(variance, 0.0)))
