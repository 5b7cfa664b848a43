"""The intended place: the first left open, which stays intended when it has no power."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import (
    ONE_PIECE,
    THREE_PIECE,
    case,
    example,
    lens_named,
    planned,
    practice,
    refusing,
    rung,
    with_biometry,
    with_eye,
    with_findings,
    with_lenses,
)
from report.pages import flowing, page
from zonule.findings.answers import Unknown
from zonule.plan.records import Plan
from zonule.practice.records import Lens, Practice

PLAIN, HARD = case("plain-eye"), case("hard-second-eye")
CLAW = "iris-claw 8.5"
NEEDS = "+21.84"
"""What the plain eye needs in the bag, by the example lens."""


def up_to(power_d: float, name: str = THREE_PIECE) -> Lens:
    lens = lens_named(name)
    return replace(lens, stock=tuple(one for one in lens.stock if one.power_d <= power_d))


def nothing_near() -> Plan:
    return planned(PLAIN, with_lenses(up_to(18.0), lens_named(CLAW)))


def test_the_need_of_the_plain_eye_is_as_said() -> None:
    found = rung(example("plain-eye"), "bag").exact_power_d
    assert found is not None
    assert f"{found:+.2f}" == NEEDS


def test_with_a_power_nothing_is_withheld() -> None:
    plan = example("plain-eye")
    assert plan.in_hand is not None
    assert (plan.in_hand.order, plan.in_hand.place.key) == (0, "bag")
    assert (plan.power_withheld, plan.shows_a_power) == ("", True)


def test_the_intended_place_stays_intended_without_a_power() -> None:
    plan, reason = (
        nothing_near(),
        f"the store holds nothing near {NEEDS} D (nearest +18.00 D): order",
    )
    bag = rung(plan, "bag")
    assert (bag.order, bag.chosen, bag.refused_because) == (0, None, reason)
    assert plan.in_hand is None
    assert plan.power_withheld == f"In the bag: {reason}"
    assert plan.ladder == ()


def test_a_backup_may_have_a_power_where_the_intended_place_has_none() -> None:
    plan = nothing_near()
    assert plan.shows_a_power
    assert [one.place.key for one in plan.rungs if one.chosen] == ["iris_claw:behind"]
    text = flowing(page(plan))
    assert f"No lens power is shown for the intended place. {plan.power_withheld}" in text


def test_where_no_place_has_a_power_none_is_said_to_be_shown() -> None:
    plan = planned(PLAIN, with_lenses(up_to(18.0)))
    assert not plan.shows_a_power
    assert f"No lens power is shown. {plan.power_withheld}" in flowing(page(plan))


def test_a_backup_without_a_power_is_no_backup() -> None:
    for one in nothing_near().rungs:
        if one.order > 0 and one.place.holds_lens:
            assert one.chosen is not None
        if one.order < 0:
            assert one.refused_because or one.waits_for


def test_no_lens_is_meant_for_a_bag_that_has_none() -> None:
    for key in ("bag:posterior_tear", "reverse_capture"):
        assert rung(nothing_near(), key).refused_because == "no lens is meant for the bag"
        assert rung(example("plain-eye"), key).offered


def test_how_likely_a_place_is_does_not_hang_on_its_power() -> None:
    """The capsule does not ask what the store holds: an open place keeps its likelihood."""
    for plan in (example("plain-eye"), nothing_near()):
        offered = [one.likelihood for one in plan.rungs if one.offered]
        assert sum(one or 0.0 for one in offered) == pytest.approx(1.0)


def test_a_place_that_is_closed_is_not_intended() -> None:
    plan = planned(refusing(PLAIN, "bag"))
    assert plan.in_hand is not None
    assert plan.in_hand.place.key == "bag_anchored"
    assert (plan.power_withheld, rung(plan, "bag").order) == ("", -1)


@pytest.mark.parametrize("vitrectomy", [True, *Unknown])
def test_where_every_power_is_withheld_every_open_place_says_the_same(
    vitrectomy: bool | Unknown,
) -> None:
    oil = with_biometry(PLAIN, measured_as="silicone_oil")
    plan = planned(with_findings(oil, hist_vitrectomy=vitrectomy))
    says = (
        "the eye was measured filled with silicone oil: whether the oil stays changes the power "
        "by several dioptres, and that is not planned by this version"
    )
    assert (plan.power_withheld, plan.in_hand, plan.shows_a_power) == (says, None, False)
    offered = [one for one in plan.rungs if one.offered and one.place.holds_lens]
    assert len(offered) > 3
    assert {one.refused_because for one in offered} == {says}


@pytest.mark.parametrize("measured_as", ["phakic", Unknown.NOT_RECORDED])
def test_an_eye_not_filled_with_oil_is_planned(measured_as: str | Unknown) -> None:
    plan = planned(with_biometry(PLAIN, measured_as=measured_as))
    assert plan.power_withheld == ""


# ------------------------------------------------------------------ how near is near


def only_power(power_d: float) -> Plan:
    lens = lens_named(THREE_PIECE)
    box = replace(lens.stock[0], power_d=power_d, quantity=1)
    return planned(PLAIN, with_lenses(replace(lens, stock=(box,))))


@pytest.mark.parametrize(
    ("off_d", "shown", "said"),
    [
        (0.54, True, False),
        (-0.54, True, False),
        (0.56, True, True),
        (-0.56, True, True),
        (0.99, True, True),
        (-0.99, True, True),
        (1.01, False, False),
        (-1.01, False, False),
    ],
)
def test_how_far_the_nearest_power_may_be(off_d: float, *, shown: bool, said: bool) -> None:
    needed = rung(example("plain-eye"), "bag").exact_power_d
    assert needed is not None
    bag = rung(only_power(needed + off_d), "bag")
    nearest = f"{needed + off_d:+.2f} D"
    assert (bag.chosen is not None) is shown
    assert [one.says for one in bag.caveats if one.name == "store_not_near"] == (
        [f"this place needs about {NEEDS} D and the nearest in the store is {nearest}: order"]
        if said
        else []
    )
    if not shown:
        assert bag.refused_because == (
            f"the store holds nothing near {NEEDS} D (nearest {nearest}): order"
        )


def test_a_gap_in_the_middle_of_the_store_counts_as_its_end_does() -> None:
    lens = lens_named(THREE_PIECE)
    gap = tuple(one for one in lens.stock if not 20.0 < one.power_d < 24.0)
    bag = rung(planned(PLAIN, with_lenses(replace(lens, stock=gap))), "bag")
    assert bag.refused_because == (
        f"the store holds nothing near {NEEDS} D (nearest +20.00 D): order"
    )


def test_minus_powers_are_written_with_a_minus() -> None:
    lens = lens_named(THREE_PIECE)
    minus = replace(lens.stock[0], power_d=-3.0, quantity=1)
    bag = rung(planned(PLAIN, with_lenses(replace(lens, stock=(minus,)))), "bag")
    assert bag.refused_because == (
        f"the store holds nothing near {NEEDS} D (nearest \N{MINUS SIGN}3.00 D): order"
    )


# ------------------------------------------------------------------ a lens that does not fit


def chamber_only(width_mm: float | Unknown) -> Plan:
    store = replace(practice(), repertoire=("anterior_chamber",))
    return planned(with_biometry(PLAIN, white_to_white_mm=width_mm), store)


def test_the_intended_place_that_waits_says_for_what() -> None:
    plan = chamber_only(Unknown.NOT_RECORDED)
    assert plan.in_hand is None
    assert rung(plan, "anterior_chamber").order == 0
    assert plan.power_withheld == (
        "Anterior chamber, angle-supported: waits for white-to-white, for the length of the lens"
    )


def test_the_intended_place_whose_lens_does_not_fit_says_so() -> None:
    assert chamber_only(12.6).power_withheld == (
        "Anterior chamber, angle-supported: needs a lens of 13.6 mm (white-to-white + 1.0), the "
        "store has 13.0"
    )


def only_the_bag() -> Practice:
    return replace(practice(), repertoire=("bag",))


def test_where_no_lens_may_go_anywhere_that_is_said() -> None:
    plan = planned(refusing(PLAIN, "bag"), only_the_bag())
    assert plan.in_hand is None
    assert plan.power_withheld == "no place is open to a lens in this eye"


def test_where_not_even_leaving_the_eye_without_a_lens_is_wanted_that_is_said() -> None:
    plan = planned(refusing(PLAIN, "bag", "later"), only_the_bag())
    assert plan.in_hand is None
    assert plan.power_withheld == "no place is open to a lens in this eye"
    assert "the patient does not want it" in flowing(page(plan))


# ------------------------------------------------------------------ a cause that both eyes share


def surprised(achieved_d: float, cause: str | Unknown) -> Plan:
    first = HARD.fellow_eye
    assert first.operation is not None
    changed = replace(first.operation, settled_refraction_d=achieved_d, surprise_explained=cause)
    return planned(with_eye(HARD, replace(first, operation=changed)))


SHARED = (
    "the first eye's surprise has a cause that both eyes share: until this eye's figures are "
    "corrected for it, every power from them is false"
)


def test_a_large_surprise_of_both_eyes_withholds_the_second_eyes_power() -> None:
    plan = surprised(-2.90, "by_both_eyes")
    assert (plan.power_withheld, plan.in_hand, plan.shows_a_power) == (SHARED, None, False)
    assert plan.first_eye is not None
    assert plan.first_eye.shared_cause
    assert plan.first_eye.lesson is None


@pytest.mark.parametrize("cause", ["by_this_eye", *Unknown])
def test_a_large_surprise_not_said_to_be_of_both_eyes_withholds_nothing(
    cause: str | Unknown,
) -> None:
    plan = surprised(-2.90, cause)
    assert plan.power_withheld == ""
    assert plan.first_eye is not None
    assert plan.first_eye.lesson is None


def test_a_small_surprise_of_both_eyes_is_carried_as_usual() -> None:
    plan = surprised(-1.60, "by_both_eyes")
    assert plan.power_withheld == ""
    assert plan.first_eye is not None
    assert (plan.first_eye.shared_cause, plan.first_eye.withheld) == (False, "")
    assert plan.in_hand is not None
    assert plan.in_hand.prediction is not None
    assert plan.in_hand.prediction.carried is not None


def test_the_store_of_the_examples_has_both_lenses() -> None:
    assert {THREE_PIECE, ONE_PIECE, CLAW} <= {lens.name for lens in practice().lenses}
