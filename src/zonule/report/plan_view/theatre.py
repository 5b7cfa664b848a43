"""What the theatre needs: things in the room, machine, nucleus, anaesthesia, first words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from zonule.findings.labels import named
from zonule.plan.parts import NucleusRoute, TrayItem, Trigger
from zonule.plan.records import Plan
from zonule.report import machine_words, part_words
from zonule.report.plan_view.records import Card, MachineCard, Pair, Shown, TrayGroup, TrayLine
from zonule.report.words import dioptres, within

WHERE: Final = {
    "in_room": "In the room, sealed until called",
    "to_fetch": "To fetch",
    "to_order": "To order",
    "not_recorded": "Where it is kept is not in the practice file",
}
IN_A_HEADING: Final = {
    "in_room": "in the room",
    "to_fetch": "to fetch",
    "to_order": "to order",
    "not_recorded": "not in the practice file",
}
ONLY_IF: Final = "Only if it turns out so"


def tray_of(plan: Plan) -> tuple[TrayGroup, ...]:
    """Return what lies in the room, to fetch, to order, and only if it turns out so."""
    groups = [
        TrayGroup(heading, False, tuple(_line(one, plan) for one in mine))
        for kept, heading in WHERE.items()
        if (mine := _kept(plan, kept))
    ]
    waiting = tuple(_line(one, plan) for one in plan.parts.tray if one.waits_for)
    heading = f"{ONLY_IF}: {len(waiting)}"
    return (*groups, *((TrayGroup(heading, True, waiting),) if waiting else ()))


def _kept(plan: Plan, where: str) -> list[TrayItem]:
    return [one for one in plan.parts.tray if one.kept == where and not one.waits_for]


def tray_heading(plan: Plan) -> str:
    """Return the heading of what this eye needs: how many things are where.

    The room comes first; what someone has still to see to follows.
    """
    told = [f"{len(_kept(plan, where))} {said}" for where, said in IN_A_HEADING.items()]
    counted = [one for one in told if not one.startswith("0 ")]
    return f"What this eye needs: {', '.join(counted) or 'nothing on the list'}"


def _line(one: TrayItem, plan: Plan) -> TrayLine:
    notes = (
        _places(one, plan),
        one.shelf,
        "" if one.needs_card else part_words.strength_short(one),
        f"if {', '.join(named(name) for name in one.waits_for)}" if one.waits_for else "",
    )
    acts = (
        part_words.strength_short(one) if one.needs_card else "",
        part_words.TOO_FEW if one.short else "",
    )
    return TrayLine(
        label=one.label,
        count=Shown(_count(one), f"tray.{one.key}"),
        note="; ".join(note for note in notes if note),
        act="; ".join(act for act in acts if act),
    )


def _count(one: TrayItem) -> str:
    times = f"×{one.count}"
    return times if one.power_d is None else f"{dioptres(one.power_d)} {times}"


def _places(one: TrayItem, plan: Plan) -> str:
    """Return which places of the plan a lens is for, by their order."""
    orders = [rung.order for rung in plan.rungs if rung.place.label in one.for_places]
    return f"for {part_words.places_by_order(orders)}" if orders else ""


def machine_of(plan: Plan) -> MachineCard:
    """Return the machine in one line; its page has the stages."""
    profile = part_words.profile(plan.parts.machine_profile)
    return MachineCard(
        f"Machine, {profile} ({plan.parts.machine_because})", machine_words.in_one_line(plan)
    )


def nucleus_of(plan: Plan) -> Card:
    """Return how a dense nucleus comes out, and what if it will not; nothing where it is soft."""
    routes = plan.parts.nucleus
    heading = f"If the nucleus will not come: {_next(routes)}" if len(routes) > 1 else ""
    return Card(heading, tuple(_route(one) for one in routes))


def _next(routes: Sequence[NucleusRoute]) -> str:
    return ", then ".join(within(one.name) for one in routes[1:])


def _route(route: NucleusRoute) -> Pair:
    first = "Intended." if route.order == 0 else f"When: {within(route.trigger)}."
    told = (
        f"{first} Wound: {within(route.wound)}. Suture: {within(route.suture)}. "
        f"Needs: {', '.join(within(one) for one in route.items)}. "
        f"Astigmatism: {within(route.astigmatism)}."
    )
    missing = f" {part_words.NOT_YOUR_WAY}" if route.in_repertoire is False else ""
    return Pair(Shown(route.name, f"nucleus.{route.key}"), told + missing)


def anaesthesia_of(plan: Plan) -> Card:
    """Return what the anaesthetist needs to know."""
    told = plan.parts.anaesthesia
    origin = f" (as in {told.route_from})" if told.route_from else ""
    return Card(
        f"Anaesthesia: {told.route}{origin}",
        (
            Pair(Shown("Longest time flat"), told.flat_says),
            Pair(Shown("Sharp needle", "anaesthesia.needle"), told.needle_says),
            *(Pair(Shown("Mind"), one.says) for one in told.lines),
            Pair(Shown("If it becomes scleral work"), told.if_scleral),
        ),
    )


def triggers_of(plan: Plan) -> Card:
    """Return what may go wrong, the likeliest first, with the first words."""
    found = plan.parts.triggers
    heading = f"If something happens: {len(found)} triggers, likeliest first"
    return Card(
        heading if found else "",
        tuple(
            Pair(
                Shown(one.name, f"triggers.{one.key}"),
                f"{' '.join(one.first_words)} ({'; '.join(_when_and_why(one))})",
            )
            for one in found
        ),
    )


def _when_and_why(one: Trigger) -> tuple[str, ...]:
    """Return what is in the eye when the words hold, and what makes the trigger likely."""
    return tuple(part for part in (one.hands, one.because) if part)
