"""The places of a plan: their order, their powers, and powers that are the bag's own."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plan.cases import (
    NAMES,
    ONE_PIECE,
    THREE_PIECE,
    case,
    example,
    lens_named,
    planned,
    practice,
    rung,
    with_biometry,
    with_findings,
    with_lenses,
    with_status,
)
from zonule.findings.answers import Unknown
from zonule.formulas.uncertainty import law
from zonule.library.placements import places
from zonule.plan.records import Plan, Rung
from zonule.practice.records import Lens, StockedPower

NO_POWER = "No lens power"


@pytest.mark.parametrize("name", NAMES)
def test_offered_places_come_first_numbered_without_a_hole(name: str) -> None:
    rungs = example(name).rungs
    offered = [one for one in rungs if one.offered]
    assert [one.order for one in offered] == list(range(len(offered)))
    assert list(rungs[: len(offered)]) == offered


@pytest.mark.parametrize("name", NAMES)
def test_every_place_of_the_table_is_accounted_for_once(name: str) -> None:
    listed = [one.place.key for one in example(name).rungs]
    wanted = [k for k, one in places().items() if not one.property_of and k != "none_final"]
    assert sorted(listed) == sorted(wanted)


def _unanswered(rungs: tuple[Rung, ...]) -> list[str]:
    return [
        one.place.key
        for one in rungs
        if one.chosen is None
        and one.place.holds_lens
        and not (one.refused_because or one.waits_for)
    ]


@pytest.mark.parametrize("name", NAMES)
def test_every_place_has_a_power_or_a_reason(name: str) -> None:
    assert _unanswered(example(name).rungs) == []


@pytest.mark.parametrize("name", NAMES)
def test_the_power_shown_is_one_of_those_in_stock(name: str) -> None:
    for one in example(name).rungs:
        if one.chosen is None:
            continue
        assert one.lens is not None
        assert one.in_stock in one.lens.stock
        assert one.in_stock is not None
        assert one.in_stock.power_d == one.chosen.power_d
        assert one.in_stock.quantity > 0


SAME_POWER = [
    key for key, one in places().items() if one.power_from == "bag" and not one.property_of
]


def test_some_places_take_the_lens_of_the_bag() -> None:
    assert "sulcus_capture" in SAME_POWER
    assert len(SAME_POWER) >= 4


@pytest.mark.parametrize("key", SAME_POWER)
@pytest.mark.parametrize("name", ["plain-eye", "hard-second-eye", "long-eye-after-vitrectomy"])
def test_the_same_lens_keeps_its_power_where_the_table_says_so(name: str, key: str) -> None:
    plan = example(name)
    bag, there = rung(plan, "bag"), rung(plan, key)
    assert bag.chosen is not None
    assert there.chosen is not None
    assert there.lens == bag.lens
    assert there.chosen.power_d == bag.chosen.power_d


def test_another_lens_there_gets_a_power_of_its_own() -> None:
    lens = lens_named(THREE_PIECE)
    srkt = replace(lens.constants["srkt"], values={"a_constant": 118.0})
    weaker = replace(lens, constants={"srkt": srkt})
    store = replace(with_lenses(lens_named(ONE_PIECE), weaker), preferred_lens=ONE_PIECE)
    plan = planned(case("plain-eye"), store)
    bag, captured = rung(plan, "bag"), rung(plan, "sulcus_capture")
    assert bag.chosen is not None
    assert captured.chosen is not None
    assert captured.lens != bag.lens
    assert captured.chosen.power_d < bag.chosen.power_d


def _stock(*powers: tuple[float, str]) -> tuple[StockedPower, ...]:
    return tuple(StockedPower(power_d=power, quantity=1, kept=kept) for power, kept in powers)


def _tied(lens: Lens, *, nearer: str, farther: str) -> Plan:
    """Plan with two boxes of the very same power's neighbourhood, kept in different places."""
    stock = _stock((22.0, nearer), (22.0001, farther))
    return planned(case("plain-eye"), with_lenses(replace(lens, stock=stock)))


@pytest.mark.parametrize(
    ("kept", "power_d"),
    [
        (("in_room", "to_fetch"), 22.0),
        (("to_fetch", "in_room"), 22.0001),
        (("in_room", "in_room"), 22.0001),
        (("to_fetch", "to_fetch"), 22.0001),
    ],
)
def test_a_tie_goes_to_the_lens_in_the_room_then_to_the_stronger(
    kept: tuple[str, str], power_d: float
) -> None:
    plan = _tied(lens_named(THREE_PIECE), nearer=kept[0], farther=kept[1])
    assert plan.in_hand is not None
    assert plan.in_hand.chosen is not None
    assert plan.in_hand.chosen.power_d == power_d


