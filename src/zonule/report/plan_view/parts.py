"""The cards: rules, steps, what lies in the room, machine, anaesthesia and the rest."""

from __future__ import annotations

from zonule.findings.labels import named
from zonule.library.rules import STRENGTH_WORDS
from zonule.plan.parts import NucleusRoute, RuleReading, Step, TrayItem
from zonule.plan.records import Plan
from zonule.report import part_words, sentences
from zonule.report.plan_view.records import (
    Pair,
    RuleView,
    Shown,
    StepView,
    TrayGroup,
    TrayLine,
)

WHERE = {
    "in_room": "In the room",
    "to_fetch": "To fetch",
    "to_order": "To order",
    "not_recorded": "Where kept is not in the practice file",
}


def rule_view(reading: RuleReading) -> RuleView:
    """Return one rule as it is shown."""
    rule = reading.rule
    return RuleView(
        id=rule.id,
        title=rule.title,
        strength=rule.strength,
        strength_says=STRENGTH_WORDS[rule.strength],
        status=sentences.status_words(rule.status),
        because=", ".join(reading.because),
        do=rule.do,
        avoid=rule.avoid,
        reason=rule.why,
        settled=part_words.settled(reading),
        why=f"rules.{rule.id}",
    )


def steps_of(plan: Plan) -> tuple[StepView, ...]:
    """Return the steps in operating order."""
    return tuple(_step(step) for step in plan.parts.steps)


def _step(step: Step) -> StepView:
    path = f"steps.{step.key}.clock_hours"
    return StepView(
        order=step.order,
        name=step.name,
        says="" if step.rules else step.says,
        hours=Shown(part_words.hours(step), path) if step.clock_hours else None,
        rules=tuple(rule_view(one) for one in step.rules),
    )


def before_of(plan: Plan) -> tuple[RuleView, ...]:
    """Return what the rules ask for before the operation."""
    return tuple(rule_view(one) for one in plan.parts.firing() if not one.rule.step)


def conflicts_of(plan: Plan) -> tuple[Pair, ...]:
    """Return the rules that pull apart."""
    return tuple(
        Pair(f"{one.first.id} and {one.second.id}: {one.conflict.question}", one.conflict.settled)
        for one in plan.parts.conflicts
    )


def nucleus_of(plan: Plan) -> tuple[Pair, ...]:
    """Return how a dense nucleus comes out, and what if it will not."""
    return tuple(
        Pair(route.name, _route(route), f"nucleus.{route.key}") for route in plan.parts.nucleus
    )


def _route(route: NucleusRoute) -> str:
    told = (
        f"{route.trigger}. Wound: {route.wound}. Suture: {route.suture}. In the room: "
        f"{', '.join(route.items)}. Astigmatism: {route.astigmatism}."
    )
    missing = " Not among your ways in the practice file."
    return told + (missing if route.in_repertoire is False else "")


def tray_of(plan: Plan) -> tuple[TrayGroup, ...]:
    """Return what lies in the room, to fetch, to order, and only if it turns out so."""
    groups = [
        TrayGroup(heading, tuple(_line(one) for one in mine))
        for kept, heading in WHERE.items()
        if (mine := [i for i in plan.parts.tray if i.kept == kept and not i.waits_for])
    ]
    waiting = tuple(_line(one) for one in plan.parts.tray if one.waits_for)
    return (*groups, *((TrayGroup("Only if it turns out so", waiting),) if waiting else ()))


def _line(one: TrayItem) -> TrayLine:
    waits = ", ".join(named(name) for name in one.waits_for)
    notes = (
        "; ".join(one.for_places),
        one.shelf,
        part_words.strength(one).rstrip("."),
        f"if: {waits}" if waits else "",
    )
    return TrayLine(
        label=one.label,
        count=Shown(part_words.how_many(one), f"tray.{one.key}"),
        note=" · ".join(note for note in notes if note),
    )


def tray_heading(plan: Plan) -> str:
    """Return the heading of the tray as a finding."""
    here = sum(one.kept == "in_room" and not one.waits_for for one in plan.parts.tray)
    other = [one for one in plan.parts.tray if one.kept != "in_room" and not one.waits_for]
    return f"In the room: {here}; still to bring: {len(other)}"


def anaesthesia_of(plan: Plan) -> tuple[Pair, ...]:
    """Return what the anaesthetist needs to know."""
    told = plan.parts.anaesthesia
    needle = f"{part_words.needle(told)} ({told.needle_says})"
    return (
        Pair("Longest time flat", told.flat_says),
        Pair("Sharp needle", needle, "anaesthesia.needle"),
        *(Pair("Mind", one.says) for one in told.lines),
        Pair("If it becomes scleral work", told.if_scleral),
    )


def aside_of(plan: Plan) -> tuple[Pair, ...]:
    """Return what people settled about rules, kept with the plan."""
    aside = [one for one in plan.parts.rules if one.state in ("overruled", "switched_off")]
    settled = [one for one in plan.parts.firing() if one.decision is not None]
    return tuple(
        Pair(
            f"{one.rule.id} {one.rule.title}",
            " ".join(part_words.settled(one)),
            f"rules.{one.rule.id}",
        )
        for one in (*aside, *settled)
    )
