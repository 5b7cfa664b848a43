"""What a trigger does to the answers, and the first words for what is in the eye then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from zonule.errors import LibraryFault, NoSuchName
from zonule.library.reading import table
from zonule.plan.states.engine import read
from zonule.plan.states.records import NOT_KNOWN, Basis, Tables
from zonule.plan.states.tables import basis_of
from zonule.plan.states.tables import tables as shipped
from zonule.plan.states.truth import Answers


@dataclass(frozen=True, slots=True)
class TriggerLink:
    """A trigger: where it can happen, and what it does to the answers."""

    id: str
    name: str
    stages: tuple[str, ...]
    hands: tuple[str, ...]
    usual_stage: str
    usual_hands: str
    forgets: tuple[str, ...]
    sets: Mapping[str, str]
    closes_gate: bool
    then: str
    """The order of the minutes after."""
    sign: str
    avoid: tuple[str, ...]
    basis: Basis


@dataclass(frozen=True, slots=True)
class FirstWords:
    """What is said in the first ten seconds."""

    trigger: str
    hands: str
    say: tuple[str, ...]
    basis: Basis


@dataclass(frozen=True, slots=True)
class TriggerEffect:
    """What pressing a trigger makes of the answers."""

    answers: Mapping[str, str]
    stale: tuple[str, ...]
    """Questions to be asked again."""
    given: tuple[str, ...]
    """Questions the trigger itself answers."""
    closes_gate: bool
    then: str


@cache
def trigger_links() -> Mapping[str, TriggerLink]:
    """Return every trigger by id.

    Examples
    --------
    >>> trigger_links()["TR-04"].name
    'The rhexis runs out'
    """
    rows = table("theatre/trigger_links")["trigger"]
    return MappingProxyType({row["id"]: _link(row) for row in rows})


def _link(row: Mapping[str, Any]) -> TriggerLink:
    return TriggerLink(
        id=row["id"],
        name=row["name"],
        stages=tuple(row["stages"]),
        hands=tuple(row["hands"]),
        usual_stage=row["usual_stage"],
        usual_hands=row["usual_hands"],
        forgets=tuple(row["forgets"]),
        sets=MappingProxyType(dict(row["sets"])),
        closes_gate=row["closes_gate"],
        then=row["then"],
        sign=row.get("sign", ""),
        avoid=tuple(row.get("avoid", ())),
        basis=basis_of(row),
    )


def trigger_link(trigger: str) -> TriggerLink:
    """Return one trigger.

    Raises
    ------
    NoSuchName
        If there is no such trigger.
    """
    if trigger not in trigger_links():
        raise NoSuchName("trigger", trigger, trigger_links())
    return trigger_links()[trigger]


def shuts_gate(event: str) -> bool:
    """Tell whether an event is a trigger that shuts the gate before a power.

    Examples
    --------
    >>> shuts_gate("TR-12"), shuts_gate("TR-02"), shuts_gate("cortex_out")
    (True, False, False)
    """
    return event in trigger_links() and trigger_links()[event].closes_gate


def trigger_effect(trigger: str, answers: Answers, stage: str) -> TriggerEffect:
    """Return what the answers are once a trigger is pressed.

    An answer is forgotten unless its question means nothing yet at that stage: before the rhexis
    is begun it stays "not made yet", whatever happens.

    Parameters
    ----------
    trigger, stage
        Ids of the tables.
    answers
        Answers by question; missing ones are not known.

    Raises
    ------
    NoSuchName
        If the trigger is unknown, or cannot happen at that stage.

    Examples
    --------
    >>> told = trigger_effect("TR-13", {"posterior_capsule": "intact"}, "nucleus")
    >>> told.answers["posterior_capsule"], told.stale[0]
    ('not_known', 'posterior_capsule')
    """
    link, tables = _at(trigger, stage), shipped()
    found = read(answers, tables)
    stale = tuple(name for name in link.forgets if _asked_by_now(name, stage, tables))
    found |= dict.fromkeys(stale, NOT_KNOWN) | dict(link.sets)
    return TriggerEffect(
        answers=MappingProxyType(found),
        stale=stale,
        given=tuple(link.sets),
        closes_gate=link.closes_gate,
        then=link.then,
    )


def _at(trigger: str, stage: str) -> TriggerLink:
    link = trigger_link(trigger)
    if stage not in shipped().stages:
        raise NoSuchName("stage", stage, shipped().stages)
    if stage not in link.stages:
        raise NoSuchName(f"stage at which {trigger} can happen", stage, link.stages)
    return link


def _asked_by_now(name: str, stage: str, tables: Tables) -> bool:
    order = list(tables.stages)
    return order.index(tables.questions[name].asked_from) <= order.index(stage)


def hands_for(trigger: str, stage: str) -> tuple[str, ...]:
    """Return what can be in the eye when a trigger happens at a stage.

    Examples
    --------
    >>> hands_for("TR-04", "rhexis")
    ('hand', 'nothing')
    """
    link = _at(trigger, stage)
    return tuple(one for one in shipped().stages[stage].hands if one in link.hands)


def first_words(trigger: str, stage: str, hands: str) -> FirstWords:
    """Return the one set of first words for a trigger, a stage and what is in the eye.

    Raises
    ------
    NoSuchName
        If the trigger cannot happen then.
    LibraryFault
        If there is not exactly one set.

    Examples
    --------
    >>> first_words("TR-13", "nucleus", "handpiece").say[:2]
    ('Foot to position 1.', 'Hold still, not one more piece.')
    """
    possible = hands_for(trigger, stage)
    if hands not in possible:
        raise NoSuchName(f"thing in the eye for {trigger} at stage {stage}", hands, possible)
    found = [row for row in _words() if _speaks_for(row, trigger, stage, hands)]
    if len(found) != 1:
        raise LibraryFault(f"{len(found)} sets of first words: {trigger}, {stage}, {hands}")
    return FirstWords(trigger, hands, tuple(found[0]["say"]), basis_of(found[0]))


def usual_words(trigger: str) -> FirstWords:
    """Return the first words for the stage and hands that are usual for a trigger.

    Examples
    --------
    >>> usual_words("TR-03").hands
    'hand'
    """
    link = trigger_link(trigger)
    return first_words(trigger, link.usual_stage, link.usual_hands)


def _words() -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = table("theatre/first_words")["first_words"]
    return rows


def _speaks_for(row: Mapping[str, Any], trigger: str, stage: str, hands: str) -> bool:
    here = row.get("stages", [stage])
    return row["trigger"] == trigger and hands in row["hands"] and stage in here
