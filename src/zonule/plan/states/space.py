"""Every full set of answers at once: which contradict themselves, and what each allows.

The questions have 43,200 full sets of answers, few enough to judge them all when the program
first needs one. Answers not known are then no special case: they stand for all the full sets they
may still become, and a place is offered when every one of those offers it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from zonule.findings.conditions import parse
from zonule.plan.states.records import LATER, NOT_ASKED, NOT_KNOWN, Tables
from zonule.plan.states.tables import tables as shipped
from zonule.plan.states.truth import Answers, holds

Bits = NDArray[np.uint64]
Booleans = NDArray[np.bool_]
Indices = NDArray[np.int64]

NO_ROW: Final = -1
ORDERS_KEPT: Final = 64


@dataclass(frozen=True, slots=True, eq=False)
class Space:
    """What every full set of answers allows; arrays have one element per set, in axis order.

    Bits count from the first entry of the list they speak of: the placements, ways, firsts and
    asks of ``tables``.
    """

    tables: Tables
    numbers: Indices
    """The number of each set, in the shape of the questions."""
    consistent: Booleans
    row: NDArray[np.int8]
    ways: Bits
    offered: Bits
    applies: Bits
    """Firsts that apply."""
    done: Bits
    """Firsts whose step is known to be done."""
    asks: Bits

    def completions(self, answers: Answers) -> Indices:
        """Return the numbers of the consistent full sets that answers may still become."""
        where = tuple(
            _index(question.values, answers[name])
            for name, question in self.tables.questions.items()
        )
        numbers: Indices = np.atleast_1d(self.numbers[where]).ravel()
        return numbers[self.consistent[numbers]]

    def splits(self, cells: Indices, name: str) -> list[Indices]:
        """Return the sets parted by the answer to one question, without empty parts."""
        at = list(self.tables.questions).index(name)
        digit = np.unravel_index(cells, self.tables.shape)[at]
        count = self.tables.shape[at]
        return [part for value in range(count) if (part := cells[digit == value]).size]


def _index(values: Sequence[str], answer: str) -> int | slice:
    """Return which answers are still possible; a moot question that comes back is not known."""
    return slice(None) if answer in (NOT_KNOWN, NOT_ASKED) else values.index(answer)


@cache
def space() -> Space:
    """Return the space of the tables that ship with the program."""
    return space_of(shipped())


def space_of(tables: Tables) -> Space:
    """Judge every full set of answers by a set of tables."""
    judge = _Judge(tables)
    consistent = ~judge.any_of(one.when_all for one in tables.contradictions)
    row = _rows(judge)
    ways = judge.bits(one.when_all for one in tables.ways)
    return Space(
        tables=tables,
        numbers=np.arange(consistent.size).reshape(tables.shape),
        consistent=consistent.ravel(),
        row=row.ravel(),
        ways=ways.ravel(),
        offered=_offered(tables, ways, row).ravel(),
        applies=judge.bits(one.when_all for one in tables.firsts).ravel(),
        done=judge.bits(tables.steps[one.step].done_when for one in tables.firsts).ravel(),
        asks=judge.bits(one.when_all for one in tables.asks).ravel(),
    )


class _Judge:
    """Conditions over all full sets, with the questions that are moot in each."""

    def __init__(self, tables: Tables) -> None:
        self.tables = tables
        self.axis = {name: at for at, name in enumerate(tables.questions)}
        self.moot = {name: np.zeros(tables.shape, dtype=bool) for name in tables.questions}
        for one in tables.moot:
            now = self.all_of(one.when_all)
            for name in one.inputs:
                self.moot[name] = self.moot[name] | now

    def holds(self, text: str) -> Booleans:
        name = parse(text).finding
        values = self.tables.questions[name].values
        shape = [1] * len(self.axis)
        shape[self.axis[name]] = len(values)
        known = np.array([holds(text, value) for value in values]).reshape(shape)
        found: Booleans = np.where(self.moot[name], holds(text, NOT_ASKED), known)
        return found

    def all_of(self, conditions: Iterable[str]) -> Booleans:
        found = np.ones(self.tables.shape, dtype=bool)
        for text in conditions:
            found &= self.holds(text)
        return found

    def any_of(self, rows: Iterable[Iterable[str]]) -> Booleans:
        found = np.zeros(self.tables.shape, dtype=bool)
        for one in rows:
            found |= self.all_of(one)
        return found

    def bits(self, rows: Iterable[Iterable[str]]) -> Bits:
        found = np.zeros(self.tables.shape, dtype=np.uint64)
        for at, one in enumerate(rows):
            found |= self.all_of(one).astype(np.uint64) << np.uint64(at)
        return found


def _rows(judge: _Judge) -> NDArray[np.int8]:
    """Return the first row that holds in each set; that there is no second is for a test."""
    found = np.full(judge.tables.shape, NO_ROW, dtype=np.int8)
    for at, one in reversed(list(enumerate(judge.tables.rows))):
        found[judge.all_of(one.when_all)] = at
    return found


def _offered(tables: Tables, ways: Bits, row: NDArray[np.int8]) -> Bits:
    """Return the places that have a way and stand in the row; a second operation always may."""
    listed = np.array([bits_of(tables.placements, one.order) for one in tables.rows] + [0])
    found = np.zeros(ways.shape, dtype=np.uint64)
    for at, placement in enumerate(tables.placements):
        own = [n for n, way in enumerate(tables.ways) if way.placement == placement]
        mine = np.uint64(sum(1 << n for n in own))
        found |= ((ways & mine) != 0).astype(np.uint64) << np.uint64(at)
    found &= listed.astype(np.uint64)[row]
    return found | np.uint64(bits_of(tables.placements, [LATER]))


def bits_of(names: Sequence[str], chosen: Iterable[str]) -> int:
    """Return chosen names of a list as bits.

    Examples
    --------
    >>> bits_of(["bag", "scleral", "later"], ["bag", "later"])
    5
    """
    return sum(1 << names.index(one) for one in set(chosen))


def every_bit(found: Bits) -> int:
    """Return the bits that all elements have."""
    return int(np.bitwise_and.reduce(found))


def some_bit(found: Bits) -> int:
    """Return the bits that any element has."""
    return int(np.bitwise_or.reduce(found))


def names_in(names: Sequence[Any], bits: int) -> tuple[Any, ...]:
    """Return the entries of a list whose bits are set.

    Examples
    --------
    >>> names_in(["bag", "scleral", "later"], 5)
    ('bag', 'later')
    """
    return tuple(one for at, one in enumerate(names) if bits >> at & 1)


def by_repertoire(
    order: Sequence[str], group: Sequence[str], repertoire_order: Sequence[str]
) -> tuple[str, ...]:
    """Return an order with the places no study ranks as this surgeon's repertoire ranks them.

    Examples
    --------
    >>> order, group = ["bag", "scleral", "iris_claw", "later"], ["scleral", "iris_claw"]
    >>> by_repertoire(order, group, ["iris_claw"])
    ('bag', 'iris_claw', 'scleral', 'later')
    """
    rank = {placement: at for at, placement in enumerate(repertoire_order)}
    mine = [one for one in order if one in group]
    ranked = iter(sorted(mine, key=lambda one: rank.get(one, len(rank))))
    return tuple(next(ranked) if one in group else one for one in order)


@lru_cache(maxsize=ORDERS_KEPT)
def first_choices(
    space: Space, removed_bits: int, repertoire_order: tuple[str, ...]
) -> NDArray[np.int8]:
    """Return the first choice in every full set, as its number among the placements."""
    tables = space.tables
    offered = space.offered & ~np.uint64(removed_bits)
    found = np.full(offered.shape, tables.placements.index(LATER), dtype=np.int8)
    for at, row in enumerate(tables.rows):
        mine = space.row == at
        for placement in reversed(by_repertoire(row.order, tables.choice_group, repertoire_order)):
            number = tables.placements.index(placement)
            found[mine & ((offered >> np.uint64(number) & np.uint64(1)) == 1)] = number
    return found
