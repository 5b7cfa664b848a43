"""A plan read again in theatre: what the state allows, less what surgeon, store, patient refuse.

::

    findings and stage ──► answers before ──► trigger pressed ──► answers given since
    answers, and what eye, patient, repertoire and store take out ──► places
    places ──► lens, power and refraction of the plan, place by place
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from zonule.errors import NoSuchName
from zonule.findings.facts import facts_of
from zonule.library.placements import Place, places
from zonule.plan.closed import in_repertoire
from zonule.plan.lens_choice import lens_for
from zonule.plan.records import Plan, Rung
from zonule.plan.states.answer import Offer, StateAnswer
from zonule.plan.states.engine import read, state_answer
from zonule.plan.states.eye import EyeVerdict, eye_filters
from zonule.plan.states.gate import Gate, power_gate
from zonule.plan.states.prefill import answers_before, still_presumed
from zonule.plan.states.records import LATER
from zonule.plan.states.refusals import label
from zonule.plan.states.tables import tables
from zonule.plan.states.triggers import (
    FirstWords,
    TriggerLink,
    first_words,
    hands_for,
    trigger_effect,
    trigger_link,
)
from zonule.plan.states.truth import Answers

KEEPS_ITS_LENS: Final = ("bag", "bag_anchored", "reverse_capture")
"""Places in which the lens that already lies in the bag may stay."""
ROUND_HOLE: Final = ("tear_small_round", "tear_convertible")


STOP_HERE: Final = "Only if it must stop here: close and come back"
"""What a second operation is called while it is no first choice: nobody is told to stop."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """A trigger that was pressed."""

    link: TriggerLink
    words: FirstWords
    stale: tuple[str, ...]
    """Questions it makes stale, whether answered again since or not."""


@dataclass(frozen=True, slots=True)
class PlaceNow:
    """A place that is offered, with what the plan says of it."""

    offer: Offer
    label: str
    rungs: tuple[Rung, ...]
    """One for each variant that eye and repertoire leave; empty where no lens is meant."""


@dataclass(frozen=True, slots=True)
class Replanned:
    """A plan in theatre, at one moment."""

    plan: Plan
    stage: str
    """Empty where nobody said."""
    answer: StateAnswer
    gate: Gate
    places: tuple[PlaceNow, ...]
    pressed: Pressed | None


def replanned(
    plan: Plan,
    told: Answers,
    *,
    stage: str = "",
    trigger: str = "",
    hands: str = "",
) -> Replanned:
    """Return what remains of a plan at one moment of the operation.

    Parameters
    ----------
    plan
        As made beforehand.
    told
        Answers given by now, after the trigger if there is one.
    stage, trigger, hands
        Where the operation stands, what was pressed, what is in the eye. Where empty:
        before the first cut, or the stage and the hands that are usual for the trigger.

    Raises
    ------
    NoSuchName
        If a name is not of the tables, or the trigger cannot happen then.
    """
    read(told, tables())
    stage = stage or (trigger_link(trigger).usual_stage if trigger else "")
    lookup = facts_of(plan.case, plan.case.eye_to_do)
    before: Answers = answers_before(lookup, stage or next(iter(tables().stages)))
    pressed = _pressed(trigger, stage, hands, before) if trigger else None
    presumed = trigger_effect(trigger, before, stage).answers if trigger else before
    answers = {**still_presumed(presumed, told, stage), **told}
    eye = eye_filters(lookup)
    found = state_answer(
        answers,
        removed=_removed(plan, answers, eye),
        repertoire_order=_repertoire_order(plan),
        eye=eye,
    )
    return Replanned(
        plan=plan,
        stage=stage,
        answer=found,
        gate=power_gate(answers, [trigger] if trigger else []),
        places=tuple(
            replace(one, label=STOP_HERE)
            if one.offer.placement == LATER and found.first_choice != LATER
            else one
            for one in (_place_now(plan, each, answers, eye) for each in found.offered)
        ),
        pressed=pressed,
    )


def _pressed(trigger: str, stage: str, hands: str, before: Answers) -> Pressed:
    link = trigger_link(trigger)
    possible = hands_for(trigger, stage)
    if not possible:
        raise NoSuchName(f"stage at which {trigger} can happen", stage, link.stages)
    usual = link.usual_hands if link.usual_hands in possible else possible[0]
    words = first_words(trigger, stage, hands or usual)
    return Pressed(link, words, trigger_effect(trigger, before, stage).stale)


def _removed(plan: Plan, answers: Answers, eye: Mapping[str, EyeVerdict]) -> Mapping[str, str]:
    """Return the places that patient, repertoire and store take out; the eye speaks for itself."""
    found = {}
    for placement in tables().placements:
        if placement != LATER and (why := _why_removed(plan, placement, answers, eye)):
            found[placement] = why
    return MappingProxyType(found)


def _why_removed(
    plan: Plan, placement: str, answers: Answers, eye: Mapping[str, EyeVerdict]
) -> str:
    variants = _variants(placement, eye)
    refused = plan.case.operative_eye.refused_placements
    wanted = [one for one in variants if not {one.key, one.placement} & set(refused)]
    if not wanted:
        return "the patient does not want it"
    done = [one for one in wanted if in_repertoire(one, plan.practice)]
    if not done:
        return "not in your repertoire"
    if answers["lens_in_eye"] == "in_bag" and placement in KEEPS_ITS_LENS:
        return ""
    lacking = [_why_no_lens(plan, one) for one in done]
    return f"no lens for it ({lacking[0]})" if all(lacking) else ""


def _why_no_lens(plan: Plan, place: Place) -> str:
    """Return why the store has no lens for a place; empty where it has, or where none can tell."""
    rung = plan.rung(place.key)
    if rung is not None and rung.lens is not None and rung.chosen is None and not rung.offered:
        return rung.why_closed
    bag = plan.rung("bag")
    return lens_for(place, plan.practice, bag.lens if bag else None).refused_because


def _variants(placement: str, eye: Mapping[str, EyeVerdict]) -> list[Place]:
    """Return the variants of a place that the eye leaves."""
    verdict = eye.get(placement)
    closed = (verdict.closed_variants or {}) if verdict else {}
    return [
        one
        for one in places().values()
        if one.placement == placement and not one.property_of and one.variant not in closed
    ]


def _repertoire_order(plan: Plan) -> tuple[str, ...]:
    mine = dict.fromkeys(name.partition(":")[0] for name in plan.practice.repertoire)
    return tuple(name for name in mine if name in tables().choice_group)


def _place_now(
    plan: Plan, offer: Offer, answers: Answers, eye: Mapping[str, EyeVerdict]
) -> PlaceNow:
    variants = [one for one in _variants(offer.placement, eye) if in_repertoire(one, plan.practice)]
    if offer.placement == "bag":
        torn = answers["posterior_capsule"] in ROUND_HOLE
        variants = [one for one in variants if (one.variant == "posterior_tear") == torn]
    rungs = [rung for one in variants if (rung := plan.rung(one.key)) and one.holds_lens]
    return PlaceNow(offer, _label(offer, variants), tuple(_ranked(rungs)))


def _ranked(rungs: list[Rung]) -> Iterator[Rung]:
    """Yield those with a power first, in the order of the plan."""
    yield from sorted(rungs, key=lambda rung: (rung.chosen is None, rung.order))


def _label(offer: Offer, variants: list[Place]) -> str:
    return variants[0].label if len(variants) == 1 else label(offer.placement)
