"""What has to go in, where it would go if nothing lay in its way, and how far it may move."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.library.reading import table
from zonule.plan.clock_map.spots import Spot
from zonule.practice.records import Practice

HALF_UP: Final = 0.5
HALF_ROUND: Final = 24.0
"""Quarters of an hour to the opposite side."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One thing that has to go in, with the quarters of an hour it may go to."""

    key: str
    kind: str
    usual: int
    """Quarters of an hour from 12 towards the temple."""
    least: int
    most: int

    def moves(self) -> range:
        """Return every position open to it."""
        return range(self.least, self.most + 1)

    def cost(self, quarters: int) -> float:
        """Return how much it counts against a proposal that it lies there."""
        per_hour: float = table("clock_map")["prefers"][self.kind]["per_hour"]
        return per_hour * abs(quarters - self.usual) / 4.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """What this eye needs at the limbus."""

    wound_half_degrees: float
    iris_hooks: bool = False
    capsule_hooks: bool = False
    gap: Spot | None = None
    """The dialysis, where it is known to be there and where."""
    segment: Spot | None = None
    """The segment suture at the middle of the gap."""
    opposite: int | None = None
    """Where a second one would go: quarters of an hour from 12 towards the temple."""


def quarters(hours: float) -> int:
    """Return clock hours as whole quarters.

    Examples
    --------
    >>> quarters(2.25), quarters(-0.3)
    (9, -1)
    """
    return round(4.0 * hours)


def wound_half_degrees(practice: Practice, lookup: Lookup) -> float:
    """Return half the angle that the main wound takes at the limbus."""
    rows = table("clock_map")
    width = practice.habits.main_wound_mm or rows["usual"]["wound_mm"]
    limbus = number(lookup("wtw_mm")) or rows["limbus"]["diameter_mm"]
    return math.degrees(math.asin(min(width / limbus, 1.0)))


def anchored_at(gap: Spot | None, *, asked: bool) -> tuple[Spot | None, int | None]:
    """Return where an anchor is sutured: the middle of the gap; over a large gap opposite too.

    Examples
    --------
    >>> first, opposite = anchored_at(Spot("dialysis", "dialysis", -16.0, 120.0), asked=True)
    >>> first.quarters, opposite
    (-16.0, 8)
    """
    if gap is None or not asked:
        return None, None
    second_over = 15.0 * table("clock_map")["prefers"]["segment"]["second_over"]
    second = _nearest(gap.quarters + HALF_ROUND) if gap.half_degrees > second_over else None
    return Spot("segment_1" if second else "segment", "segment", gap.quarters), second


def slots(wound: int, wanted: Wanted) -> tuple[Slot, ...]:
    """Return everything that goes in beside the main wound, for one place of that wound."""
    found = [*_side_ports(wound)]
    found += _iris_hooks(wound) if wanted.iris_hooks else ()
    found += _capsule_hooks(wound, wanted) if wanted.capsule_hooks else ()
    if wanted.opposite is not None:
        most = quarters(table("clock_map")["prefers"]["segment"]["most"])
        at = wanted.opposite
        found.append(Slot("segment_2", "segment", at, at - most, at + most))
    return tuple(found)


def _side_ports(wound: int) -> Iterator[Slot]:
    """Yield the pair: one on each side of the wound, where hands reach."""
    likes = table("clock_map")["prefers"]["side_port"]
    low, high = (quarters(end) for end in table("clock_map")["prefers"]["reach"]["side_port"])
    least, most = quarters(likes["least"]), quarters(likes["most"])
    for number_, offset in enumerate(likes["from_wound"], 1):
        usual = wound + quarters(offset)
        towards, away = (least, most) if offset > 0.0 else (most, least)
        first, last = usual - towards, usual + away
        yield Slot(f"side_port_{number_}", "side_port", usual, max(first, low), min(last, high))


def _iris_hooks(wound: int) -> Iterator[Slot]:
    """Yield the diamond; the first one stays under the wound."""
    likes = table("clock_map")["prefers"]["iris_hook"]
    for number_, offset in enumerate(likes["from_wound"], 1):
        usual = wound + quarters(offset)
        most = quarters(likes["most"]) if offset else 0
        yield Slot(f"iris_hook_{number_}", "iris_hook", usual, usual - most, usual + most)


def across_the_gap(gap: Spot | None, *, segment: bool) -> tuple[float, ...]:
    """Return where capsule hooks go for a sector loss; empty for general laxity.

    A gap of half the bag and more is general: there the hooks go all round.

    Examples
    --------
    >>> across_the_gap(Spot("dialysis", "dialysis", -16.0, 60.0), segment=False)
    (-22.0, -16.0, -10.0)
    >>> across_the_gap(Spot("dialysis", "dialysis", -16.0, 30.0), segment=False)
    ()
    """
    likes = table("clock_map")["prefers"]["capsule_hook"]
    if gap is None or not likes["sector_from"] <= gap.half_degrees / 15.0 < likes["sector_below"]:
        return ()
    parts = likes["across_with_segment" if segment else "across_the_gap"]
    width = 4.0 * gap.half_degrees / 15.0
    return tuple(gap.quarters + part * width for part in parts)


def _capsule_hooks(wound: int, wanted: Wanted) -> Iterator[Slot]:
    likes = table("clock_map")["prefers"]["capsule_hook"]
    across = across_the_gap(wanted.gap, segment=wanted.segment is not None)
    most = quarters(likes["most_across" if across else "most"])
    evenly = (wound + 4.0 * offset for offset in likes["from_wound"])
    for number_, place in enumerate(across or evenly, 1):
        usual = _nearest(place)
        yield Slot(f"capsule_hook_{number_}", "capsule_hook", usual, usual - most, usual + most)


def _nearest(place: float) -> int:
    """Return the nearest whole quarter, in both eyes the same one."""
    return math.floor(place + HALF_UP)
