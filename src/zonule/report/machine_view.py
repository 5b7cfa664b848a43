"""The page of the machine as frozen records: per stage what to set and what to expect."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.plan.machine_parts import StagePhysics
from zonule.plan.records import Plan
from zonule.report import machine_words as said
from zonule.report import part_words
from zonule.report.figures.machine import NARROW, WIDE, Layout, Mark, chamber_against_flow
from zonule.report.plan_view.header import header_of
from zonule.report.plan_view.records import HeaderView, Pair, Shown


@dataclass(frozen=True, slots=True)
class StageRow:
    """One stage as the table has it; every pressure of the infusion in both units."""

    number: str
    name: Shown
    set_cm: Shown
    set_mmhg: str
    eye_cm: str
    eye_mmhg: str
    flow: str
    chamber: Shown
    chamber_range: str
    vacuum: str
    limit_at_lowest: Shown
    limit_at_highest: Shown
    warns: str
    """That the vacuum range goes above the limit; empty where it does not."""
    heat: Shown


@dataclass(frozen=True, slots=True)
class MachineView:
    """The whole page."""

    header: HeaderView
    heading: str
    because: str
    caution: str
    zero: str
    zero_known: bool
    figure: str
    narrow_figure: str
    floor: str
    rows: tuple[StageRow, ...]
    above: tuple[str, ...]
    """Stages whose vacuum range goes above the limit, and what helps."""
    heat: tuple[Shown, ...]
    setup: tuple[Pair, ...]
    how_to_heading: str
    how_to: tuple[str, ...]
    limits: str


def _row(number: int, one: StagePhysics, floor_mmhg: float) -> StageRow:
    path = f"machine.{one.stage}"
    unknown = one.set_cm is None or one.set_mmhg is None
    return StageRow(
        number=str(number),
        name=Shown(one.name, path),
        set_cm=Shown(
            said.ZERO_NOT_RECORDED if unknown else said.span(one.set_cm or ()), f"{path}.set"
        ),
        set_mmhg="" if one.set_mmhg is None else said.span(one.set_mmhg),
        eye_cm=said.span(one.infusion_cm),
        eye_mmhg=said.span(one.infusion_mmhg),
        flow=said.span(one.flow_ml_min),
        chamber=Shown(said.band(one.chamber_mmhg), f"{path}.chamber_pressure"),
        chamber_range=said.span(one.chamber_range_mmhg),
        vacuum=said.span(one.vacuum_mmhg),
        limit_at_lowest=Shown(
            f"{said.limit(one.limits[0])} ({said.limit_band(one.limits[0])})",
            f"{path}.highest_vacuum",
        ),
        limit_at_highest=Shown(
            f"{said.limit(one.limits[1])} ({said.limit_band(one.limits[1])})",
            f"{path}.highest_vacuum",
        ),
        warns=said.top_vacuum(one, floor_mmhg),
        heat=Shown("no power")
        if one.heat_k_per_w is None
        else Shown(said.per_watt(one.heat_k_per_w), f"{path}.heat"),
    )


def _marks(stages: tuple[StagePhysics, ...]) -> tuple[Mark, ...]:
    """Return the marks; stages of the same infusion and flow share one."""
    together: dict[tuple[tuple[float, float], ...], list[tuple[int, StagePhysics]]] = {}
    for number, one in enumerate(stages, 1):
        together.setdefault((one.infusion_cm, one.flow_ml_min), []).append((number, one))
    return tuple(_mark(mine) for mine in together.values())


def _mark(mine: list[tuple[int, StagePhysics]]) -> Mark:
    one = mine[0][1]
    return Mark(
        numbers=", ".join(str(number) for number, _ in mine),
        names=" and ".join(each.name.lower() for _, each in mine),
        flow_ml_min=one.flow_ml_min,
        by_flow_mmhg=one.chamber_by_flow_mmhg,
        middle_mmhg=one.chamber_mmhg.middle,
        half_mmhg=one.chamber_mmhg.half,
        nine_in_ten_mmhg=one.chamber_mmhg.nine_in_ten,
    )


def _figure(plan: Plan, layout: Layout) -> str:
    found = plan.parts.machine_physics
    if not found.stages:
        return ""
    told = "; ".join(f"{one.name} {said.band(one.chamber_mmhg)}" for one in found.stages)
    return chamber_against_flow(
        _marks(found.stages),
        floor_mmhg=found.setup.allowed_floor_mmhg,
        assumed=not found.setup.irrigation.own,
        title="Chamber pressure against flow",
        described=f"In mmHg, with nine in ten: {told}.",
        layout=layout,
    )


def _setup(plan: Plan) -> tuple[Pair, ...]:
    setup = plan.parts.machine_physics.setup
    label = (Pair(Shown("Machine"), f"{setup.label}."),) if setup.label else ()
    return (
        *label,
        Pair(Shown("Irrigation resistance", "machine.setup.irrigation"), said.irrigation(setup)),
        Pair(Shown("Aspiration resistance", "machine.setup.aspiration"), said.aspiration(setup)),
        Pair(Shown("Allowed floor", "machine.setup.allowed_floor"), f"{said.floor(setup)}."),
    )


def _heat(plan: Plan) -> tuple[Shown, ...]:
    speed = plan.parts.machine_physics.setup.blocked_k_per_s_per_w
    return (
        Shown(
            "No power without flow. For each watt lost to the fluid it leaves warmer by the "
            "figure in the table; with the tip blocked, a drop of 0.05 g warms by "
        ),
        Shown(f"about {said.whole(speed)} K in each second", "machine.setup.blocked"),
        Shown("."),
    )


def machine_view(plan: Plan) -> MachineView:
    """Return everything the page of the machine says."""
    parts, found = plan.parts, plan.parts.machine_physics
    floor_mmhg = found.setup.allowed_floor_mmhg
    rows = tuple(_row(number, one, floor_mmhg) for number, one in enumerate(found.stages, 1))
    own = found.setup.irrigation.own and found.setup.aspiration.own
    return MachineView(
        header=header_of(plan),
        heading=f"Machine, {part_words.profile(parts.machine_profile)}",
        because=parts.machine_because,
        caution=said.CAUTION,
        zero=said.zero(found.setup),
        zero_known=found.setup.offset_cm is not None,
        figure=_figure(plan, WIDE),
        narrow_figure=_figure(plan, NARROW),
        floor=said.whole(floor_mmhg),
        rows=rows,
        above=tuple(f"{row.name.text}: {row.warns}" for row in rows if row.warns),
        heat=_heat(plan),
        setup=_setup(plan),
        how_to_heading=(
            "The cup test again: ten minutes with a measuring cup"
            if own
            else "Measure your own set-up: ten minutes with a measuring cup"
        ),
        how_to=said.HOW_TO,
        limits=said.LIMITS_OF_THE_MODEL,
    )
