"""Why the machine is set so, and where its figures come from."""

from __future__ import annotations

from functools import partial
from typing import Any

from zonule.library.reading import status, table
from zonule.plan.machine_parts import StagePhysics
from zonule.plan.parts import StageSetting
from zonule.plan.records import Plan
from zonule.report import machine_words as said
from zonule.report import part_words
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input

IRRIGATION = "Irrigation resistance"
ASPIRATION = "Aspiration resistance"


def machine_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of the machine of a plan."""
    parts, paths = plan.parts, dict[str, Explain]()
    for setting in parts.machine:
        paths[f"machine.{setting.stage}"] = partial(_setting, plan, setting)
    for one in parts.machine_physics.stages:
        path = f"machine.{one.stage}"
        paths[f"{path}.set"] = partial(_to_set, plan, one)
        paths[f"{path}.chamber_pressure"] = partial(_chamber, plan, one)
        paths[f"{path}.highest_vacuum"] = partial(_vacuum, plan, one)
        if one.heat_k_per_w is not None:
            paths[f"{path}.heat"] = partial(_heat, one)
    paths["machine.setup.irrigation"] = partial(_irrigation, plan)
    paths["machine.setup.aspiration"] = partial(_aspiration, plan)
    paths["machine.setup.allowed_floor"] = partial(_floor, plan)
    paths["machine.setup.blocked"] = partial(_blocked, plan)
    return paths


def _row(*names: str) -> dict[str, Any]:
    found: dict[str, Any] = table("fluidics")
    for name in names:
        found = found[name]
    return found


def _sources(name: str) -> tuple[str, ...]:
    row = _row(name)
    return tuple(row["sources"]) if "sources" in row else (row["source"],)


def _input(label: str, value: str, name: str) -> Input:
    row = _row(name)
    return Input(label, value, _sources(name)[0], status(row["status"]))


def _setting(plan: Plan, one: StageSetting) -> Explanation:
    factor = _row("units")["mmhg_per_cmh2o"]
    return Explanation(
        path=f"machine.{one.stage}",
        title=f"Machine · {one.name}",
        value=one.sentence,
        how=(
            f"Range of the {part_words.profile(one.profile)} profile, chosen because: "
            f"{plan.parts.machine_because}. {table('machine_settings')['meta']['note']}"
        ),
        inputs=(Input("Heights", f"above the eye; 1 cm of water is {factor} mmHg"),),
        sources=one.sources,
        status=one.status,
        status_of="this range",
        held_by=held_by.PARTS,
    )


def _to_set(plan: Plan, one: StagePhysics) -> Explanation:
    setup = plan.parts.machine_physics.setup
    offset = "not recorded" if setup.offset_cm is None else f"{setup.offset_cm:g} cm above the eye"
    known = one.set_cm is not None and one.set_mmhg is not None
    return Explanation(
        path=f"machine.{one.stage}.set",
        title=f"Set on the machine · {one.name}",
        value=(
            f"{said.span(one.set_cm or ())} cm, or {said.span(one.set_mmhg or ())} mmHg"
            if known
            else said.ZERO_NOT_RECORDED
        ),
        how=said.zero(setup),
        inputs=(
            Input("At the eye", f"{said.span(one.infusion_cm)} cm"),
            Input("Machine's zero", offset.replace("-", "−")),
            _input("1 cm of water", f"{_row('units')['mmhg_per_cmh2o']} mmHg", "units"),
        ),
        sources=("own_derivation", "basics2012fluidics"),
        held_by=held_by.MACHINE,
    )


def _resistances(plan: Plan) -> tuple[Input, Input]:
    setup = plan.parts.machine_physics.setup
    own = "derived"
    return (
        Input(IRRIGATION, said.irrigation_value(setup.irrigation), "own_derivation", own)
        if setup.irrigation.own
        else _input(IRRIGATION, said.irrigation_value(setup.irrigation), "irrigation"),
        Input(ASPIRATION, said.aspiration_value(setup), "own_derivation", own)
        if setup.aspiration.own
        else _input(ASPIRATION, said.aspiration_value(setup), "aspiration"),
    )


def _from(name: str, *, own: bool) -> tuple[str, ...]:
    """Return the sources of a resistance: none of print where it was measured."""
    return ("own_derivation",) if own else _sources(name)


def _chamber(plan: Plan, one: StagePhysics) -> Explanation:
    setup = plan.parts.machine_physics.setup
    infusion, flow = sum(one.infusion_cm) / 2.0, sum(one.flow_ml_min) / 2.0
    leak = _row("leak")
    return Explanation(
        path=f"machine.{one.stage}.chamber_pressure",
        title=f"Chamber pressure · {one.name}",
        value=f"{said.band(one.chamber_mmhg)} mmHg; {said.span(one.chamber_range_mmhg)} over "
        "the whole range of settings",
        how=(
            "Pressure of the height above the eye, less what the flow costs on its way in: "
            "resistance times flow, and its square where an opening takes part. In the band: how "
            "well the resistance is known, and how the eye lies. Steady flow, tip open."
        ),
        inputs=(
            Input("Infusion above the eye", f"{infusion:g} cm, the middle of its range"),
            Input("Aspiration flow", f"{flow:g} mL/min, the middle of its range"),
            _resistances(plan)[0],
            _input("Leak of the wounds", f"{leak['ml_min_per_mmhg']:g} mL/min per mmHg", "leak"),
            _input("Level of the eye", f"spread {_row('eye_level')['sd_cm']:g} cm", "eye_level"),
        ),
        sources=(
            *_from("irrigation", own=setup.irrigation.own),
            "benjamin2018fluidics",
            "own_assumption",
        ),
        status="derived" if setup.irrigation.own else "assumption",
        held_by=held_by.MACHINE,
        caveats=(said.CAUTION, "A wound that leaks lowers it further."),
    )


def _vacuum(plan: Plan, one: StagePhysics) -> Explanation:
    setup = plan.parts.machine_physics.setup
    told = "; ".join(
        f"{said.limit(each)} mmHg ({said.limit_band(each)}) at {each.infusion_cm:g} cm"
        for each in one.limits
    )
    irrigation, aspiration = _resistances(plan)
    return Explanation(
        path=f"machine.{one.stage}.highest_vacuum",
        title=f"Highest vacuum · {one.name}",
        value=told,
        how=(
            "When a blocked tip clears, the chamber lies between infusion and line as between two "
            "resistances. This is the vacuum at which it would fall to the allowed floor at worst."
        ),
        inputs=(
            Input("Allowed floor", said.floor(setup)),
            irrigation,
            aspiration,
            Input("Vacuum range of this stage", f"{said.span(one.vacuum_mmhg)} mmHg"),
        ),
        sources=(
            *_from("irrigation", own=setup.irrigation.own),
            *_from("aspiration", own=setup.aspiration.own),
            "own_derivation",
            "yalamanchili2025surge",
            *_sources("highest_vacuum"),
        ),
        status="assumption" if setup.assumed or not setup.own_floor else "derived",
        held_by=held_by.MACHINE,
        caveats=tuple(
            text
            for text in (
                said.CAUTION,
                said.top_vacuum(one, setup.allowed_floor_mmhg),
                said.LIMITS_OF_THE_MODEL,
            )
            if text
        ),
    )


def _heat(one: StagePhysics) -> Explanation:
    water = _row("water")
    return Explanation(
        path=f"machine.{one.stage}.heat",
        title=f"Heat · {one.name}",
        value=f"{said.per_watt(one.heat_k_per_w or ())} K for each watt lost to the fluid",
        how=(
            "Power over flow, density and heat capacity. The watts are those lost to the fluid; "
            "the figure of the pedal does not give them."
        ),
        inputs=(
            Input("Aspiration flow", f"{said.span(one.flow_ml_min)} mL/min"),
            _input("Heat capacity", f"{water['heat_capacity_j_per_g_k']:g} J/g/K", "water"),
            _input("Density", f"{water['density_g_per_ml']:g} g/mL", "water"),
        ),
        sources=("own_derivation", "crst2011burn"),
        held_by=held_by.MACHINE,
    )


def _irrigation(plan: Plan) -> Explanation:
    setup = plan.parts.machine_physics.setup
    own = setup.irrigation.own
    return Explanation(
        path="machine.setup.irrigation",
        title=IRRIGATION,
        value=said.irrigation(setup),
        how="Free flow spends the whole height on the way in: pressure of the height over flow.",
        inputs=_readings(plan),
        sources=_from("irrigation", own=own),
        held_by=held_by.MACHINE,
        caveats=() if own else (_row("irrigation")["note"], _row("span")["note"]),
    )


def _aspiration(plan: Plan) -> Explanation:
    setup = plan.parts.machine_physics.setup
    own = setup.aspiration.own
    return Explanation(
        path="machine.setup.aspiration",
        title=ASPIRATION,
        value=said.aspiration(setup),
        how="Vacuum shown while the tip aspirates freely, over the flow that was set.",
        inputs=_readings(plan),
        sources=_from("aspiration", own=own),
        held_by=held_by.MACHINE,
        caveats=() if own else (_row("aspiration")["note"], _row("span")["note"]),
    )


def _readings(plan: Plan) -> tuple[Input, ...]:
    return tuple(
        Input(
            f"Cup test at {one.height_cm:g} cm",
            f"{one.collected_ml:g} mL in {one.seconds:g} s"
            + (
                f"; {one.vacuum_shown_mmhg:g} mmHg at {one.aspiration_flow_ml_min:g} mL/min"
                if one.vacuum_shown_mmhg is not None and one.aspiration_flow_ml_min is not None
                else ""
            ),
        )
        for one in plan.practice.machine.cup_tests
    )


def _floor(plan: Plan) -> Explanation:
    setup = plan.parts.machine_physics.setup
    return Explanation(
        path="machine.setup.allowed_floor",
        title="Allowed floor",
        value=said.floor(setup),
        how="The lowest pressure allowed in the chamber when a blocked tip clears.",
        sources=("own_assumption",),
        status="assumption",
        held_by=held_by.MACHINE,
    )


def _blocked(plan: Plan) -> Explanation:
    speed = plan.parts.machine_physics.setup.blocked_k_per_s_per_w
    water = _row("water")
    return Explanation(
        path="machine.setup.blocked",
        title="Heat with the tip blocked",
        value=f"about {said.whole(speed)} K in each second, for each watt lost",
        how="Power over mass and heat capacity, nothing led away: a speed at the start.",
        inputs=(
            _input("Mass that is warmed", f"{water['blocked_mass_g']:g} g", "water"),
            _input("Heat capacity", f"{water['heat_capacity_j_per_g_k']:g} J/g/K", "water"),
        ),
        sources=("own_derivation", "zacharias2016heat"),
        held_by=held_by.MACHINE,
    )
