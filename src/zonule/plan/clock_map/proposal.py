"""Where everything goes: clear of all clashes where that can be, and where hands can be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from zonule.library.reading import table
from zonule.plan.clock_map.least_bad import least_bad
from zonule.plan.clock_map.search import Placing, cheapest
from zonule.plan.clock_map.spots import Spot, clash, warnings
from zonule.plan.clock_map.wanted import Slot, Wanted, quarters, slots


@dataclass(frozen=True, slots=True)
class Proposal:
    """The main wound and everything that goes in with it."""

    wound: Spot
    placed: tuple[tuple[Slot, Spot], ...]
    no_room: tuple[Spot, ...] = ()
    """What found no place without a clash, where it would be needed most."""


def propose(usual: int, there: Sequence[Spot], wanted: Wanted) -> Proposal | None:
    """Return a proposal free of clashes, with as much in it as finds room.

    First each thing by a stab of its own; if there is no such arrangement, with iris hook and
    capsule hook by one stab where that helps; else some find no room, and that is said.

    Parameters
    ----------
    usual
        Where the main wound would go: quarters of an hour from 12 towards the temple.
    there
        What is there already.
    wanted
        What this eye needs.

    Returns
    -------
    Proposal or None
        None where nothing but a clash is open to the main wound itself: then the surgeon decides.
    """
    wounds = [
        (cost + _warned(spot, there), spot)
        for cost, spot in _wounds(usual, wanted)
        if not any(clash(spot, one) for one in there)
    ]
    wounds.sort(key=lambda one: (one[0], abs(one[1].quarters - usual), one[1].quarters))
    for one_stab in (False, True):
        best = _best(wounds, there, wanted, one_stab=one_stab)
        if best is not None:
            return _with_spots(*best, wanted)
    return _least_bad(wounds, there, wanted)


def _best(
    wounds: Sequence[tuple[float, Spot]], there: Sequence[Spot], wanted: Wanted, *, one_stab: bool
) -> tuple[Spot, Placing] | None:
    best: tuple[Spot, Placing] | None = None
    below = math.inf
    for cost, spot in wounds:
        placing = cheapest(
            _slots(spot, wanted), [*there, spot], below=below - cost, one_stab=one_stab
        )
        if placing is not None:
            best, below = (spot, placing), cost + placing.cost
    return best


def _warned(spot: Spot, there: Sequence[Spot]) -> float:
    weight: float = table("clock_map")["prefers"]["warning_counts"]
    return weight * warnings(spot, there)


def _wounds(usual: int, wanted: Wanted) -> Iterator[tuple[float, Spot]]:
    """Yield every hour of the main wound that hands can reach, with what moving it there costs."""
    prefers = table("clock_map")["prefers"]
    low, high = (quarters(end) for end in prefers["reach"]["main_wound"])
    step = quarters(prefers["main_wound"]["step_hours"])
    grid = set(range(-step * (-low // step), high + 1, step)) | {usual, low, high}
    for at in sorted(one for one in grid if low <= one <= high):
        spot = Spot("main_wound", "main_wound", at, wanted.wound_half_degrees)
        yield prefers["main_wound"]["per_hour"] * abs(at - usual) / 4.0, spot


def _slots(wound: Spot, wanted: Wanted) -> tuple[Slot, ...]:
    return slots(round(wound.quarters), wanted)


def _least_bad(
    wounds: Sequence[tuple[float, Spot]], there: Sequence[Spot], wanted: Wanted
) -> Proposal | None:
    """Return the arrangement with the fewest clashes, what still clashes taken out of it."""
    tried = [(cost, spot, least_bad(_slots(spot, wanted), [*there, spot])) for cost, spot in wounds]
    if not tried:
        return None
    _, wound, placing = min(tried, key=lambda one: one[0] + one[2].cost)
    whole = _with_spots(wound, placing, wanted)
    keys = {one.key for one in _clashing([spot for _, spot in whole.placed], [*there, wound])}
    return Proposal(
        wound,
        tuple(one for one in whole.placed if one[1].key not in keys),
        tuple(spot for _, spot in whole.placed if spot.key in keys),
    )


def _clashing(moving: list[Spot], taken: Sequence[Spot]) -> list[Spot]:
    """Return what has to be taken out until nothing clashes: first what clashes most."""
    out: list[Spot] = []
    while True:
        kept = [one for one in moving if one not in out]
        count = [
            sum(clash(one, other) for other in (*taken, *kept) if other is not one) for one in kept
        ]
        if not any(count):
            return out
        most = max(count)
        out.append([one for one, many in zip(kept, count, strict=True) if many == most][-1])


def _with_spots(wound: Spot, placing: Placing, wanted: Wanted) -> Proposal:
    return Proposal(
        wound,
        tuple(
            (slot, Spot(slot.key, slot.kind, placing.at[slot.key]))
            for slot in _slots(wound, wanted)
        ),
    )
