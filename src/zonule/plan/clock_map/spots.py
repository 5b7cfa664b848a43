"""A thing at a position, and how much room two of them want between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from zonule.library.reading import table
from zonule.plan.clock_map.positions import apart

AS_GOOD_AS: Final = 1e-6
"""Degrees by which sums of hours may miss a limit that they meet."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A thing of a kind at a position."""

    key: str
    kind: str
    quarters: float
    half_degrees: float = 0.0


@cache
def between(first: str, second: str) -> dict[str, Any]:
    """Return what two kinds want between them.

    Examples
    --------
    >>> between("iris_hook", "side_port")["degrees"], between("dialysis", "main_wound")["degrees"]
    (20.0, 45.0)
    """
    rows = table("clock_map")
    found = [row for row in rows["between"] if sorted(row["of"]) == sorted((first, second))]
    row: dict[str, Any] = found[0] if found else rows["between_any"]
    return row


THERE_ALREADY: Final = frozenset({"dialysis", "bleb", "old_wound", "vessels"})


@cache
def _indifferent() -> frozenset[frozenset[str]]:
    """Return the kinds that may lie over each other."""
    return frozenset(frozenset(pair) for pair in table("clock_map")["indifferent"]["pairs"])


def meet(first: Spot, second: Spot) -> bool:
    """Tell whether two things have anything to say to each other.

    Examples
    --------
    >>> meet(Spot("a", "bleb", 0), Spot("b", "vessels", 0))
    False
    >>> meet(Spot("main_wound", "main_wound", 0), Spot("iris_hook_1", "iris_hook", 0))
    False
    """
    kinds = frozenset({first.kind, second.kind})
    under_the_wound = {first.key, second.key} == {"main_wound", "iris_hook_1"}
    opposite = kinds == {"scleral_port"}
    there = kinds <= THERE_ALREADY
    return not (under_the_wound or opposite or there or kinds in _indifferent())


def room(first: Spot, second: Spot) -> float:
    """Return the degrees from edge to edge of two things, negative where they overlap."""
    row = between(first.kind, second.kind)
    halves = first.half_degrees + second.half_degrees
    if row.get("middle"):
        moving = first if first.kind == row["of"][0] else second
        halves -= moving.half_degrees
    return apart(first.quarters, second.quarters) - halves


def one_stab(first: Spot, second: Spot) -> bool:
    """Tell whether an iris hook and a capsule hook use one stab, one after the other.

    Examples
    --------
    >>> one_stab(Spot("a", "iris_hook", 6.0), Spot("b", "capsule_hook", 6.0))
    True
    """
    hooks = {first.kind, second.kind} == {"iris_hook", "capsule_hook"}
    return hooks and apart(first.quarters, second.quarters) < AS_GOOD_AS


def too_near(first: Spot, second: Spot) -> bool:
    """Tell whether two things come nearer than they should.

    Examples
    --------
    >>> too_near(Spot("a", "iris_hook", 0), Spot("b", "side_port", 3))
    False
    >>> too_near(Spot("a", "iris_hook", 0), Spot("b", "side_port", 2))
    True
    >>> too_near(Spot("a", "side_port", 0), Spot("b", "vessels", 3, 15.0))
    False
    """
    if not meet(first, second) or one_stab(first, second):
        return False
    wanted, there = between(first.kind, second.kind)["degrees"], room(first, second)
    return bool(there < wanted - AS_GOOD_AS)


def clash(first: Spot, second: Spot) -> bool:
    """Tell whether two things are so near that one has to move."""
    return too_near(first, second) and bool(between(first.kind, second.kind)["hard"])


def warnings(spot: Spot, fixed: Sequence[Spot]) -> int:
    """Return how many things that are there already warn against a spot, without forbidding it."""
    return sum(too_near(spot, one) and not between(spot.kind, one.kind)["hard"] for one in fixed)
