"""What the engine says of states that a surgeon knows."""

from __future__ import annotations

import re

import pytest

from theatre_states.answers import WHOLE, with_
from zonule.errors import NoSuchName
from zonule.plan.states.engine import state_answer
from zonule.plan.states.eye import EyeVerdict
from zonule.plan.states.tables import tables

FIXED = ("scleral", "iris_claw", "iris_suture", "anterior_chamber")


def places(told: dict[str, str], **more: object) -> list[str]:
    return [one.placement for one in state_answer(told, **more).offered]  # type: ignore[arg-type]


def test_a_whole_eye_has_the_bag() -> None:
    told = state_answer(WHOLE)
    assert places(WHOLE) == ["bag", "later"]
    assert told.first_choice == "bag"
    assert told.offered[0].ready


def test_a_large_tear_with_a_sound_rhexis_captures_before_it_leaves_loose() -> None:
    told = with_(posterior_capsule="tear_large")
    assert places(told) == ["sulcus_capture", "sulcus_three_piece", *FIXED, "later"]


def test_vitreous_must_be_cleared_before_the_place_is_ready() -> None:
    told = state_answer(with_(posterior_capsule="tear_large", vitreous="in_chamber"))
    first = told.offered[0]
    assert not first.ready
    assert [(step.id, step.if_needed, step.done) for step in first.steps] == [
        ("clear_vitreous", False, False)
    ]


def test_a_gap_of_three_hours_wants_a_ring_and_one_that_is_in_is_done() -> None:
    told = state_answer(with_(gap_hours="up_to_3"))
    assert [step.id for step in told.offered[0].steps if step.outstanding] == ["ring_put_in"]
    held = state_answer(with_(gap_hours="up_to_3", ring_in="yes"))
    assert held.offered[0].ready
    assert ("ring_put_in", True) in [(step.id, step.done) for step in held.offered[0].steps]


def test_a_tear_found_under_the_lens_brings_the_optic_forward() -> None:
    told = state_answer(with_(lens_in_eye="in_bag", posterior_capsule="tear_small_round"))
    assert told.first_choice == "reverse_capture"


def test_not_safe_leaves_a_second_operation_alone_and_asks_nothing() -> None:
    told = state_answer({"safe_to_go_on": "no"})
    assert places({"safe_to_go_on": "no"}) == ["later"]
    assert (told.next_question, told.first_choice) == (None, "later")
    assert set(told.answers.values()) == {"no", "not_asked"}


def test_whether_the_eye_is_safe_is_asked_first_and_never_told_from_other_answers() -> None:
    nothing = state_answer({})
    assert nothing.next_question == "safe_to_go_on"
    clash = with_(rhexis="not_started", ring_in="yes", safe_to_go_on="not_known")
    told = state_answer(clash)
    assert told.first_choice is None
    assert (told.next_question, told.contradictions) == ("safe_to_go_on", ())
    assert all("known whether the eye is safe" in one.sentence for one in told.refused)


def test_answers_that_cannot_stand_together_are_said_and_asked_again() -> None:
    told = state_answer(with_(vitreous="at_tear"))
    assert [one.id for one in told.contradictions] == ["K-09"]
    assert told.next_question in told.contradictions[0].inputs
    assert [one.placement for one in told.offered] == ["later"]


def test_a_contradiction_that_every_outcome_has_is_told_before_the_last_answer() -> None:
    told = with_(ring_in="yes", usable_rim="under_270", posterior_capsule="not_known")
    found = state_answer(told)
    assert {one.id for one in found.contradictions} >= {"K-04", "K-13"}
    assert found.next_question is not None


def test_what_an_answer_not_known_leaves_open_names_the_question() -> None:
    torn = with_(posterior_capsule="tear_large", capsule_opening_fit="no")
    told = state_answer(torn | {"usable_rim": "not_known"})
    assert {(one.placement, one.question) for one in told.open} >= {
        ("sulcus_three_piece", "usable_rim")
    }
    assert told.next_question == "usable_rim"
    assert told.first_choice is None


