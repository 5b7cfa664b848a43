"""The search for hours against one that tries everything, and its order of preference."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import product

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from zonule.plan.clock_map.proposal import propose
from zonule.plan.clock_map.search import cheapest, choices
from zonule.plan.clock_map.spots import Spot, clash
from zonule.plan.clock_map.wanted import Slot, Wanted
from zonule.plan.clock_map.wanted import slots as all_slots

KINDS = ("side_port", "iris_hook", "capsule_hook")


@st.composite
def slots(draw: st.DrawFn) -> list[Slot]:
    """Draw up to four things close together, each with a few quarters of an hour to go to."""
    found = []
    for at in range(draw(st.integers(1, 4))):
        usual = draw(st.integers(-6, 10))
        most = draw(st.integers(0, 4))
        kind = draw(st.sampled_from(KINDS))
        found.append(Slot(f"{kind}_{at + 2}", kind, usual, usual - most, usual + most))
    return found


@st.composite
def taken(draw: st.DrawFn) -> list[Spot]:
    kinds = draw(st.lists(st.sampled_from(["bleb", "vessels", "old_wound"]), max_size=2))
    return [
        Spot(kind, kind, draw(st.integers(-10, 14)), 7.5 * draw(st.integers(1, 5)))
        for kind in dict.fromkeys(kinds)
    ]


def every_arrangement(found: Sequence[Slot], there: Sequence[Spot]) -> float:
    """Return the least cost over every arrangement without a clash; infinity if there is none."""
    least = math.inf
    for places in product(*(list(slot.moves()) for slot in found)):
        spots = [Spot(s.key, s.kind, at) for s, at in zip(found, places, strict=True)]
        pairs = [(one, two) for n, one in enumerate(spots) for two in spots[n + 1 :]]
        own_stabs = all(one.quarters != two.quarters for one, two in pairs)
        clear = not any(clash(one, two) for one, two in pairs)
        clear = clear and not any(clash(one, two) for one in spots for two in there)
        if own_stabs and clear:
            costs = (
                next(cost for cost, _, at in choices(slot, there) if at == place)
                for slot, place in zip(found, places, strict=True)
            )
            least = min(least, sum(costs))
    return least


@settings(max_examples=150)
@given(slots(), taken())
def test_the_search_finds_what_trying_everything_finds(
    found: list[Slot], there: list[Spot]
) -> None:
    least = every_arrangement(found, there)
    placing = cheapest(found, there, below=math.inf)
    assert (placing is None) == math.isinf(least)
    if placing is not None:
        assert abs(placing.cost - least) < 1e-9


@given(slots(), taken())
def test_one_stab_for_two_hooks_never_costs_more(found: list[Slot], there: list[Spot]) -> None:
    apart = cheapest(found, there, below=math.inf)
    together = cheapest(found, there, below=math.inf, one_stab=True)
    assume(apart is not None)
    assert together is not None
    assert apart is not None
    assert together.cost <= apart.cost


def test_nothing_moves_where_nothing_lies_in_the_way() -> None:
    found = propose(12, [], Wanted(12.0, iris_hooks=True, capsule_hooks=True))
    assert found is not None
    assert found.wound.quarters == 12
    assert all(spot.quarters == slot.usual for slot, spot in found.placed)


@given(st.integers(-24, 23), st.integers(1, 8))
def test_nothing_is_left_out_that_still_finds_room(middle: int, width: int) -> None:
    bleb = Spot("bleb", "bleb", middle, 7.5 * width)
    wanted = Wanted(12.0, iris_hooks=True, capsule_hooks=True)
    found = propose(12, [bleb], wanted)
    assume(found is not None)
    assert found is not None
    drawn = [bleb, found.wound, *(spot for _, spot in found.placed)]
    every = {slot.key: slot for slot in all_slots(round(found.wound.quarters), wanted)}
    assert set(every) == {s.key for s in found.no_room} | {s.key for _, s in found.placed}
    for one in found.no_room:
        assert one.key == "iris_hook_1" or choices(every[one.key], drawn) == []
