"""From the chances of the three roots to the likelihood of each place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import product

from zonule.assessment.risk.chance import Chance
from zonule.plan.roots.records import CapsuleState
from zonule.plan.roots.states import Given, State, every_combination, states_given

PlaceOf = Callable[[Mapping[str, str]], str]
"""Where the lens goes in a state of the capsule: the key of a rung."""


@dataclass(frozen=True, slots=True)
class RootChances:
    """The chances of the three roots in this eye.

    ``rim`` is that of a torn rim with the posterior capsule whole; a torn rim that goes round is
    counted with the capsule.
    """

    capsule: Chance
    zonule: Chance
    rim: Chance


@dataclass(frozen=True, slots=True)
class GapBefore:
    """A gap there may be before surgery, and how often in such an eye."""

    gap_hours: str
    weight: float


def _share_of(given: Given, capsule: float, zonule: float, rim: float) -> float:
    """Return the chance of one combination; the roots give independently of each other."""
    torn = capsule if given.capsule else 1.0 - capsule
    loose = zonule if given.zonule else 1.0 - zonule
    opened = rim if given.rim else 1.0 - rim
    return torn * loose * opened


def _places_of(states: Iterable[State], place_of: PlaceOf) -> dict[str, float]:
    found: dict[str, float] = {}
    for state in states:
        key = place_of(state.answers)
        found[key] = found.get(key, 0.0) + state.share
    return found


def _by_combination(gap: str, place_of: PlaceOf) -> dict[Given, dict[str, float]]:
    return {given: _places_of(states_given(given, gap), place_of) for given in every_combination()}


def _mixed(
    ways: Mapping[Given, Mapping[str, float]], capsule: float, zonule: float, rim: float
) -> dict[str, float]:
    found: dict[str, float] = {}
    for given, places in ways.items():
        chance = _share_of(given, capsule, zonule, rim)
        for key, share in places.items():
            found[key] = found.get(key, 0.0) + chance * share
    return found


def likelihoods(
    chances: RootChances,
    gaps: Iterable[GapBefore],
    offered: Iterable[str],
    place_of: PlaceOf,
) -> dict[str, Chance]:
    """Return the likelihood of each place: value and range; the values sum to 1.

    The likelihood is linear in the chance of each root, so its ends lie where every root is at
    one of its own ends, for one of the gaps there may be before surgery.

    Parameters
    ----------
    chances
        The roots of this eye.
    gaps
        The gaps there may be before surgery, with weights that sum to 1.
    offered
        Keys of the rungs of this plan.
    place_of
        Where the lens goes in a state of the capsule.
    """
    keys = tuple(offered)
    value = dict.fromkeys(keys, 0.0)
    low, high = dict.fromkeys(keys, 1.0), dict.fromkeys(keys, 0.0)
    roots = (chances.capsule, chances.zonule, chances.rim)
    for gap in gaps:
        ways = _by_combination(gap.gap_hours, place_of)
        for key, share in _mixed(ways, *(one.value for one in roots)).items():
            value[key] += gap.weight * share
        for ends in product(*((one.low, one.high) for one in roots)):
            at_ends = _mixed(ways, *ends)
            for key in keys:
                low[key] = min(low[key], at_ends.get(key, 0.0))
                high[key] = max(high[key], at_ends.get(key, 0.0))
    return {key: Chance(value[key], low[key], high[key]) for key in keys}


def listed(
    chances: RootChances, gaps: Iterable[GapBefore], place_of: PlaceOf
) -> tuple[CapsuleState, ...]:
    """Return the states one by one, the likeliest first, states of one wording together."""
    found: dict[tuple[str, str], tuple[Mapping[str, str], float]] = {}
    roots = (chances.capsule.value, chances.zonule.value, chances.rim.value)
    for gap in gaps:
        for given in every_combination():
            chance = gap.weight * _share_of(given, *roots)
            for state in states_given(given, gap.gap_hours):
                key = (state.says, place_of(state.answers))
                _, before = found.get(key, (state.answers, 0.0))
                found[key] = (state.answers, before + chance * state.share)
    told = [
        CapsuleState(says, answers, share, place)
        for (says, place), (answers, share) in found.items()
    ]
    return tuple(sorted(told, key=lambda one: -one.share))
