"""The resistances of this set-up: from its cup test, else from a published span, saying which."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

import numpy as np

from zonule.formulas.fluidics import cup_test, units
from zonule.formulas.uncertainty.normal import quantile
from zonule.library.reading import table
from zonule.plan.machine_parts import Aspiration, Irrigation, Verdict
from zonule.practice.machine import CupTest

LIKE_HEIGHTS_CM: Final = 1.0
"""Readings nearer to each other than this are of one height."""


def mmhg_per_cmh2o() -> float:
    """Return the pressure of 1 cm of water.

    Examples
    --------
    >>> mmhg_per_cmh2o()
    0.73556
    """
    return float(table("fluidics")["units"]["mmhg_per_cmh2o"])


def log_sd_of(relative_sd: float) -> float:
    """Return the spread of the logarithm of a log-normal figure with a relative spread.

    Examples
    --------
    >>> round(log_sd_of(0.1), 4)
    0.0998
    """
    return math.sqrt(math.log1p(relative_sd**2))


def _span(name: str) -> tuple[float, float]:
    """Return the middle of a published span and the spread of its logarithm."""
    row = table("fluidics")[name]
    low, high = float(row["low_mmhg_per_ml_min"]), float(row["high_mmhg_per_ml_min"])
    end = float(quantile(0.5 + table("fluidics")["span"]["holds"] / 2.0))
    return math.sqrt(low * high), math.log(high / low) / (2.0 * end)


def irrigation_of(tests: Sequence[CupTest]) -> Irrigation:
    """Return the way in of a set-up.

    Examples
    --------
    >>> round(irrigation_of(()).linear_mmhg_per_ml_min, 3)
    0.175
    """
    if not tests:
        middle, log_sd = _span("irrigation")
        spread = middle * math.sqrt(math.expm1(log_sd**2))
        return Irrigation("published", middle, 0.0, spread, 0.0, 0.0)
    readings = _free_flows(tests)
    mean = cup_test.weighted_mean(
        values=readings["pressure_mmhg"] / readings["flow_ml_min"],
        sds=cup_test.ratio_sd(**readings),
    )
    heights = [one.height_cm for one in tests]
    if max(heights) - min(heights) < LIKE_HEIGHTS_CM:
        return _one("one_height", mean, len(tests))
    line = cup_test.resistance_line(**readings)
    steepness = float(line.square_mmhg_per_ml2_min2 / line.square_sd)
    limit = float(table("fluidics")["agreement"]["standard_scores"])
    if not abs(steepness) > limit:
        return _one("agree", mean, len(tests))
    if steepness < 0.0 or float(line.linear_mmhg_per_ml_min) <= 0.0:
        # Nobody knows which reading is the slip: the higher resistance gives the lower limit.
        highest = float((readings["pressure_mmhg"] / readings["flow_ml_min"]).max())
        return replace(_one("contradict", mean, len(tests)), linear_mmhg_per_ml_min=highest)
    linear, square, linear_sd, square_sd, covariance = (float(part) for part in line)
    return Irrigation("differ", linear, square, linear_sd, square_sd, covariance, len(tests))


def _one(verdict: Verdict, mean: cup_test.Mean, readings: int) -> Irrigation:
    value, spread = float(mean.value), float(mean.sd)
    return Irrigation(verdict, value, 0.0, spread, 0.0, 0.0, readings)


def _free_flows(tests: Sequence[CupTest]) -> dict[str, Any]:
    """Return height pressure and free flow of every reading, with their spreads."""
    usual, factor = table("fluidics")["reading"], mmhg_per_cmh2o()
    collected = np.array([one.collected_ml for one in tests])
    seconds = np.array([one.seconds for one in tests])
    height_sd = [_or(one.height_sd_cm, usual["height_sd_cm"]) for one in tests]
    collected_sd = [_or(one.collected_sd_ml, usual["collected_sd_ml"]) for one in tests]
    heights = [one.height_cm for one in tests]
    return {
        "pressure_mmhg": units.mmhg_from_cm(height_cm=heights, mmhg_per_cmh2o=factor),
        "flow_ml_min": cup_test.free_flow_ml_min(collected_ml=collected, seconds=seconds),
        "pressure_sd": units.mmhg_from_cm(height_cm=height_sd, mmhg_per_cmh2o=factor),
        "flow_sd": cup_test.free_flow_sd_ml_min(
            collected_ml=collected,
            seconds=seconds,
            collected_sd_ml=collected_sd,
            seconds_sd=usual["seconds_sd"],
        ),
    }


def _or(own: float | None, usual: float) -> float:
    return float(usual) if own is None else own


def aspiration_of(tests: Sequence[CupTest]) -> Aspiration:
    """Return the way out of a set-up.

    Examples
    --------
    >>> round(aspiration_of(()).mmhg_per_ml_min, 2)
    2.76
    """
    read = [
        (one.vacuum_shown_mmhg, one.aspiration_flow_ml_min, one.vacuum_sd_mmhg)
        for one in tests
        if one.vacuum_shown_mmhg is not None and one.aspiration_flow_ml_min is not None
    ]
    if not read:
        return Aspiration(*_span("aspiration"))
    usual = table("fluidics")["reading"]
    vacuum, flow = np.array([one[0] for one in read]), np.array([one[1] for one in read])
    spreads = cup_test.ratio_sd(
        pressure_mmhg=vacuum,
        flow_ml_min=flow,
        pressure_sd=[_or(one[2], usual["vacuum_sd_mmhg"]) for one in read],
        flow_sd=flow * usual["aspiration_flow_sd_share"],
    )
    mean = cup_test.weighted_mean(values=vacuum / flow, sds=spreads)
    limit = float(table("fluidics")["agreement"]["standard_scores"])
    return Aspiration(
        float(mean.value),
        log_sd_of(float(mean.sd / mean.value)),
        readings=len(read),
        agree=not float(mean.scatter) > limit,
    )
