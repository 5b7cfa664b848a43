"""Which power: rules, ties, unusable powers, a wrong name."""

from typing import Any

import numpy as np
import pytest

from zonule.errors import NoSuchName
from zonule.formulas.uncertainty import choice, law

POWERS = np.array([20.5, 21.0, 21.5, 22.0, 22.5])
AIM_D = -0.25


def laws(refraction_d: Any, core_sd_d: Any = 0.4) -> law.Law:
    return law.two_component(
        median_d=refraction_d, core_sd_d=core_sd_d, tail_weight=0.113, tail_sd_d=1.36
    )


def chosen(given: law.Law, rule: str, **more: Any) -> float:
    index = choice.choose(given, lens_power_d=POWERS, aim_d=AIM_D, rule=rule, **more)
    return float(POWERS[int(index)])


def test_each_rule_in_a_plain_eye() -> None:
    given = laws(AIM_D + 0.70 * (21.45 - POWERS))
    assert chosen(given, "best_chance") == 21.5
    assert chosen(given, "nearest") == 21.5
    assert chosen(given, "asymmetric", hyperopia_weight=1.0) == 21.5
    assert chosen(given, "asymmetric", hyperopia_weight=5.0) == 22.0


def test_best_chance_prefers_the_narrower_law_where_nearest_does_not() -> None:
    given = laws([9.0, AIM_D + 0.10, AIM_D - 0.11, 9.0, 9.0], [0.4, 0.8, 0.3, 0.4, 0.4])
    assert chosen(given, "nearest") == 21.0
    assert chosen(given, "best_chance") == 21.5


@pytest.mark.parametrize("rule", choice.AIM_RULES)
def test_ties_go_to_the_room_then_to_the_myopic_side(rule: str) -> None:
    """Two powers that land equally far on either side of the aim."""
    given = laws([9.0, AIM_D + 0.17, AIM_D - 0.17, 9.0, 9.0])
    assert chosen(given, rule) == 21.5
    assert chosen(given, rule, preferred=POWERS == 21.0) == 21.0
    assert chosen(given, rule, preferred=(POWERS == 21.0) | (POWERS == 21.5)) == 21.5


@pytest.mark.parametrize("rule", choice.AIM_RULES)
def test_a_lens_in_the_room_that_is_worse_is_not_taken(rule: str) -> None:
    given = laws(AIM_D + 0.70 * (21.5 - POWERS))
    assert chosen(given, rule, preferred=POWERS == 22.5) == 21.5


def test_where_no_power_comes_near_all_chances_are_alike_and_the_nearest_wins() -> None:
    """Every share on target is next to nothing, and so all would be a tie."""
    given = laws(AIM_D + np.array([9.0, 8.0, 7.0, 6.0, 5.0]), 0.3)
    shares = 1.0 - choice.score(given, aim_d=AIM_D, rule="best_chance")
    assert shares.max() - shares.min() < choice.AS_GOOD_AS["best_chance"]
    assert chosen(given, "best_chance") == 22.5
    assert chosen(given, "best_chance", preferred=POWERS == 21.5) == 22.5
    too_strong = laws(AIM_D - np.array([5.0, 6.0, 7.0, 8.0, 9.0]), 0.3)
    assert chosen(too_strong, "best_chance") == 20.5
    assert chosen(too_strong, "best_chance", preferred=POWERS == 21.5) == 20.5


@pytest.mark.parametrize(("further_d", "power_d"), [(0.49, 21.5), (0.51, 21.0)])
def test_a_tie_takes_in_powers_within_half_a_dioptre_of_the_nearest(
    further_d: float, power_d: float
) -> None:
    given = laws([99.0, AIM_D + 0.6, AIM_D - 0.6 - further_d, 99.0, 99.0])
    assert chosen(given, "best_chance", tie=1.0) == power_d
    assert choice.WITHIN_A_STEP_D == 0.5


def test_how_close_is_a_tie() -> None:
    near = laws([9.0, AIM_D + 0.100, AIM_D - 0.104, 9.0, 9.0])
    apart = laws([9.0, AIM_D + 0.100, AIM_D - 0.106, 9.0, 9.0])
    assert chosen(near, "nearest") == 21.5
    assert chosen(apart, "nearest") == 21.0


def test_what_counts_as_on_target_and_as_a_tie_can_be_given() -> None:
    given = laws([9.0, AIM_D + 0.60, AIM_D - 0.10, 9.0, 9.0], [0.4, 0.2, 1.5, 0.4, 0.4])
    assert chosen(given, "best_chance") == 21.0
    assert chosen(given, "best_chance", half_width_d=0.25) == 21.5
    assert chosen(given, "best_chance", tie=0.1) == 21.5


def test_a_power_without_a_law_is_never_taken() -> None:
    given = laws([np.nan, 0.3, np.nan, -3.0, np.nan])
    assert chosen(given, "best_chance") == 21.0
    nothing = laws(np.full(5, np.nan))
    for rule in choice.AIM_RULES:
        assert choice.choose(nothing, lens_power_d=POWERS, aim_d=AIM_D, rule=rule) == -1


def test_many_eyes_at_once() -> None:
    refractions = np.array([[0.5, 0.15, -0.2, -0.55, -0.9], [-0.25, -0.6, -0.95, -1.3, -1.65]])
    aims = np.array([-0.25, -1.30])
    index = choice.choose(laws(refractions), lens_power_d=POWERS, aim_d=aims, rule="best_chance")
    assert index.tolist() == [2, 3]


def test_a_wrong_rule_is_answered_with_the_right_ones() -> None:
    with pytest.raises(NoSuchName) as caught:
        chosen(laws(np.zeros(5)), "best_chanse")
    assert str(caught.value) == (
        "There is no aim rule 'best_chanse'. Nearest: best_chance. "
        "All: best_chance, nearest, asymmetric."
    )
