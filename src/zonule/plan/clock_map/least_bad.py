"""Where no arrangement is free of clashes: the one with the fewest, then with the least moving.

Each thing in turn goes where it clashes least with all the others, until nothing moves any more.
That is a good arrangement, not proven to be the best; its clashes are said.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from zonule.plan.clock_map.search import Placing
from zonule.plan.clock_map.spots import Spot, clash, warnings
from zonule.plan.clock_map.wanted import Slot

CLASH_COUNTS: Final = 1000.0
"""Against clock hours of moving, which stay far below it."""
ROUNDS: Final = 12


def _cost(slot: Slot, quarters: int, others: Sequence[Spot]) -> float:
    spot = Spot(slot.key, slot.kind, quarters)
    clashes = sum(clash(spot, one) for one in others)
    return CLASH_COUNTS * clashes + slot.cost(quarters) + warnings(spot, others)


def least_bad(slots: Sequence[Slot], taken: Sequence[Spot]) -> Placing:
    """Return an arrangement with few clashes.

    Examples
    --------
    >>> tight = [Slot("a", "iris_hook", 0, 0, 1), Slot("b", "iris_hook", 1, 1, 2)]
    >>> least_bad(tight, []).cost >= CLASH_COUNTS
    True
    """
    at = {slot.key: slot.usual for slot in slots}
    for _ in range(ROUNDS):
        before = dict(at)
        for slot in slots:
            others = _others(slot, slots, at, taken)
            at[slot.key] = min(
                slot.moves(), key=lambda one: (_cost(slot, one, others), abs(one - slot.usual), one)
            )
        if at == before:
            break
    costs = (_cost(slot, at[slot.key], _others(slot, slots, at, taken)) for slot in slots)
    return Placing(sum(costs), at)


def _others(
    slot: Slot, slots: Sequence[Slot], at: dict[str, int], taken: Sequence[Spot]
) -> list[Spot]:
    moving = [Spot(one.key, one.kind, at[one.key]) for one in slots if one.key != slot.key]
    return [*taken, *moving]
