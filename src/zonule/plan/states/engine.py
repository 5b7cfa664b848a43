"""From the answers of the team to the places that remain for the lens.

::

    answers ──► moot ones dropped ──► every full set they may become
                                         │
             offered under all,          ├──► offered, in the order of the row
             under some,                 ├──► open, with the question that decides it
             under none                  └──► refused, with the reason
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from zonule.errors import NoSuchName
from zonule.plan.states.answer import (
    Clash,
    Offer,
    OpenPlace,
    RefusedPlace,
    StateAnswer,
    StepFirst,
)
from zonule.plan.states.eye import NOTHING_SAID, EyeVerdict
from zonule.plan.states.questions import (
    ALWAYS_FIRST as SAFE,
)
from zonule.plan.states.questions import (
    Undecided,
    decides,
    next_question,
    undecided,
    worth_asking,
)
from zonule.plan.states.records import LATER, NOT_KNOWN, Ask, Row, Tables
from zonule.plan.states.refusals import label, refusal
from zonule.plan.states.space import (
    Indices,
    Space,
    bits_of,
    by_repertoire,
    every_bit,
    names_in,
    some_bit,
    space,
)
from zonule.plan.states.truth import Answers, after_moot, all_true

__all__ = ["Offer", "StateAnswer", "state_answer"]

NOTHING: Final[Mapping[str, str]] = MappingProxyType({})
NO_EYE: Final[Mapping[str, EyeVerdict]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class _Asked:
    """One asking, on its way through the steps above."""

    space: Space
    answers: Answers
    removed: Mapping[str, str]
    repertoire_order: tuple[str, ...]
    eye: Mapping[str, EyeVerdict]

    @property
    def tables(self) -> Tables:
        return self.space.tables

    @property
    def removed_bits(self) -> int:
        return bits_of(self.tables.placements, self.removed)

    def undecided(self, cells: Indices) -> Undecided:
        return undecided(self.space, cells, self.removed_bits, self.repertoire_order)


def state_answer(
    answers: Mapping[str, str],
    *,
    removed: Mapping[str, str] = NOTHING,
    repertoire_order: Sequence[str] = (),
    eye: Mapping[str, EyeVerdict] = NO_EYE,
    of: Space | None = None,
) -> StateAnswer:
    """Return where the lens may go, in order, and what is asked next.

    Parameters
    ----------
    answers
        Answers by question; one that is missing, or ``not_known``, is not known.
    removed
        Places that surgeon, patient or store take out, with the reason of each.
    repertoire_order
        This surgeon's order of the places that no study ranks.
    eye
        What the findings of the eye say of each place: it refuses, asks and warns.
    of
        Judged tables other than those that ship with the program.

    Raises
    ------
    NoSuchName
        If a question, an answer or a place is not of the tables.

    Examples
    --------
    >>> told = state_answer(
    ...     {
    ...         "safe_to_go_on": "yes",
    ...         "lens_in_eye": "none",
    ...         "posterior_capsule": "tear_large",
    ...         "rhexis": "continuous",
    ...         "vitreous": "in_chamber",
    ...         "gap_hours": "0",
    ...         "usable_rim": "360",
    ...         "capsule_opening_fit": "yes",
    ...         "ring_in": "no",
    ...     }
    ... )
    >>> told.first_choice, [one.placement for one in told.offered][:2], told.offered[0].ready
    ('sulcus_capture', ['sulcus_capture', 'sulcus_three_piece'], False)
    >>> told.refused[0].sentence
    'In the bag: needs a whole posterior capsule; here a large tear, or one still running.'
    """
    here = of or space()
    tables = here.tables
    by_eye = {name: one.refused_because for name, one in eye.items() if one.refused_because}
    asked = _Asked(
        space=here,
        answers=after_moot(read(answers, tables), tables),
        removed=_known_places(by_eye | dict(removed), tables),
        repertoire_order=tuple(repertoire_order),
        eye=eye,
    )
    if not here.completions(_if_safe(asked.answers)).size:
        return _again(asked, _clashes(asked))
    return _answer(asked, here.completions(asked.answers))


def read(answers: Mapping[str, str], tables: Tables) -> dict[str, str]:
    """Return the answers to every question, those missing as not known.

    Raises
    ------
    NoSuchName
        If a question or an answer is not of the tables.
    """
    for name, value in answers.items():
        if name not in tables.questions:
            raise NoSuchName("question", name, tables.questions)
        values = (*tables.questions[name].values, NOT_KNOWN)
        if value not in values:
            raise NoSuchName(f"answer to {name}", value, values)
    return {name: answers.get(name, NOT_KNOWN) for name in tables.questions}


def _known_places(removed: Mapping[str, str], tables: Tables) -> Mapping[str, str]:
    """Return what is removed; a second operation never is."""
    for name in removed:
        if name not in tables.placements:
            raise NoSuchName("place", name, tables.placements)
    return {name: why for name, why in removed.items() if name != LATER}


def _if_safe(answers: Answers) -> Answers:
    """Return the answers as they are if the eye is safe: that is never told from the others."""
    return {**answers, SAFE: "yes"} if answers[SAFE] == NOT_KNOWN else answers


def _clashes(asked: _Asked) -> tuple[Clash, ...]:
    """Return what contradicts itself; where each outcome does so in its own way, all of them.

    Nothing does while it is not known whether the eye is safe: that is settled first.
    """
    if asked.answers[SAFE] == NOT_KNOWN:
        return ()
    judged = [
        (one, all_true(one.when_all, asked.answers, asked.tables.questions))
        for one in asked.tables.contradictions
    ]
    found = [one for one, value in judged if value]
    found = found or [one for one, value in judged if value is None]
    return tuple(Clash(one.id, one.says, one.inputs) for one in found)


def _again(asked: _Asked, clashes: tuple[Clash, ...]) -> StateAnswer:
    """Return that the answers must first agree; until then there is only a second operation."""
    others = (one for one in asked.tables.placements if one != LATER)
    until = "the answers agree" if clashes else "it is known whether the eye is safe"
    return StateAnswer(
        answers=MappingProxyType(dict(asked.answers)),
        contradictions=clashes,
        rows=(),
        offered=(_later(asked),),
        first_choice=None,
        open=(),
        refused=tuple(RefusedPlace(one, f"{label(one)}: waits until {until}.") for one in others),
        next_question=clashes[0].inputs[0] if clashes else SAFE,
        different=(),
    )


def _later(asked: _Asked) -> Offer:
    asks = tuple(one.ask for one in asked.tables.asks if one.placement == LATER)
    return Offer(LATER, (), (), asks, asked.tables.with_.get(LATER, ()), ())


def _answer(asked: _Asked, cells: Indices) -> StateAnswer:
    found = asked.undecided(cells)
    rows = _rows(asked, cells)
    names = asked.tables.placements
    different = tuple(names[at] for at in found.firsts)
    offered = _in_order(asked, rows, names_in(names, found.every))
    return StateAnswer(
        answers=MappingProxyType(dict(asked.answers)),
        contradictions=(),
        rows=tuple(row.id for row in rows),
        offered=tuple(_offer(asked, cells, one) for one in offered),
        first_choice=different[0] if len(different) == 1 and different[0] in offered else None,
        open=_open(asked, cells, names_in(names, found.some & ~found.every)),
        refused=_refused(asked, cells, rows, found),
        next_question=next_question(
            asked.space, cells, asked.answers, lambda part: asked.undecided(part).count
        ),
        different=different,
    )


def _rows(asked: _Asked, cells: Indices) -> tuple[Row, ...]:
    numbers = sorted(set(asked.space.row[cells].tolist()))
    return tuple(asked.tables.rows[at] for at in numbers)


def _in_order(asked: _Asked, rows: Sequence[Row], offered: Sequence[str]) -> tuple[str, ...]:
    tables = asked.tables
    order = rows[0].order if len(rows) == 1 else tables.unknown_order
    ranked = by_repertoire(order, tables.choice_group, asked.repertoire_order)
    return tuple(one for one in ranked if one in offered)


def _offer(asked: _Asked, cells: Indices, placement: str) -> Offer:
    tables, found = asked.tables, asked.space
    own = sum(1 << at for at, way in enumerate(tables.ways) if way.placement == placement)
    ways = every_bit(found.ways[cells]) & own or some_bit(found.ways[cells]) & own
    of_eye = asked.eye.get(placement, NOTHING_SAID)
    return Offer(
        placement=placement,
        ways=tuple(way.id for way in names_in(tables.ways, ways)),
        steps=_steps(asked, cells, placement),
        asks=(*_asks(asked, cells, placement), *of_eye.asks),
        with_=tables.with_.get(placement, ()),
        warns=of_eye.warns,
    )


def _steps(asked: _Asked, cells: Indices, placement: str) -> tuple[StepFirst, ...]:
    """Return the steps that apply, each once, with whether it is done or may yet be needed."""
    wanted: dict[str, int] = {}
    for at, one in enumerate(asked.tables.firsts):
        if one.placement == placement:
            wanted[one.step] = wanted.get(one.step, 0) | 1 << at
    told = (_step(asked, cells, step, bits) for step, bits in wanted.items())
    return tuple(one for one in told if one is not None)


def _step(asked: _Asked, cells: Indices, name: str, bits: int) -> StepFirst | None:
    """Return a step as all outcomes have it; None where it is done or needless in each."""
    applies = (asked.space.applies[cells] & np.uint64(bits)) != 0
    todo = applies & ((asked.space.done[cells] & np.uint64(bits)) == 0)
    if not todo.any() and not applies.all():
        return None
    step = asked.tables.steps[name]
    needed = bool(todo.all())
    return StepFirst(
        step.id, step.name, step.do, if_needed=bool(todo.any()) and not needed, done=not todo.any()
    )


def _asks(asked: _Asked, cells: Indices, placement: str) -> tuple[str, ...]:
    found: tuple[Ask, ...] = names_in(asked.tables.asks, some_bit(asked.space.asks[cells]))
    return tuple(dict.fromkeys(one.ask for one in found if one.placement == placement))


def _open(asked: _Asked, cells: Indices, placements: Sequence[str]) -> tuple[OpenPlace, ...]:
    worth = worth_asking(asked.answers, asked.space)
    names = asked.tables.placements
    found = []
    for one in placements:
        name = decides(asked.space, cells, worth, names.index(one))
        question = asked.tables.questions[name]
        found.append(OpenPlace(one, name, f"{label(one)}: depends on {question.short}."))
    return tuple(found)


def _refused(
    asked: _Asked, cells: Indices, rows: Sequence[Row], found: Undecided
) -> tuple[RefusedPlace, ...]:
    """Return every place that no outcome allows; one the answers allow says who took it out."""
    allowed = some_bit(asked.space.offered[cells])
    told = []
    for at, one in enumerate(asked.tables.placements):
        if found.some >> at & 1:
            continue
        if allowed >> at & 1:
            sentence = f"{label(one)}: {asked.removed[one]}."
        else:
            sentence = refusal(one, asked.answers, rows, asked.tables)
        told.append(RefusedPlace(one, sentence))
    return tuple(told)
