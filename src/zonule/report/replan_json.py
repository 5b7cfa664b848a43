"""A plan read again in theatre, as plain data: ``zonule-replan-1``."""

from __future__ import annotations

from typing import Any, Final

from zonule.plan.records import Rung
from zonule.plan.states.answer import Offer
from zonule.plan.states.replanned import PlaceNow, Pressed, Replanned
from zonule.plan.states.then_orders import then_order
from zonule.report import replan_words

SCHEMA: Final = "zonule-replan-1"


def as_json(told: Replanned) -> dict[str, Any]:
    """Return what remains of a plan."""
    found = told.answer
    return {
        "schema": SCHEMA,
        "eye": told.plan.case.eye_to_do,
        "stage": told.stage or None,
        "trigger": _pressed(told.pressed) if told.pressed else None,
        "answers": dict(found.answers),
        "contradictions": [
            {"id": one.id, "says": one.sentence, "questions": list(one.inputs)}
            for one in found.contradictions
        ],
        "rows": list(found.rows),
        "next_question": found.next_question,
        "first_choice": found.first_choice,
        "undecided": found.undecided,
        "gate": {
            "state_allows": told.gate.state_allows,
            "says": told.gate.line or None,
            "missing": list(told.gate.missing),
        },
        "power_withheld_because": told.plan.power_withheld or None,
        "offered": [_place(told, one) for one in told.places],
        "open": [
            {"placement": one.placement, "question": one.question, "says": one.sentence}
            for one in found.open
        ],
        "refused": [{"placement": one.placement, "says": one.sentence} for one in found.refused],
        "caution": replan_words.CAUTION,
    }


def _pressed(one: Pressed) -> dict[str, Any]:
    after = then_order(one.link.then)
    return {
        "id": one.link.id,
        "name": one.link.name,
        "hands": one.words.hands,
        "first_words": list(one.words.say),
        "stale": list(one.stale),
        "ask_for": list(after.ask_for),
        "then": [{"step": step.id, "do": step.do, "event": step.event} for step in after.steps],
        "sources": list(one.words.basis.sources),
        "status": one.words.basis.status,
    }


def _place(told: Replanned, one: PlaceNow) -> dict[str, Any]:
    return {
        "placement": one.offer.placement,
        "label": one.label,
        **_offer(one.offer),
        "lenses": [_rung(told, rung) for rung in one.rungs],
    }


def _offer(offer: Offer) -> dict[str, Any]:
    return {
        "ready": offer.ready,
        "ways": list(offer.ways),
        "steps": [
            {"step": step.id, "do": step.do, "if_needed": step.if_needed, "done": step.done}
            for step in offer.steps
        ],
        "asks": list(offer.asks),
        "with": list(offer.with_),
        "warns": list(offer.warns),
    }


def _rung(told: Replanned, rung: Rung) -> dict[str, Any]:
    """Return lens and power; while every lens is to stay sealed they are named nowhere."""
    shown = rung.chosen is not None and rung.lens is not None and told.gate.state_allows
    told_power: dict[str, Any] = {"lens": None, "power_d": None, "kept": None}
    told_power |= {"expected_d": None, "band_90_d": None}
    if shown and rung.chosen is not None and rung.lens is not None:
        told_power = {
            "lens": rung.lens.name,
            "power_d": rung.chosen.power_d,
            "kept": rung.chosen.kept,
            "expected_d": rung.chosen.refraction_d,
            "band_90_d": list(rung.chosen.bands["p90"]),
        }
    why = None if rung.chosen is not None else rung.why_closed or None
    return {"place": rung.place.key, **told_power, "no_power_because": why}
