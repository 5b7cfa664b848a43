"""Turns positions within an eye into the marks of a map, and their clashes into words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Final

from zonule.errors import Side
from zonule.library.reading import status, table
from zonule.plan.clock_map.positions import apart, to_hour
from zonule.plan.clock_map.records import Clash, Mark
from zonule.plan.clock_map.spots import Spot, between, room, too_near

ORDER: Final = (
    "main_wound",
    "side_port",
    "iris_hook",
    "capsule_hook",
    "segment",
    "scleral_port",
    "dialysis",
    "bleb",
    "old_wound",
    "vessels",
)
"""First what is made, in the order of the operation, then what is there."""
FIXED: Final = ("segment", "segment_1", "dialysis", "bleb", "old_wound", "vessels")
"""Keys of what the proposal cannot move."""
SAID_AT_LENGTH: Final = 3
"""So many moved things are named; of more the number is said, and the table has them."""


def label_of(spot: Spot) -> str:
    """Return what a person calls a thing at its place.

    Examples
    --------
    >>> label_of(Spot("iris_hook_2", "iris_hook", 0.0)), label_of(Spot("bleb", "bleb", 0.0))
    ('Iris hook 2', 'Bleb or tube')
    """
    kind: str = table("clock_map")["kind"][spot.kind]["label"]
    number = spot.key.removeprefix(spot.kind).strip("_")
    return f"{kind} {number}".strip()


def mark_of(
    spot: Spot,
    side: Side,
    *,
    usual: float,
    firing: frozenset[str],
    assumed: bool = False,
    says: str = "",
    moved: str = "",
) -> Mark:
    """Return the mark of a thing at its place.

    Parameters
    ----------
    spot
        The thing.
    side
        The eye.
    usual
        Where it would have gone if nothing lay in its way.
    firing
        Rules that fire in this eye.
    assumed
        Whether nobody recorded how wide it is.
    says
        Why there, where the library's words are not enough.
    moved
        Why it was moved, in a few words.
    """
    row = table("clock_map")["kind"][spot.kind]
    return Mark(
        key=spot.key,
        kind=spot.kind,
        label=label_of(spot),
        hour=to_hour(spot.quarters, side),
        half_width_degrees=spot.half_degrees,
        fixed=spot.key in FIXED,
        says=f"{says} {row['why']}".strip(),
        source=row["source"],
        status=status(row["status"]),
        rules=tuple(one for one in row.get("rules", ()) if one in firing),
        moved_degrees=apart(spot.quarters, usual),
        moved=moved,
        width_assumed=assumed,
    )


def in_order(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """Return marks as they are read: what is made first, then what is there."""
    return tuple(sorted(marks, key=lambda one: (ORDER.index(one.kind), one.key)))


def clashes_of(spots: Sequence[Spot]) -> tuple[Clash, ...]:
    """Return every pair that comes nearer than it should, those that must not stay first.

    Examples
    --------
    >>> hook, port = Spot("iris_hook_1", "iris_hook", 0.0), Spot("side_port_1", "side_port", 1.0)
    >>> [(one.first, one.apart_degrees, one.wanted_degrees) for one in clashes_of([hook, port])]
    [('side_port_1', 7.5, 20.0)]
    """
    ordered = sorted(spots, key=lambda one: (ORDER.index(one.kind), one.key))
    found = [_clash(one, other) for one, other in combinations(ordered, 2) if too_near(one, other)]
    return tuple(sorted(found, key=lambda one: not one.hard))


def _clash(first: Spot, second: Spot, *, found_no_room: bool = False) -> Clash:
    row = between(first.kind, second.kind)
    return Clash(
        first=first.key,
        second=second.key,
        labels=(label_of(first), label_of(second)),
        apart_degrees=None if found_no_room else max(room(first, second), 0.0),
        wanted_degrees=row["degrees"],
        hard=row["hard"],
        do=row["do"],
        source=row["source"],
        status=status(row["status"]),
    )


def no_room(spot: Spot, others: Sequence[Spot]) -> tuple[Clash, ...]:
    """Return what keeps a thing off the map that found no room on it.

    Examples
    --------
    >>> gap = Spot("dialysis", "dialysis", 0.0, 120.0)
    >>> [one.apart_degrees for one in no_room(Spot("main_wound", "main_wound", 0.0), [gap])]
    [None]
    """
    return tuple(
        _clash(spot, one, found_no_room=True)
        for one in others
        if too_near(spot, one) and between(spot.kind, one.kind)["hard"]
    )


def in_the_way(usual: Spot, there: Sequence[Spot]) -> str:
    """Return what a thing had to be moved off at its usual place, in words.

    Examples
    --------
    >>> gap = Spot("dialysis", "dialysis", 12.0, 45.0)
    >>> in_the_way(Spot("main_wound", "main_wound", 12.0, 12.0), [gap])
    'the dialysis'
    """
    rows = table("clock_map")["kind"]
    near = (one for one in there if too_near(usual, one))
    names = (f"the {rows[one.kind].get('lost') or label_of(one).lower()}" for one in near)
    return " and ".join(dict.fromkeys(names))


def moved_notes(marks: Sequence[Mark]) -> tuple[str, ...]:
    """Return what lies elsewhere than usual, in one sentence; nothing where nothing does."""
    told = [f"{one.label} {one.moved_degrees:g}° {one.moved}" for one in marks if one.moved]
    others = [one.label for one in marks if one.moved_degrees and not one.moved]
    if len(others) > SAID_AT_LENGTH:
        told.append(f"{len(others)} others to make room")
    elif others:
        told.append(f"{', '.join(others)} to make room")
    return (f"Moved from the usual place: {'; '.join(told)}.",) if told else ()
