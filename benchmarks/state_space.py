"""The whole space of theatre answers, worked out a second time and without the engine.

Two tellings of the same tables over every combination of answers, ``not_known`` among them:

exact
    what all consistent full sets have in common that the answers may still become, and what some
    of them have;
three-valued
    the reading a person makes of the tables: a condition on an answer not known is not known, a
    place needs a way that is true and must stand in the order of every row that may still hold.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from zonule.findings.conditions import parse
from zonule.plan.states.records import LATER, NOT_ASKED, NOT_KNOWN, Tables
from zonule.plan.states.space import Space, bits_of, first_choices
from zonule.plan.states.truth import holds

Array = NDArray[np.uint64]
Truth = NDArray[np.int8]
FALSE, TRUE, OPEN = 0, 1, 2
ALL = np.uint64(2**64 - 1)


@dataclass(frozen=True)
class Exact:
    """Arrays with one more place on every axis than the question has answers: ``not_known``."""

    every: Array
    """Places offered under every consistent completion, as bits."""
    some: Array
    firsts: Array
    """First choices among the completions, as bits."""
    count: NDArray[np.int64]
    """Consistent completions; none where there would be one only in an eye that is not safe."""


def widened(
    found: NDArray[np.uint64], join: Callable[..., NDArray[np.uint64]]
) -> NDArray[np.uint64]:
    """Return an array with ``not_known`` added on every axis: its answers, joined."""
    for axis in range(found.ndim):
        joined = join(found, axis=axis, keepdims=True)
        found = np.concatenate([found, joined], axis=axis)
    return found


def exact(space: Space) -> Exact:
    """Return what completions have in common, over every combination of answers."""
    shape, good = space.tables.shape, space.consistent
    first = np.uint64(1) << first_choices(space, 0, ()).astype(np.uint64)
    offered, none = space.offered, np.uint64(0)
    asked = _dropped(ThreeValued(space.tables))
    every = widened(np.where(good, offered, ALL).reshape(shape), np.bitwise_and.reduce)
    some = widened(np.where(good, offered, none).reshape(shape), np.bitwise_or.reduce)
    firsts = widened(np.where(good, first, none).reshape(shape), np.bitwise_or.reduce)
    count = widened(good.astype(np.uint64).reshape(shape), np.add.reduce)
    found = count[asked].astype(np.int64)
    found[-1][found[0] == 0] = 0  # safe is the first axis, and never told from other answers
    return Exact(every[asked], some[asked], firsts[asked], found)


def _dropped(told: ThreeValued) -> tuple[NDArray[np.int64], ...]:
    """Return where each combination stands once answers to moot questions are dropped."""
    digits = np.indices(told.shape)
    return tuple(
        np.where(told.moot[name], told.shape[axis] - 1, digits[axis])
        for name, axis in told.axis.items()
    )


class ThreeValued:
    """The tables read with three values, over every combination of answers."""

    def __init__(self, tables: Tables) -> None:
        self.tables = tables
        self.axis = {name: at for at, name in enumerate(tables.questions)}
        self.shape = tuple(size + 1 for size in tables.shape)
        self.moot = {name: np.zeros(self.shape, dtype=bool) for name in tables.questions}
        for one in tables.moot:
            now = self.all_of(one.when_all) == TRUE
            for name in one.inputs:
                self.moot[name] = self.moot[name] | now

    def one(self, text: str) -> Truth:
        name = parse(text).finding
        known = [int(holds(text, value)) for value in self.tables.questions[name].values]
        known.append(known[0] if len(set(known)) == 1 else OPEN)
        where = [1] * len(self.shape)
        where[self.axis[name]] = len(known)
        of_moot = int(holds(text, NOT_ASKED))
        told = np.array(known, dtype=np.int8).reshape(where)
        return np.where(self.moot[name], np.int8(of_moot), told)

    def all_of(self, conditions: Iterable[str]) -> Truth:
        found = np.full(self.shape, TRUE, dtype=np.int8)
        for text in conditions:
            now = self.one(text)
            false, unsure = (found == FALSE) | (now == FALSE), (found == OPEN) | (now == OPEN)
            found = np.where(false, FALSE, np.where(unsure, OPEN, TRUE)).astype(np.int8)
        return found

    def contradicted(self) -> NDArray[np.bool_]:
        found = np.zeros(self.shape, dtype=bool)
        for one in self.tables.contradictions:
            found |= self.all_of(one.when_all) == TRUE
        return found

    def offered(self) -> Array:
        """Return what the three-valued reading offers, as bits."""
        tables, rows = self.tables, [self.all_of(row.when_all) for row in self.tables.rows]
        settled = np.any([row == TRUE for row in rows], axis=0)
        listed = np.full(self.shape, ALL, dtype=np.uint64)
        for row, told in zip(tables.rows, rows, strict=True):
            candidate = np.where(settled, told == TRUE, told != FALSE)
            order = np.uint64(bits_of(tables.placements, row.order))
            listed = np.where(candidate, listed & order, listed)
        found = np.zeros(self.shape, dtype=np.uint64)
        for way in tables.ways:
            bit = np.uint64(bits_of(tables.placements, [way.placement]))
            found |= np.where(self.all_of(way.when_all) == TRUE, bit, np.uint64(0))
        later = np.uint64(bits_of(tables.placements, [LATER]))
        found = np.where(self.contradicted(), np.uint64(0), found & listed)
        told_all: Array = found | later
        return told_all


def dropped_answers(told: ThreeValued) -> NDArray[np.int8]:
    """Return how many answers each combination drops, because their questions are moot."""
    digits = np.indices(told.shape)
    found = np.zeros(told.shape, dtype=np.int8)
    for name, axis in told.axis.items():
        found += told.moot[name] & (digits[axis] < told.shape[axis] - 1)
    return found


def loses(
    offered: Array, possible: NDArray[np.bool_], dropped: NDArray[np.int8]
) -> tuple[int, int]:
    """Return how often one more answer takes an offer away, over all pairs that are possible.

    First where that answer drops no other, then where it drops one.
    """
    plain = dropping = 0
    for axis in range(offered.ndim):
        unknown = offered.shape[axis] - 1
        before, known = offered.take([unknown], axis=axis), offered.take(range(unknown), axis=axis)
        had, has = dropped.take([unknown], axis=axis), dropped.take(range(unknown), axis=axis)
        fine = possible.take(range(unknown), axis=axis)
        lost = ((before & ~known) != 0) & fine
        plain += int((lost & (has == had)).sum())
        dropping += int((lost & (has != had)).sum())
    return plain, dropping


def answers_at(tables: Tables, number: int) -> dict[str, str]:
    """Return the answers of one combination, counted with ``not_known`` on every axis."""
    shape = tuple(size + 1 for size in tables.shape)
    digits = [int(one) for one in np.unravel_index(number, shape)]
    questions = tables.questions.items()
    return {
        name: (*question.values, NOT_KNOWN)[digit]
        for (name, question), digit in zip(questions, digits, strict=True)
    }
