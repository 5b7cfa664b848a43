"""The machine in figures: what to set, what to expect in the chamber, the highest vacuum, heat.

Closed forms of a lumped model. Brackets, not a prescription, and not validated.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from zonule.formulas.fluidics import heat, units
from zonule.library.reading import table
from zonule.plan.cup_test import aspiration_of, irrigation_of, mmhg_per_cmh2o
from zonule.plan.machine_bands import (
    chamber_at,
    infusion_for_vacuum_cm,
    steady_mmhg,
    vacuum_limit,
)
from zonule.plan.machine_parts import MachinePhysics, Setup, Spread, StagePhysics, TopVacuum
from zonule.plan.parts import StageSetting
from zonule.practice.machine import Machine

NO_POWER: Final = "none"
"""How the power of a stage starts that has none."""


def setup_of(machine: Machine) -> Setup:
    """Return the set-up of a practice: its own where it was measured, else published spans.

    Examples
    --------
    >>> setup = setup_of(Machine())
    >>> setup.assumed, setup.offset_cm, setup.allowed_floor_mmhg
    (True, None, 10.0)
    """
    tests, known = machine.cup_tests, table("fluidics")
    days = [one.measured_on for one in tests]
    own = machine.allowed_floor_mmhg
    return Setup(
        label=machine.label,
        offset_cm=machine.infusion_offset_cm,
        allowed_floor_mmhg=float(known["allowed_floor"]["mmhg"]) if own is None else own,
        own_floor=own is not None,
        irrigation=irrigation_of(tests),
        aspiration=aspiration_of(tests),
        measured=(min(days), max(days)) if days else None,
        blocked_k_per_s_per_w=_blocked(),
    )


def _blocked() -> float:
    water = table("fluidics")["water"]
    return float(
        heat.rise_when_blocked_k_per_s(
            power_w=1.0,
            mass_g=water["blocked_mass_g"],
            heat_capacity_j_per_g_k=water["heat_capacity_j_per_g_k"],
        )
    )


def _top(vacuum_mmhg: float, limit: Spread) -> TopVacuum:
    low, high = limit.nine_in_ten
    if vacuum_mmhg > high:
        return "exceeds"
    return "may_exceed" if vacuum_mmhg > low else "within"


def _to_set(
    infusion_cm: tuple[float, float], offset_cm: float | None
) -> tuple[float, float] | None:
    if offset_cm is None:
        return None
    low, high = units.height_to_set(above_the_eye_cm=infusion_cm, zero_above_the_eye_cm=offset_cm)
    return float(low), float(high)


def _heat(setting: StageSetting) -> tuple[float, float] | None:
    if setting.power.partition(",")[0] == NO_POWER:
        return None
    water = table("fluidics")["water"]
    low, high = heat.rise_in_flow_k(
        power_w=1.0,
        flow_ml_min=setting.flow_ml_min[::-1],
        density_g_per_ml=water["density_g_per_ml"],
        heat_capacity_j_per_g_k=water["heat_capacity_j_per_g_k"],
    )
    return float(low), float(high)


def stage_physics(setting: StageSetting, setup: Setup) -> StagePhysics:
    """Return what physics says of one stage of a plan."""
    (low_cm, high_cm), (little, much) = setting.infusion_cm, setting.flow_ml_min
    factor, way_in = mmhg_per_cmh2o(), setup.irrigation
    middle_cm = (low_cm + high_cm) / 2.0
    set_cm = _to_set(setting.infusion_cm, setup.offset_cm)
    lowest = vacuum_limit(setup, infusion_cm=low_cm)
    top = setting.vacuum_mmhg[1]
    return StagePhysics(
        stage=setting.stage,
        name=setting.name,
        set_cm=set_cm,
        set_mmhg=None if set_cm is None else (set_cm[0] * factor, set_cm[1] * factor),
        infusion_cm=setting.infusion_cm,
        infusion_mmhg=setting.infusion_mmhg,
        flow_ml_min=setting.flow_ml_min,
        vacuum_mmhg=setting.vacuum_mmhg,
        chamber_mmhg=chamber_at(setup, infusion_cm=middle_cm, flow_ml_min=(little + much) / 2.0),
        chamber_by_flow_mmhg=(
            steady_mmhg(way_in, pressure_mmhg=middle_cm * factor, flow_ml_min=little),
            steady_mmhg(way_in, pressure_mmhg=middle_cm * factor, flow_ml_min=much),
        ),
        chamber_range_mmhg=(
            steady_mmhg(way_in, pressure_mmhg=setting.infusion_mmhg[0], flow_ml_min=much),
            steady_mmhg(way_in, pressure_mmhg=setting.infusion_mmhg[1], flow_ml_min=little),
        ),
        limits=(lowest, vacuum_limit(setup, infusion_cm=high_cm)),
        top_vacuum=_top(top, lowest.highest_mmhg),
        top_vacuum_needs_cm=infusion_for_vacuum_cm(setup, vacuum_mmhg=top),
        heat_k_per_w=_heat(setting),
    )


def machine_physics(settings: Sequence[StageSetting], machine: Machine) -> MachinePhysics:
    """Return the machine of a plan in figures.

    Parameters
    ----------
    settings
        The stages of this plan.
    machine
        As in the practice file.
    """
    setup = setup_of(machine)
    return MachinePhysics(setup, tuple(stage_physics(one, setup) for one in settings))
