"""Which lens of the store goes where, and which must not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import (
    ONE_PIECE,
    THREE_PIECE,
    case,
    lens_named,
    planned,
    practice,
    rung,
    with_lenses,
)
from zonule.library.placements import class_refusals, place, places
from zonule.plan.lens_choice import lens_for, why_not

THREE, ONE = lens_named(THREE_PIECE), lens_named(ONE_PIECE)
HOLDING = [one for one in places().values() if one.holds_lens]
NEVER = (
    "one-piece acrylic never loose in the sulcus: of 30 referred eyes 93 of 100 needed surgery, "
    "83 of 100 an exchange"
)


def test_a_one_piece_acrylic_lens_is_kept_out_of_the_sulcus_by_name() -> None:
    assert why_not(place("sulcus_three_piece"), ONE) == NEVER
    assert why_not(place("sulcus_capture"), ONE) == NEVER
    assert why_not(place("bag"), ONE) == ""


@pytest.mark.parametrize("rule", class_refusals())
def test_every_refused_class_is_refused_in_every_place_of_its_rule(rule: object) -> None:
    refused = next(one for one in class_refusals() if one is rule)
    for key in refused.places:
        assert refused.lens_class not in place(key).lens_classes, "table contradicts itself"
        assert why_not(place(key), replace(THREE, lens_class=refused.lens_class)) == refused.says


@pytest.mark.parametrize("key", ["sulcus_three_piece", "sulcus_capture"])
def test_where_the_one_piece_is_the_only_lens_the_sulcus_stays_closed(key: str) -> None:
    store = replace(with_lenses(ONE), preferred_lens=ONE_PIECE)
    plan = planned(case("hard-second-eye"), store)
    found = rung(plan, key)
    assert (found.lens, found.chosen, found.offered) == (None, None, False)
    assert found.refused_because == NEVER
    assert rung(plan, "bag").lens == ONE


@pytest.mark.parametrize(
    ("key", "classes"),
    [
        ("scleral:intrascleral_2_0_mm", "three-piece"),
        ("scleral:sutured_1_0_mm", "three-piece or one-piece PMMA"),
        ("iris_suture", "three-piece"),
    ],
)
def test_elsewhere_the_one_piece_is_not_said_to_be_loose_in_the_sulcus(
    key: str, classes: str
) -> None:
    assert why_not(place(key), ONE) == "a one-piece acrylic lens does not go there"
    found = lens_for(place(key), replace(with_lenses(ONE), preferred_lens=ONE_PIECE), ONE)
    assert found.refused_because == f"no {classes} lens in the store"
    assert found.refused_lenses == ()


def test_the_rule_of_the_loose_one_piece_names_sulcus_places_only() -> None:
    (rule,) = (one for one in class_refusals() if one.lens_class == "one_piece_acrylic")
    assert rule.places == ("sulcus_three_piece", "sulcus_capture")


def test_the_preferred_lens_does_not_follow_into_the_sulcus() -> None:
    store = replace(practice(), preferred_lens=ONE_PIECE)
    plan = planned(case("hard-second-eye"), store)
    assert rung(plan, "bag").lens == ONE
    assert rung(plan, "sulcus_three_piece").lens == THREE
    assert rung(plan, "reverse_capture").lens == ONE


def test_the_lens_of_the_bag_goes_on_being_used_where_it_may() -> None:
    first = replace(THREE, name="another three-piece")
    store = replace(with_lenses(first, THREE, ONE), preferred_lens=THREE_PIECE)
    for one in HOLDING:
        if "three_piece" in one.lens_classes:
            assert lens_for(one, store, THREE).lens == THREE
            assert lens_for(one, store, first).lens == first


@pytest.mark.parametrize(
    ("optic_mm", "overall_mm", "reason"),
    [
        (5.5, 13.0, "optic 5.5 mm, needs 6.0"),
        (6.0, 12.5, "overall 12.5 mm, needs 13.0"),
        (6.0, 13.0, ""),
        (6.5, 13.5, ""),
    ],
)
def test_a_lens_too_small_is_refused(optic_mm: float, overall_mm: float, reason: str) -> None:
    lens = replace(THREE, optic_mm=optic_mm, overall_mm=overall_mm)
    assert why_not(place("sulcus_three_piece"), lens) == reason


@pytest.mark.parametrize("kind", ["toric", "multifocal"])
def test_toric_and_multifocal_lenses_stay_in_a_sound_bag(kind: str) -> None:
    lens = replace(THREE, toric=kind == "toric", multifocal=kind == "multifocal")
    assert why_not(place("bag"), lens) == ""
    reason = "toric and multifocal lenses only in a sound bag"
    for key in ("bag:posterior_tear", "sulcus_capture", "sulcus_three_piece"):
        assert why_not(place(key), lens) == reason


def test_every_place_that_holds_a_lens_names_the_classes_that_fit() -> None:
    assert all(one.lens_classes for one in HOLDING)
    assert len(HOLDING) >= 15


def test_a_class_that_does_not_go_there_is_named() -> None:
    assert why_not(place("anterior_chamber"), THREE) == "a three-piece lens does not go there"


def test_an_empty_store_is_said_and_nothing_is_made_up() -> None:
    empty = replace(THREE, stock=tuple(replace(one, quantity=0) for one in THREE.stock))
    for store in (with_lenses(), with_lenses(empty)):
        plan = planned(case("plain-eye"), store)
        assert plan.in_hand is None
        assert all(one.chosen is None for one in plan.rungs)
        assert rung(plan, "bag").refused_because == (
            "no three-piece or one-piece acrylic or one-piece PMMA lens in the store"
        )


def test_a_lens_out_of_stock_is_passed_over() -> None:
    gone = replace(THREE, stock=tuple(replace(one, quantity=0) for one in THREE.stock))
    plan = planned(case("plain-eye"), with_lenses(gone, ONE))
    assert rung(plan, "bag").lens == ONE


def test_a_single_power_out_of_stock_is_never_chosen() -> None:
    full = planned(case("plain-eye"))
    assert full.in_hand is not None
    assert full.in_hand.chosen is not None
    taken = full.in_hand.chosen.power_d
    stock = tuple(replace(one, quantity=0) if one.power_d == taken else one for one in THREE.stock)
    less = planned(case("plain-eye"), with_lenses(replace(THREE, stock=stock)))
    powers = {one.chosen.power_d for one in less.rungs if one.chosen}
    assert powers
    assert taken not in powers