def test_a_clear_winner_to_fetch_beats_a_lens_in_the_room() -> None:
    stock = _stock((22.0, "to_fetch"), (20.0, "in_room"))
    plan = planned(case("plain-eye"), with_lenses(replace(lens_named(THREE_PIECE), stock=stock)))
    assert plan.in_hand is not None
    assert plan.in_hand.chosen is not None
    assert plan.in_hand.chosen.power_d == 22.0


@pytest.mark.parametrize("name", NAMES)
def test_the_best_chance_is_the_largest_share_of_all_powers_in_stock(name: str) -> None:
    whole = replace(case(name), aim=replace(case(name).aim, rule="best_chance"))
    plan = planned(whole)
    assert plan.in_hand is not None
    found, aim = plan.in_hand.prediction, whole.aim.spherical_equivalent_d
    assert found is not None
    shares = law.within(found.law, centre_d=aim, half_width_d=0.5)
    assert plan.in_hand.chosen is not None
    at = found.index_of(plan.in_hand.chosen.power_d)
    assert shares[at] >= float(np.max(shares)) - 0.003


@pytest.mark.parametrize("name", NAMES)
def test_the_ladder_is_strongest_first_and_holds_the_chosen_power(name: str) -> None:
    plan = example(name)
    powers = [row.power_d for row in plan.ladder]
    assert powers == sorted(powers, reverse=True)
    assert plan.in_hand is not None
    assert plan.in_hand.chosen is not None
    assert plan.in_hand.chosen.power_d in powers
    refractions = [row.refraction_d for row in plan.ladder]
    assert refractions == sorted(refractions)


@pytest.mark.parametrize(
    "surgery", ["myopic_laser", "hyperopic_laser", "radial_keratotomy", "other"]
)
def test_a_reshaped_cornea_withholds_every_power(surgery: str) -> None:
    plan = planned(with_findings(case("plain-eye"), hist_refractive_surgery=surgery))
    assert plan.power_withheld
    assert plan.in_hand is None
    assert all(one.chosen is None for one in plan.rungs)


@pytest.mark.parametrize("unknown", list(Unknown))
def test_an_unknown_history_of_the_cornea_is_not_read_as_none_nor_as_some(unknown: Unknown) -> None:
    plan = planned(with_findings(case("plain-eye"), hist_refractive_surgery=unknown))
    assert not plan.power_withheld
    assert "hist_refractive_surgery" in {item.finding for item in plan.outstanding}


@pytest.mark.parametrize("status", ["pseudophakic", *Unknown])
def test_an_eye_that_is_not_known_to_lack_an_implant_gets_no_power(status: str | Unknown) -> None:
    plan = planned(with_status(case("plain-eye"), status))
    assert plan.power_withheld
    assert all(one.chosen is None for one in plan.rungs)


def test_the_chamber_depth_of_an_aphakic_eye_changes_nothing() -> None:
    found = [
        planned(with_biometry(case("aphakic-eye"), anterior_chamber_depth_mm=depth))
        for depth in (Unknown.NOT_RECORDED, 3.1, 4.9)
    ]
    powers = [
        [(one.place.key, one.exact_power_d) for one in plan.rungs if one.chosen] for plan in found
    ]
    assert powers[0]
    assert powers[0] == powers[1] == powers[2]


def test_both_bounds_enclose_the_refraction_where_the_place_is_uncertain() -> None:
    for one in example("hard-second-eye").rungs:
        if one.prediction is None or one.chosen is None:
            continue
        assert one.low_move_d is not None
        assert one.high_move_d is not None
        mean = float(
            one.prediction.by_formula_d[one.prediction.index_of(one.chosen.power_d)].mean()
        )
        learnt = one.prediction.carried
        if learnt is not None:
            mean += float(learnt.mean_d[one.prediction.index_of(one.chosen.power_d)])
        assert one.low_move_d - 1e-9 <= mean <= one.high_move_d + 1e-9


def test_the_practice_of_the_examples_is_whole() -> None:
    assert len(practice().lenses) >= 4
    assert len(practice().repertoire) >= 8
