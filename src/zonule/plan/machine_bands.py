"""Bands of the machine: chamber pressure, and the highest vacuum, at one infusion.

Closed forms of a lumped model. Brackets, not a prescription, and not validated.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from zonule.formulas.fluidics import steady, surge, units
from zonule.formulas.fluidics.cup_test import Line, line_sd
from zonule.formulas.fluidics.units import as_array
from zonule.formulas.uncertainty.normal import quantile
from zonule.library.reading import table
from zonule.plan.cup_test import log_sd_of, mmhg_per_cmh2o
from zonule.plan.machine_parts import Irrigation, Setup, Spread, VacuumLimit


def _spread(
    by_resistance: Callable[[float], float],
    *,
    by_level_sd: float,
    within: tuple[float, float] = (-math.inf, math.inf),
) -> Spread:
    """Return a figure with its bands, from what it is at a standard score of the resistance.

    How the eye lies adds to either side, root of the squares; exact where one of both is nil.
    """
    middle, (lowest, highest) = by_resistance(0.0), within

    def at(score: float) -> float:
        away = math.hypot(by_resistance(score) - middle, score * by_level_sd)
        return min(max(middle + math.copysign(away, score), lowest), highest)

    inner, outer = float(quantile(0.75)), float(quantile(0.95))
    return Spread(at(0.0), (at(-inner), at(inner)), (at(-outer), at(outer)))


def _level_sd_mmhg() -> float:
    return float(table("fluidics")["eye_level"]["sd_cm"]) * mmhg_per_cmh2o()


def resistance_log_sd(irrigation: Irrigation, flow_ml_min: float) -> float:
    """Return the spread of the logarithm of irrigation resistance at a flow."""
    line = Line(
        as_array(irrigation.linear_mmhg_per_ml_min),
        as_array(irrigation.square_mmhg_per_ml2_min2),
        as_array(irrigation.linear_sd),
        as_array(irrigation.square_sd),
        as_array(irrigation.covariance),
    )
    resistance = (
        irrigation.linear_mmhg_per_ml_min + irrigation.square_mmhg_per_ml2_min2 * flow_ml_min
    )
    return log_sd_of(float(line_sd(flow_ml_min=flow_ml_min, line=line)) / resistance)


def steady_mmhg(
    irrigation: Irrigation, *, pressure_mmhg: float, flow_ml_min: float, scale: float = 1.0
) -> float:
    """Return the pressure in the chamber at a steady flow, its resistance scaled."""
    return float(
        steady.chamber_pressure_mmhg(
            height_pressure_mmhg=pressure_mmhg,
            flow_ml_min=flow_ml_min,
            linear_mmhg_per_ml_min=irrigation.linear_mmhg_per_ml_min * scale,
            square_mmhg_per_ml2_min2=irrigation.square_mmhg_per_ml2_min2 * scale,
            leak_ml_min_per_mmhg=table("fluidics")["leak"]["ml_min_per_mmhg"],
        )
    )


def chamber_at(setup: Setup, *, infusion_cm: float, flow_ml_min: float) -> Spread:
    """Return the pressure to expect in the chamber, with its bands.

    Parameters
    ----------
    setup
        The set-up.
    infusion_cm
        Height above the eye.
    flow_ml_min
        Aspiration flow.

    Examples
    --------
    >>> from zonule.plan.machine_physics import setup_of
    >>> from zonule.practice.machine import Machine
    >>> found = chamber_at(setup_of(Machine()), infusion_cm=75.0, flow_ml_min=25.0)
    >>> round(found.middle, 1), [round(end, 1) for end in found.nine_in_ten]
    (50.8, [46.0, 54.0])
    """
    irrigation, pressure = setup.irrigation, infusion_cm * mmhg_per_cmh2o()
    log_sd = resistance_log_sd(irrigation, flow_ml_min)
    return _spread(
        lambda score: steady_mmhg(
            irrigation,
            pressure_mmhg=pressure,
            flow_ml_min=flow_ml_min,
            scale=math.exp(-score * log_sd),
        ),
        by_level_sd=_level_sd_mmhg(),
    )


def vacuum_limit(setup: Setup, *, infusion_cm: float) -> VacuumLimit:
    """Return the highest vacuum whose worst floor is still allowed.

    Parameters
    ----------
    setup
        The set-up.
    infusion_cm
        Height above the eye.

    Examples
    --------
    >>> from zonule.plan.machine_physics import setup_of
    >>> from zonule.practice.machine import Machine
    >>> found = vacuum_limit(setup_of(Machine()), infusion_cm=60.0).highest_mmhg
    >>> round(found.middle), [round(end) for end in found.nine_in_ten]
    (528, [245, 600])
    """
    irrigation, allowed = setup.irrigation, setup.allowed_floor_mmhg
    pressure = infusion_cm * mmhg_per_cmh2o()
    way = {
        "height_pressure_mmhg": pressure,
        "allowed_floor_mmhg": allowed,
        "linear_mmhg_per_ml_min": irrigation.linear_mmhg_per_ml_min,
        "square_mmhg_per_ml2_min2": irrigation.square_mmhg_per_ml2_min2,
    }
    out = setup.aspiration
    middle = float(surge.highest_vacuum_mmhg(**way, aspiration_mmhg_per_ml_min=out.mmhg_per_ml_min))
    if not middle > 0.0:
        return VacuumLimit(infusion_cm, Spread(0.0, (0.0, 0.0), (0.0, 0.0)))
    flow = (middle + allowed) / out.mmhg_per_ml_min
    log_sd = float(
        surge.highest_vacuum_log_sd(
            **way,
            irrigation_log_sd=resistance_log_sd(irrigation, flow),
            aspiration_log_sd=out.log_sd,
        )
    )
    steepness = irrigation.linear_mmhg_per_ml_min + 2.0 * irrigation.square_mmhg_per_ml2_min2 * flow
    highest = _spread(
        lambda score: (middle + allowed) * math.exp(score * log_sd) - allowed,
        by_level_sd=out.mmhg_per_ml_min / steepness * _level_sd_mmhg(),
        within=(0.0, float(table("fluidics")["highest_vacuum"]["shown_up_to_mmhg"])),
    )
    return VacuumLimit(infusion_cm, highest)


def infusion_for_vacuum_cm(setup: Setup, *, vacuum_mmhg: float) -> float:
    """Return the height above the eye from which on a vacuum keeps the allowed floor.

    Parameters
    ----------
    setup
        The set-up.
    vacuum_mmhg
        Vacuum in the line when the tip clears.

    Examples
    --------
    >>> from zonule.plan.machine_physics import setup_of
    >>> from zonule.practice.machine import Machine
    >>> setup = setup_of(Machine())
    >>> limit = vacuum_limit(setup, infusion_cm=60.0).highest_mmhg.middle
    >>> round(infusion_for_vacuum_cm(setup, vacuum_mmhg=limit), 6)
    60.0
    """
    rush = (setup.allowed_floor_mmhg + vacuum_mmhg) / setup.aspiration.mmhg_per_ml_min
    needed = steady.height_pressure_for_mmhg(
        chamber_pressure_mmhg=setup.allowed_floor_mmhg,
        flow_ml_min=rush,
        linear_mmhg_per_ml_min=setup.irrigation.linear_mmhg_per_ml_min,
        square_mmhg_per_ml2_min2=setup.irrigation.square_mmhg_per_ml2_min2,
    )
    return float(units.cm_from_mmhg(pressure_mmhg=needed, mmhg_per_cmh2o=mmhg_per_cmh2o()))
