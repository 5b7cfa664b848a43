"""A plan read again in theatre, as a terminal shows it: the question first, then the places."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from zonule.plan.states.replanned import PlaceNow, Replanned
from zonule.plan.states.tables import tables
from zonule.plan.states.then_orders import then_order
from zonule.report import replan_words
from zonule.report.terminal.layout import Sheet
from zonule.report.words import sentence_case

INDENT = 4


def write_replan(told: Replanned, console: Console) -> None:
    """Write the whole page."""
    sheet = Sheet(console)
    _first_words(sheet, told)
    _question(sheet, told)
    _places(sheet, told)
    _open(sheet, told)
    _refused(sheet, told)
    _answers(sheet, told)
    sheet.console.print()
    sheet.say(replan_words.CAUTION, style="dim")


def _first_words(sheet: Sheet, told: Replanned) -> None:
    pressed = told.pressed
    if pressed is None:
        return
    sheet.heading(f"{pressed.link.name} ({tables().hands[pressed.words.hands]})", pressed.link.id)
    sheet.say(Text(" ".join(pressed.words.say), style="bold"), indent=2)
    after = then_order(pressed.link.then)
    sheet.say(f"Ask for: {', '.join(after.ask_for)}.", indent=2)
    for at, step in enumerate(after.steps, 1):
        sheet.bullet(step.do, mark=str(at))
    if pressed.stale:
        stale = ", ".join(tables().questions[name].short for name in pressed.stale)
        sheet.say(f"Asked again: {stale}.", indent=2)


def _question(sheet: Sheet, told: Replanned) -> None:
    for one in told.answer.contradictions:
        sheet.console.print()
        sheet.say(Text(one.sentence, style="bold reverse"))
    if name := told.answer.next_question:
        sheet.heading(replan_words.question(told))
        sheet.say(replan_words.answers_to(name), indent=2, style="dim")


def _places(sheet: Sheet, told: Replanned) -> None:
    side = told.plan.case.eye_to_do.capitalize()
    sheet.heading(f"{side} eye: {replan_words.first_line(told)}")
    sheet.say(replan_words.situation(told), indent=2, style="dim")
    if told.plan.power_withheld:
        sheet.say(f"No lens power is shown: {told.plan.power_withheld}", indent=2)
    for line in replan_words.gate_lines(told):
        sheet.say(Text(line, style="bold"), indent=2)
    for at, place in enumerate(told.places, 1):
        _place(sheet, told, at, place)


def _place(sheet: Sheet, told: Replanned, at: int, place: PlaceNow) -> None:
    ready = Text("ready" if place.offer.ready else "not ready yet", style="dim")
    sheet.entry(str(at), Text(place.label, style="bold"), ready)
    for step in place.offer.steps:
        if not step.done:
            sheet.say(replan_words.step(step), indent=INDENT)
    for rung in place.rungs:
        if line := replan_words.lens_line(told, place, rung):
            sheet.say(sentence_case(line), indent=INDENT)
    for said in (*place.offer.with_, *place.offer.warns):
        sheet.say(said, indent=INDENT)
    for asked in place.offer.asks:
        sheet.say(f"Yes or no: {asked}", indent=INDENT, style="dim")


def _open(sheet: Sheet, told: Replanned) -> None:
    if told.answer.open:
        sheet.heading("Open: an answer decides")
        for one in told.answer.open:
            sheet.bullet(one.sentence)


def _refused(sheet: Sheet, told: Replanned) -> None:
    if told.answer.refused:
        sheet.heading("Not in this state")
        for one in told.answer.refused:
            sheet.bullet(one.sentence)


def _answers(sheet: Sheet, told: Replanned) -> None:
    sheet.heading("Answers this rests on")
    said = "; ".join(f"{name}: {answer}" for name, answer in replan_words.known(told))
    sheet.say(f"{sentence_case(said)}.", indent=2)
