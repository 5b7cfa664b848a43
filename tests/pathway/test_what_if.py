"""What is asked of a plan beside its files: taken as it stands, or refused with what to do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan.cases import TODAY, case, lens_named, practice
from zonule.pathway.what_if import LABELS, PARTS, WhatIf, lenses_for_the_bag, read_wish, what_if
from zonule.plan.wish import Wish

HARD = case("hard-second-eye")
STORE = practice()


def asked(**texts: str) -> WhatIf:
    return what_if(HARD, STORE, texts, today=TODAY)


def told(found: WhatIf) -> list[str]:
    return [problem.sentence() for problem in found.problems]


def test_nothing_asked_is_the_plan_of_the_files() -> None:
    found = asked()
    assert (found.problems, dict(found.used)) == ((), {})
    assert not found.plan.wish.changes_the_plan
    assert found.plan.in_hand is not None
    assert found.plan.in_hand.place.key == "bag"


def test_what_the_files_say_is_nothing_asked_for() -> None:
    found = asked(aim="−0.25", rule="best_chance", lens="three-piece acrylic 13.0")
    assert dict(found.used) == {}


def test_each_part_is_taken() -> None:
    found = asked(hand="sulcus_three_piece", aim="-0.50", rule="nearest", lens="", power="+18.50")
    assert found.problems == ()
    plan = found.plan
    assert plan.wish == Wish(
        hand="sulcus_three_piece", aim_d=-0.5, aim_rule="nearest", power_d=18.5
    )
    assert plan.in_hand is not None
    assert plan.in_hand.chosen is not None
    assert (plan.in_hand.place.key, plan.in_hand.chosen.power_d) == ("sulcus_three_piece", 18.5)
    assert (plan.case.aim.spherical_equivalent_d, plan.case.aim.rule) == (-0.5, "nearest")


def test_what_was_used_asks_for_the_same_plan_again() -> None:
    first = asked(hand="sulcus_capture", aim="−1.25", power="+21.00")
    again = asked(**first.used)
    assert again.used == first.used
    assert again.plan.wish == first.plan.wish


def test_a_power_without_a_place_is_that_of_the_intended_one() -> None:
    found = asked(power="+21.00")
    assert found.plan.in_hand is not None
    assert found.plan.in_hand.chosen is not None
    assert (found.plan.in_hand.place.key, found.plan.in_hand.chosen.power_d) == ("bag", 21.0)


def test_another_lens_for_the_bag_is_taken() -> None:
    other = next(lens for lens in lenses_for_the_bag(STORE) if lens.name != STORE.preferred_lens)
    found = asked(lens=other.name)
    bag = found.plan.rung("bag")
    assert bag is not None
    assert bag.lens == other
    assert found.plan.case.aim == HARD.aim


def test_lenses_that_never_go_to_the_bag_are_not_offered() -> None:
    names = [lens.name for lens in lenses_for_the_bag(STORE)]
    assert names[0] == "three-piece acrylic 13.0"
    assert not any(lens_named(name).lens_class == "iris_claw" for name in names)


def test_while_something_is_refused_the_plan_before_stays() -> None:
    before = "hand=sulcus_capture&aim=-0.75"
    found = asked(hand="sulcus_capture", aim="-0,5", was=before)
    assert found.plan.case.aim.spherical_equivalent_d == -0.75
    assert found.plan.wish.hand == "sulcus_capture"
    assert dict(found.used) == {"hand": "sulcus_capture", "aim": "-0.75"}
    assert found.typed["aim"] == "-0,5"
    assert found.refused == {"aim"}
    assert told(found) == [
        "Aim -0,5: a number takes a point, not a comma. Type a point instead of the comma."
    ]


def test_without_a_plan_before_it_is_that_of_the_files() -> None:
    assert asked(aim="x").plan.wish == Wish()


def test_what_is_sound_beside_a_fault_is_taken() -> None:
    found = asked(aim="-0.50", power="20.50")
    assert found.refused == {"power"}
    assert found.plan.case.aim.spherical_equivalent_d == -0.5


def test_every_fault_is_told_at_once() -> None:
    found = asked(hand="here", aim="-9", rule="luck", lens="glass", power="+x")
    assert [problem.field for problem in found.problems] == list(PARTS)
    assert [problem.label for problem in found.problems] == list(LABELS.values())
    assert all(problem.remedy for problem in found.problems)


def test_a_place_that_is_closed_here_says_why_and_offers_those_that_are_open() -> None:
    (sentence,) = told(asked(hand="anterior_chamber"))
    assert sentence.startswith("Place in hand anterior_chamber: is not open in this plan (")
    assert "Choose one of: In the bag; In the bag, posterior capsule torn; " in sentence


def test_a_power_that_is_not_in_the_store_is_told_with_the_nearest() -> None:
    assert told(asked(power="+20.25")) == [
        "Power in hand +20.25: the store has no three-piece acrylic 13.0 of that power. "
        "Nearest: +20.00 and +20.50 D."
    ]


def test_no_power_can_be_asked_for_where_none_is_shown() -> None:
    found = what_if(case("half-missing"), STORE, {"power": "+20.00"}, today=TODAY)
    if found.plan.in_hand is None:
        assert told(found) == [
            "Power in hand +20.00: no power is shown for this place. Leave it empty."
        ]
    nowhere = asked(hand="later", power="+20.00")
    assert told(nowhere) == [
        "Power in hand +20.00: no power is shown for this place. Leave it empty."
    ]


@pytest.mark.parametrize(
    "text", ["−0.25", "-0.25", "+0.25", "0", "0.00", "+0.00", "-6", "+3.00", "-0.125"]
)
def test_numbers_that_can_be_meant_are_taken(text: str) -> None:
    wish, problems = read_wish({"aim": text}, case("short-eye-white-lens"), STORE)
    assert problems == ()
    value = float(text.replace("−", "-"))
    assert wish.aim_d == (None if value == 0 else value), "the file's own aim is no wish"


@given(st.text(max_size=12))
def test_any_text_is_taken_as_a_number_that_it_spells_or_refused(text: str) -> None:
    wish, problems = read_wish({"aim": text, "power": text}, HARD, STORE)
    for name, value in (("aim", wish.aim_d), ("power", wish.power_d)):
        refused = any(problem.field == name for problem in problems)
        if value is not None:
            assert not refused
            assert float(text.replace("−", "-")) == value
            assert value == 0 or text[0] in "+-−"
        elif text and not refused:
            assert float(text.replace("−", "-")) == HARD.aim.spherical_equivalent_d


@given(st.text(max_size=200), st.text(max_size=60))
def test_no_text_breaks_a_sentence(text: str, other: str) -> None:
    _, problems = read_wish({"hand": text, "lens": other, "rule": text, "aim": other}, HARD, STORE)
    for problem in problems:
        assert problem.sentence().isprintable()
        assert len(problem.value) <= 40