def test_answers_that_exclude_each_other_settle_what_no_single_one_does() -> None:
    """An optic covered all round needs a rim all round: nobody has to be asked for it."""
    told = with_(posterior_capsule="tear_large", usable_rim="not_known")
    assert state_answer(told).next_question is None
    assert state_answer(told).first_choice == "sulcus_capture"


def test_a_step_that_an_answer_not_known_decides_is_first_if_needed() -> None:
    told = state_answer(with_(posterior_capsule="tear_large", vitreous="not_known"))
    step = told.offered[0].steps[0]
    assert (step.id, step.if_needed, step.done) == ("clear_vitreous", True, False)
    assert not told.offered[0].ready


def test_what_is_taken_out_stays_in_sight_with_its_reason() -> None:
    torn = with_(posterior_capsule="tear_large")
    told = state_answer(torn, removed={"sulcus_capture": "no lens for it"})
    assert told.first_choice == "sulcus_three_piece"
    reasons = {one.placement: one.sentence for one in told.refused}
    assert reasons["sulcus_capture"] == "Sulcus, optic captured: no lens for it."


def test_a_second_operation_cannot_be_taken_out() -> None:
    every = dict.fromkeys(tables().placements, "no")
    assert places(WHOLE, removed=every) == ["later"]


def test_the_repertoire_orders_the_fixations() -> None:
    none = with_(posterior_capsule="absent", usable_rim="under_270")
    assert places(none, repertoire_order=["iris_claw", "anterior_chamber"]) == [
        *("iris_claw", "anterior_chamber", "scleral", "iris_suture", "later"),
    ]


def test_the_eye_refuses_asks_and_warns() -> None:
    none = with_(posterior_capsule="absent", usable_rim="under_270")
    told = state_answer(
        none,
        eye={
            "scleral": EyeVerdict(refused_because="sclera too weak for the haptic"),
            "iris_claw": EyeVerdict(asks=("Iris firm?",), warns=("Floppy iris grips less well.",)),
        },
    )
    assert told.first_choice == "iris_claw"
    assert told.offered[0].warns == ("Floppy iris grips less well.",)
    assert "Iris firm?" in told.offered[0].asks
    assert told.offered[0].asks[0].startswith("Two people have checked the lens")


@pytest.mark.parametrize(
    ("told", "more", "says"),
    [
        ({"capsule": "intact"}, {}, "posterior_capsule"),
        ({"rhexis": "torn"}, {}, "radial_tear_rim"),
        (WHOLE, {"removed": {"sulcus": "no"}}, "sulcus_capture"),
    ],
)
def test_a_wrong_name_is_refused_with_those_there_are(
    told: dict[str, str], more: dict[str, dict[str, str]], says: str
) -> None:
    with pytest.raises(NoSuchName, match=says):
        state_answer(told, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("told", "placement", "sentence"),
    [
        (with_(posterior_capsule="tear_large"), "bag", r"needs .*; here a large tear"),
        (with_(safe_to_go_on="no"), "bag", r"a safe eye to carry on with; here .*: close the eye"),
        (with_(gap_hours="over_7"), "sulcus_three_piece", r"no gap beyond 3 hours; here beyond 7"),
        (WHOLE, "sulcus_three_piece", r"not among the places for this state \(bag and zonule"),
        (WHOLE, "reverse_capture", r"the new lens inside the bag .*; here none in the eye"),
    ],
)
def test_a_refusal_says_what_it_needs_and_what_there_is(
    told: dict[str, str], placement: str, sentence: str
) -> None:
    reasons = {one.placement: one.sentence for one in state_answer(told).refused}
    assert re.search(sentence, reasons[placement]), reasons[placement]


def test_a_moot_question_is_no_reason_while_there_is_another() -> None:
    none = with_(posterior_capsule="absent", usable_rim="under_270")
    reasons = [one.sentence for one in state_answer(none).refused]
    assert reasons
    assert not any("not asked" in one for one in reasons)
