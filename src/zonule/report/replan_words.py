"""How a plan read again in theatre is said, in one place."""

from __future__ import annotations

from typing import Final

from zonule.plan.records import Rung
from zonule.plan.states.answer import StepFirst
from zonule.plan.states.records import NOT_ASKED, NOT_KNOWN
from zonule.plan.states.replanned import PlaceNow, Replanned
from zonule.plan.states.tables import tables
from zonule.report.words import dioptres, kept, span

CAUTION: Final = (
    "An aid, not validated on patients; no surgeon has reviewed these tables. What you see in the "
    "eye comes first."
)
NOT_YET: Final = "Not yet: ask"


def situation(told: Replanned) -> str:
    """Return where the operation stands, in words."""
    rows = {row.id: row for row in tables().rows}
    said = "; or ".join(rows[one].name for one in told.answer.rows)
    stage = f"Stage: {tables().stages[told.stage].name}. " if told.stage else ""
    return f"{stage}State: {said or 'not settled, the answers do not agree'}."


def question(told: Replanned) -> str:
    """Return the question to ask next; empty where nothing is to be asked."""
    name = told.answer.next_question
    return tables().questions[name].ask if name else ""


def answers_to(name: str) -> str:
    """Return what may be answered, as it is typed and as it is said."""
    asked = tables().questions[name]
    told = "; ".join(f"{value} ({asked.says[value]})" for value in asked.values)
    return f"{name} = {told}"


def known(told: Replanned) -> tuple[tuple[str, str], ...]:
    """Return every question that is not moot with its answer, in words."""
    questions = tables().questions
    return tuple(
        (questions[name].short, "not known" if value == NOT_KNOWN else questions[name].says[value])
        for name, value in told.answer.answers.items()
        if value != NOT_ASKED
    )


def first_line(told: Replanned) -> str:
    """Return the first choice, or that a question comes before it."""
    names = {one.offer.placement: one.label for one in told.places}
    first = told.answer.first_choice
    if first is None:
        return f"{NOT_YET}."
    return f"First choice: {names[first]}."


def step(one: StepFirst) -> str:
    """Return a step that comes first, or has been done."""
    if one.done:
        return f"Done: {one.name[:1].lower()}{one.name[1:]}."
    when = "First, if needed" if one.if_needed else "First"
    return f"{when}: {one.do}"


def lens_line(told: Replanned, place: PlaceNow, rung: Rung) -> str:
    """Return the lens, the power and what it would leave; or why there is none.

    Empty while every lens is to stay sealed: no power is named then.
    """
    variant = f"{rung.place.label}: " if len(place.rungs) > 1 else ""
    if rung.chosen is None or rung.lens is None:
        return f"{variant}this plan has no power here: {rung.why_closed}"
    if not told.gate.state_allows:
        return ""
    power = f"{rung.lens.name}, {dioptres(rung.chosen.power_d)}, {kept(rung.chosen.kept)}"
    band = span(*rung.chosen.bands["p90"])
    return f"{variant}{power}; expected {dioptres(rung.chosen.refraction_d)}, nine in ten {band}"


def gate_lines(told: Replanned) -> tuple[str, ...]:
    """Return that every lens stays sealed, or what must have been said before one is opened."""
    if not told.gate.missing:
        return ()
    waits = "; ".join(told.gate.missing)
    if told.gate.state_allows:
        return (f"Before a box is opened, said aloud: {waits}.",)
    return (told.gate.line, f"Before a power is shown: {waits}.")
