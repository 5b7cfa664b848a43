"""Steps, what lies in the room, machine, anaesthesia and the rest, as a terminal shows them."""

from __future__ import annotations

from rich.text import Text

from zonule.findings.labels import named
from zonule.plan.parts import RuleReading, TrayItem
from zonule.plan.records import Plan
from zonule.report import machine_words, map_words, part_words
from zonule.report.terminal.layout import Sheet
from zonule.report.words import sentence_case

_WHERE = {
    "in_room": "in the room",
    "to_fetch": "to fetch",
    "to_order": "to order",
    "not_recorded": "where kept is not in the practice file",
}


def write_parts(sheet: Sheet, plan: Plan) -> None:
    """Write everything a plan says beside its powers."""
    _steps(sheet, plan)
    _hours(sheet, plan)
    _conflicts(sheet, plan)
    _nucleus(sheet, plan)
    _machine(sheet, plan)
    _tray(sheet, plan)
    _anaesthesia(sheet, plan)
    _before(sheet, plan)
    _to_say(sheet, plan)
    _set_aside(sheet, plan)


def _steps(sheet: Sheet, plan: Plan) -> None:
    sheet.heading("Steps, in operating order", "strength of each rule: A to D")
    for step in plan.parts.steps:
        name = Text(step.name, style="bold")
        lines = [_rule_line(one) for one in step.rules]
        if step.says and (step.asks or not lines):
            lines.insert(0, Text(step.says))
        if step.clock_hours:
            lines.append(Text(part_words.hours(step), style="dim"))
        sheet.bullet(
            name.append(": ", style="not bold").append(_joined(lines)), mark=f"{step.order}"
        )


def _hours(sheet: Sheet, plan: Plan) -> None:
    """Write what comes too near on the incision and hook map; nothing where nothing does."""
    near = plan.parts.clock_map.clashes
    if near:
        sheet.heading("Incisions and hooks", map_words.heading(plan.parts.clock_map))
    for one in near:
        sheet.bullet(f"{map_words.clash_word(one)}: {map_words.clash(one)}")


def _rule_line(reading: RuleReading) -> Text:
    changed = reading.decision is not None and reading.decision.decision == "changed"
    own = ", department's wording" if changed else ""
    return Text(reading.rule.title).append(
        f" ({reading.rule.id}, {reading.rule.strength}{own})", style="dim"
    )


def _joined(lines: list[Text]) -> Text:
    text = Text(style="not bold")
    for at, line in enumerate(lines):
        text.append("; " if at else "").append_text(line)
    return text


def _conflicts(sheet: Sheet, plan: Plan) -> None:
    if not plan.parts.conflicts:
        return
    sheet.heading("Rules that pull apart")
    for one in plan.parts.conflicts:
        text = Text(f"{one.first.id} and {one.second.id}: ", style="bold")
        text.append(one.conflict.question, style="not bold")
        text.append(f" {one.conflict.settled}", style="not bold")
        sheet.bullet(text)


def _nucleus(sheet: Sheet, plan: Plan) -> None:
    if not plan.parts.nucleus:
        return
    sheet.heading("How the nucleus comes out, and if it will not")
    for route in plan.parts.nucleus:
        text = Text(route.name, style="bold")
        text.append(f": {route.trigger}. Wound: {route.wound}. Suture: {route.suture}.", "not bold")
        text.append(f" Astigmatism: {route.astigmatism}.", style="not bold")
        if route.in_repertoire is False:
            text.append(" Not among your ways in the practice file.", style="bold")
        sheet.bullet(text, mark=str(route.order) if route.order else sheet.marks.middle)


def _machine(sheet: Sheet, plan: Plan) -> None:
    sheet.heading(part_words.machine_heading(plan))
    for one in plan.parts.machine:
        sheet.bullet(one.sentence)
    if told := machine_words.in_one_line(plan):
        sheet.bullet(told)
    sheet.say(part_words.MACHINE_CAUTION, indent=2, style="dim")


def _tray(sheet: Sheet, plan: Plan) -> None:
    sheet.heading("What this eye needs")
    for kept, words in _WHERE.items():
        mine = [one for one in plan.parts.tray if one.kept == kept and not one.waits_for]
        if mine:
            text = Text(f"{sentence_case(words)}: ", style="bold")
            sheet.bullet(text.append(", ".join(_item(one) for one in mine), style="not bold"))
    waiting = [one for one in plan.parts.tray if one.waits_for]
    if waiting:
        text = Text("Only if it turns out so: ", style="bold")
        said = "; ".join(
            f"{one.label} ({', '.join(named(name) for name in one.waits_for)})" for one in waiting
        )
        sheet.bullet(text.append(said, style="not bold"))
    no_card = [one.label for one in plan.parts.tray if one.needs_card and not one.waits_for]
    if no_card:
        sheet.bullet(part_words.no_recipe_card(no_card))


def _item(one: TrayItem) -> str:
    power = f" {one.power_d:+.2f} D".replace("-", "−") if one.power_d is not None else ""
    count = f" ×{one.count}" if one.count > 1 else ""
    return f"{one.label}{power}{count}{' (too few)' if one.short else ''}"


def _anaesthesia(sheet: Sheet, plan: Plan) -> None:
    told = plan.parts.anaesthesia
    sheet.heading(f"Anaesthesia: {told.route}")
    sheet.bullet(f"Longest time flat: {told.flat_says}")
    sheet.bullet(f"Sharp needle: {part_words.needle(told)} ({told.needle_says})")
    for line in told.lines:
        sheet.bullet(line.says)
    sheet.bullet(told.if_scleral)


def _before(sheet: Sheet, plan: Plan) -> None:
    mine = [one for one in plan.parts.firing() if not one.rule.step]
    if not mine:
        return
    sheet.heading("Before surgery")
    for one in mine:
        sheet.bullet(_rule_line(one))


def _to_say(sheet: Sheet, plan: Plan) -> None:
    sheet.heading("To tell the patient")
    for said in (*part_words.spoken_of_the_aim(plan), *(one.says for one in plan.parts.to_say)):
        sheet.bullet(said)


def _set_aside(sheet: Sheet, plan: Plan) -> None:
    aside = [one for one in plan.parts.rules if one.set_aside]
    changed = [one for one in plan.parts.firing() if one.decision is not None]
    if not (aside or changed):
        return
    sheet.heading("Settled by people, kept with the plan")
    for one in (*aside, *changed):
        text = Text(f"{one.rule.id} {one.rule.title}: ", style="bold")
        sheet.bullet(text.append(" ".join(part_words.settled(one)), style="not bold"))
