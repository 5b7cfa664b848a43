"""Which question to ask next: the one whose worst answer leaves least undecided."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from zonule.plan.states.records import NOT_KNOWN
from zonule.plan.states.space import Indices, Space, every_bit, first_choices, some_bit
from zonule.plan.states.truth import Answers, may_become_moot

ALWAYS_FIRST = "safe_to_go_on"


@dataclass(frozen=True, slots=True)
class Undecided:
    """What is offered under every, and under some, of the outcomes, and which come first."""

    every: int
    some: int
    firsts: tuple[int, ...]

    @property
    def count(self) -> int:
        """Places open, and first choices beside the first."""
        return (self.some & ~self.every).bit_count() + len(self.firsts) - 1


def undecided(
    space: Space, cells: Indices, removed_bits: int, repertoire_order: tuple[str, ...]
) -> Undecided:
    """Return what the outcomes of the answers not known have in common."""
    offered = space.offered[cells]
    first = first_choices(space, removed_bits, repertoire_order)[cells]
    return Undecided(
        every=every_bit(offered) & ~removed_bits,
        some=some_bit(offered) & ~removed_bits,
        firsts=tuple(np.unique(first).tolist()),
    )


def worth_asking(answers: Answers, space: Space) -> tuple[str, ...]:
    """Return the questions not answered that no other answer could still make moot."""
    tables = space.tables
    return tuple(
        name
        for name in tables.questions
        if answers[name] == NOT_KNOWN and not may_become_moot(name, answers, tables)
    )


def next_question(
    space: Space, cells: Indices, answers: Answers, count: Callable[[Indices], int]
) -> str | None:
    """Return the question to ask next; None where no answer would change anything."""
    asked = worth_asking(answers, space)
    if ALWAYS_FIRST in asked:
        return ALWAYS_FIRST
    if not asked or count(cells) == 0:
        return None

    def after(name: str) -> tuple[int, int]:
        outcomes = [count(part) for part in space.splits(cells, name)]
        return max(outcomes), sum(outcomes)

    return min(asked, key=after)


def decides(space: Space, cells: Indices, asked: tuple[str, ...], bit: int) -> str:
    """Return the question that most answers of settle whether one place is allowed."""

    def still_open(name: str) -> int:
        parts = (
            space.offered[part] >> np.uint64(bit) & np.uint64(1)
            for part in space.splits(cells, name)
        )
        return sum(bool(part.any() and not part.all()) for part in parts)

    return min(asked, key=still_open)
