"""Reads the theatre tables, once, into frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from zonule.library.reading import status, table
from zonule.plan.states.records import (
    LATER,
    Ask,
    Basis,
    Contradiction,
    First,
    Moot,
    Question,
    Row,
    Stage,
    StepToDo,
    Tables,
    Way,
)

PARTS: Final = ("inputs", "contradictions", "needs", "steps", "questions", "priorities")
"""The tables that decide a state; each is a file of ``library/theatre``."""

Raw = Mapping[str, Any]


def read_raw() -> dict[str, dict[str, Any]]:
    """Return the tables as they stand in the files, by name; for reading only."""
    return {name: table(f"theatre/{name}") for name in PARTS}


@cache
def tables() -> Tables:
    """Return the tables that ship with the program.

    Examples
    --------
    >>> len(tables().questions), len(tables().rows), tables().shape
    (9, 13, (2, 3, 5, 6, 4, 5, 3, 2, 2))
    """
    return tables_of(read_raw())


def tables_of(raw: Mapping[str, Raw]) -> Tables:
    """Return the records of a set of raw tables, such as one that was changed on purpose."""
    inputs, needs, firsts = raw["inputs"], raw["needs"], raw["steps"]
    every_lens = needs["all_lenses"]
    return Tables(
        questions=MappingProxyType({row["id"]: _question(row) for row in inputs["input"]}),
        stages=MappingProxyType({row["id"]: _stage(row) for row in inputs["stage"]}),
        hands=MappingProxyType({key: row["says"] for key, row in inputs["hands"].items()}),
        condition_says=MappingProxyType({row["when"]: row["says"] for row in inputs["condition"]}),
        moot=tuple(
            Moot(row["id"], tuple(row["when_all"]), tuple(row["inputs"])) for row in inputs["moot"]
        ),
        contradictions=_contradictions(raw["contradictions"]),
        placements=(*every_lens["placements"], LATER),
        ways=tuple(_way(row, every_lens) for row in needs["way"]),
        steps=MappingProxyType({row["id"]: _step(row) for row in firsts["step"]}),
        firsts=tuple(
            First(row["placement"], row["step"], tuple(row.get("when_all", ())))
            for row in firsts["first"]
        ),
        asks=_asks(raw["questions"], every_lens),
        with_=_with(raw["questions"]),
        rows=tuple(_row(row) for row in raw["priorities"]["row"]),
        unknown_order=tuple(raw["priorities"]["unknown"]["order"]),
        choice_group=tuple(needs["choice_group"]["placements"]),
    )


def basis_of(row: Raw) -> Basis:
    """Return what a row of the theatre tables rests on."""
    return Basis(tuple(row["sources"]), status(row["status"]), row.get("strength", ""))


def _question(row: Raw) -> Question:
    return Question(
        id=row["id"],
        ask=row["ask"],
        short=row["short"],
        values=tuple(row["values"]),
        says=MappingProxyType(dict(row["says"])),
        asked_from=row["asked_from"],
        before=row["before"],
        about=row["about"],
    )


def _stage(row: Raw) -> Stage:
    return Stage(row["id"], row["name"], tuple(row["hands"]))


def _contradictions(raw: Raw) -> tuple[Contradiction, ...]:
    always = tuple(raw["meta"]["all"])
    return tuple(
        Contradiction(row["id"], (*always, *row["when_all"]), row["says"], tuple(row["inputs"]))
        for row in raw["contradiction"]
    )


def _way(row: Raw, every_lens: Raw) -> Way:
    conditions = (*every_lens["when_all"], *row["when_all"])
    return Way(row["id"], row["placement"], row["name"], conditions, basis_of(row))


def _step(row: Raw) -> StepToDo:
    gives = MappingProxyType(dict(row["gives"]))
    return StepToDo(row["id"], row["name"], row["do"], tuple(row["done_when"]), gives)


def _asks(raw: Raw, every_lens: Raw) -> tuple[Ask, ...]:
    of_all = [Ask(placement, every_lens["ask"]) for placement in every_lens["placements"]]
    own = [Ask(row["placement"], row["ask"], tuple(row.get("when_all", ()))) for row in raw["ask"]]
    return (*of_all, *own)


def _with(raw: Raw) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for row in raw["with"]:
        found[row["placement"]] = (*found.get(row["placement"], ()), row["do"])
    return MappingProxyType(found)


def _row(row: Raw) -> Row:
    return Row(
        id=row["id"],
        name=row["name"],
        short=row["short"],
        when_all=tuple(row["when_all"]),
        order=tuple(row["order"]),
        note=row["note"],
        basis=basis_of(row),
    )
