"""What must hold for every choice of power."""

from random import Random
from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas.uncertainty import choice, law

rules = st.sampled_from(choice.AIM_RULES)
aims = st.floats(-3.0, 0.5)


@st.composite
def shelves(draw: st.DrawFn) -> tuple[np.ndarray, law.Law, np.ndarray]:
    """Draw powers, a law for each, and which lie in the room."""
    count = draw(st.integers(1, 8))
    powers = 18.0 + 0.5 * np.arange(count)
    first = draw(st.floats(-1.0, 3.0))
    medians = np.round(first - 0.35 * np.arange(count), 2)
    core = np.array(draw(st.lists(st.floats(0.2, 1.0), min_size=count, max_size=count)))
    in_room = np.array(draw(st.lists(st.booleans(), min_size=count, max_size=count)))
    given_laws = law.two_component(
        median_d=medians, core_sd_d=core, tail_weight=0.02, tail_sd_d=1.36
    )
    return powers, given_laws, in_room


@given(shelves(), aims, rules, st.randoms(use_true_random=False))
def test_the_order_on_the_shelf_plays_no_part(
    shelf: tuple[np.ndarray, law.Law, np.ndarray], aim_d: float, rule: str, shuffler: Random
) -> None:
    powers, given_laws, in_room = shelf
    order = list(range(len(powers)))
    shuffler.shuffle(order)
    shuffled = law.Law(*(part[order] for part in given_laws))
    asked: dict[str, Any] = {"aim_d": aim_d, "rule": rule, "hyperopia_weight": 2.0}
    index = choice.choose(given_laws, lens_power_d=powers, preferred=in_room, **asked)
    other = choice.choose(shuffled, lens_power_d=powers[order], preferred=in_room[order], **asked)
    assert powers[int(index)] == powers[order][int(other)]


@given(shelves(), aims, rules)
def test_the_chosen_power_is_as_good_as_the_best(
    shelf: tuple[np.ndarray, law.Law, np.ndarray], aim_d: float, rule: str
) -> None:
    powers, given_laws, in_room = shelf
    asked: dict[str, Any] = {"aim_d": aim_d, "rule": rule, "hyperopia_weight": 2.0}
    scores = choice.score(given_laws, **asked)
    index = int(choice.choose(given_laws, lens_power_d=powers, preferred=in_room, **asked))
    tied = scores <= scores.min() + choice.AS_GOOD_AS[rule]  # type: ignore[index]
    off = np.abs(law.median(given_laws) - aim_d)
    tied &= off <= off[tied].min() + 0.5
    assert tied[index]
    if (tied & in_room).any():
        assert in_room[index]
        tied = tied & in_room
    assert powers[index] == powers[tied].max()


@given(shelves(), aims, st.floats(1.0, 4.0), st.floats(1.0, 4.0))
def test_counting_hyperopia_more_never_weakens_the_lens(
    shelf: tuple[np.ndarray, law.Law, np.ndarray], aim_d: float, some: float, more: float
) -> None:
    powers, given_laws, _ = shelf
    alike = given_laws._replace(sds_d=np.broadcast_to(given_laws.sds_d[:1], given_laws.sds_d.shape))
    lesser, greater = (
        choice.score(alike, aim_d=aim_d, rule="asymmetric", hyperopia_weight=weight)
        for weight in sorted((some, more))
    )
    assert powers[greater.argmin()] >= powers[lesser.argmin()]
