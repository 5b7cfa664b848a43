"""The arrangement that moves least and lets nothing clash, if there is one.

Every position open to every slot is looked at, in the order of what it costs; a branch is given up
once it cannot be cheaper than the best found. So "none" means that there is none.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from zonule.library.reading import table
from zonule.plan.clock_map.positions import QUARTERS
from zonule.plan.clock_map.spots import Spot, clash, warnings
from zonule.plan.clock_map.wanted import Slot

Choice = tuple[float, int, int]
"""What it costs, how far it moves, where it is."""


@dataclass(frozen=True, slots=True)
class Placing:
    """An arrangement: what it costs, and the quarters of an hour of each slot by key."""

    cost: float
    at: Mapping[str, int]


def choices(slot: Slot, taken: Sequence[Spot]) -> list[Choice]:
    """Return every position of a slot that clashes with nothing taken, the cheapest first.

    Examples
    --------
    >>> from zonule.plan.clock_map.wanted import Slot
    >>> bleb = Spot("bleb", "bleb", 0.0, 30.0)
    >>> [where for _, _, where in choices(Slot("iris_hook_4", "iris_hook", 0, -6, 6), [bleb])]
    [-6, 6]
    """
    weight: float = table("clock_map")["prefers"]["warning_counts"]
    found = []
    for quarters in slot.moves():
        spot = Spot(slot.key, slot.kind, quarters)
        if not any(clash(spot, one) for one in taken):
            cost = slot.cost(quarters) + weight * warnings(spot, taken)
            found.append((cost, abs(quarters - slot.usual), quarters))
    return sorted(found)


def cheapest(
    slots: Sequence[Slot], taken: Sequence[Spot], *, below: float, one_stab: bool = False
) -> Placing | None:
    """Return the cheapest arrangement without a clash, if one costs less than ``below``.

    Parameters
    ----------
    slots
        What has to go in.
    taken
        What is there already, the main wound among it.
    below
        Only an arrangement cheaper than this is of interest.
    one_stab
        Whether an iris hook and a capsule hook may share one.

    Examples
    --------
    >>> from zonule.plan.clock_map.wanted import Slot
    >>> two = [Slot("a", "iris_hook", 0, -3, 3), Slot("b", "iris_hook", 1, -2, 4)]
    >>> found = cheapest(two, [], below=100.0)
    >>> found.cost, sorted(found.at.items())
    (0.5, [('a', 0), ('b', 3)])
    """
    open_to = {slot.key: choices(slot, taken) for slot in slots}
    kinds = {slot.key: slot.kind for slot in slots}
    rules = _Rules(kinds, below, _near if one_stab else _near_apart)
    return _place(open_to, Placing(0.0, {}), None, rules)


@dataclass(frozen=True, slots=True)
class _Rules:
    kinds: Mapping[str, str]
    below: float
    near: Callable[[str, str, int], bool]


def _place(
    still: Mapping[str, list[Choice]], placed: Placing, best: Placing | None, rules: _Rules
) -> Placing | None:
    """Place the slot with the fewest choices everywhere it can go, then the rest."""
    if not all(still.values()):
        return best
    at_least = placed.cost + sum(found[0][0] for found in still.values())
    if at_least >= (best.cost if best else rules.below):
        return best
    if not still:
        return placed
    key = min(still, key=lambda one: (len(still[one]), one))
    kind = rules.kinds[key]
    for cost, _, at in still[key]:
        rest = {
            other: [one for one in found if not rules.near(kind, rules.kinds[other], one[2] - at)]
            for other, found in still.items()
            if other != key
        }
        more = Placing(placed.cost + cost, {**placed.at, key: at})
        best = _place(rest, more, best, rules)
    return best


@cache
def _near(first: str, second: str, quarters: int) -> bool:
    """Tell whether two things that move clash at that many quarters of an hour apart."""
    return clash(Spot("", first, 0.0), Spot("", second, quarters))


def _near_apart(first: str, second: str, quarters: int) -> bool:
    """Tell the same where each hook needs a stab of its own."""
    return quarters % QUARTERS == 0 or _near(first, second, quarters)
