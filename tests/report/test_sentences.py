"""Whole sentences a person reads beside the figures of a plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import (
    ONE_PIECE,
    case,
    example,
    planned,
    rung,
    with_biometry,
    with_eye,
)
from report.pages import flowing, page
from zonule.findings.answers import Unknown
from zonule.findings.records import Case, Eye
from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.words import dioptres, of_100, signed

HARD = case("hard-second-eye")
HALF = "About half is what published pairs of bag lenses did best with."


def second_eye(error_d: float, *, placement: str = "bag", **first: object) -> Plan:
    """Plan the hard second eye, its first having come out by so much off its prediction."""
    eye = HARD.fellow_eye
    assert eye.operation is not None
    operation = replace(eye.operation, placement=placement, aim_d=Unknown.NOT_RECORDED)
    biometry = tuple(replace(one, **first) for one in eye.biometry)  # type: ignore[arg-type]
    as_it_lies = replace(eye, biometry=biometry, operation=operation)
    told = planned(with_eye(HARD, as_it_lies)).first_eye
    assert told is not None
    assert told.predicted_d is not None
    out = replace(operation, settled_refraction_d=told.predicted_d + error_d)
    return planned(with_eye(HARD, replace(as_it_lies, operation=out)))


def why_this_share(plan: Plan) -> str:
    told = sentences.first_eye_carried(plan)
    assert told.startswith("Carried over to the intended place: "), told
    return told.partition(" of what remains. ")[2]


def gross(plan: Plan) -> float:
    assert plan.in_hand is not None
    assert plan.in_hand.prediction is not None
    assert plan.in_hand.prediction.carried is not None
    return 1.0 - plan.in_hand.prediction.carried.core_probability


def test_a_small_error_of_a_bag_lens_is_carried_by_half() -> None:
    plan = second_eye(0.2)
    assert gross(plan) < 0.15
    assert why_this_share(plan) == HALF


def test_a_large_error_is_likelier_that_eyes_alone() -> None:
    plan = second_eye(1.0)
    assert gross(plan) > 0.15
    assert why_this_share(plan) == (
        f"{HALF} The larger a first error, the likelier it is that eye's alone "
        f"({of_100(gross(plan))} here), and the less is carried."
    )


def test_what_was_measured_apart_is_named() -> None:
    plan = second_eye(0.1, instrument="biometer in room 9")
    assert why_this_share(plan) == f"{HALF} Less is shared, because the eyes differ in instrument."
    both = second_eye(0.1, instrument="another", method="ultrasound_immersion")
    assert why_this_share(both).startswith(HALF)
    assert why_this_share(both).endswith(
        " Less is shared, because the eyes differ in length method and instrument."
    )


def test_a_captured_lens_shows_part_of_the_bag() -> None:
    assert why_this_share(second_eye(0.2, placement="sulcus_capture")) == (
        "A captured or anchored lens shows part of where this patient's bag lies."
    )


# ------------------------------------------------------------------ bounds


def _bounded(name: str = "hard-second-eye") -> list[Rung]:
    return [one for one in example(name).rungs if one.low_move_d is not None]


def test_bounds_are_told_from_the_myopic_to_the_hyperopic_end() -> None:
    told = 0
    for one in _bounded():
        assert one.low_move_d is not None
        assert one.high_move_d is not None
        ends = sorted((one.low_move_d, one.high_move_d))
        for either in (one, replace(one, low_move_d=ends[1], high_move_d=ends[0])):
            said = sentences.bounds(either)
            if said:
                told += 1
                assert said == (
                    f"{signed(ends[0])} to {signed(ends[1])} D at the bounds of the place"
                )
    assert told >= 6


def test_a_place_without_bounds_says_nothing() -> None:
    one = rung(example("plain-eye"), "sulcus_three_piece")
    assert sentences.bounds(replace(one, low_move_d=None, high_move_d=None)) == ""
    assert sentences.bounds(replace(one, low_move_d=-0.25, high_move_d=-0.254)) == ""


# ------------------------------------------------------------------ a backup that looks surer


def test_a_backup_that_looks_surer_than_the_bag_is_explained() -> None:
    plan = example("long-eye-after-vitrectomy")
    assert plan.in_hand is not None
    assert plan.in_hand.chosen is not None
    bag = plan.in_hand.chosen.within_0_50
    assert any(one.chosen and one.chosen.within_0_50 > bag for one in plan.rungs)
    said = sentences.surer_than_the_bag(plan)
    assert said == (
        "A backup here looks surer than the bag. It is not: gross errors are counted for 11 of "
        "100 eyes in the bag and for 2 of 100 elsewhere, where the assumed spread should hold "
        "them."
    )
    assert said in flowing(page(plan))


@pytest.mark.parametrize("name", ["plain-eye", "aphakic-eye"])
def test_where_no_backup_looks_surer_nothing_is_said(name: str) -> None:
    assert sentences.surer_than_the_bag(example(name)) == ""
    assert "looks surer" not in flowing(page(example(name)))


# ------------------------------------------------------------------ lines of the page


def test_the_mean_of_the_formulas_what_is_carried_and_what_is_expected_stand_in_one_line() -> None:
    plan = second_eye(-0.8)
    found = plan.in_hand
    assert found is not None
    assert found.prediction is not None
    assert found.prediction.carried is not None
    assert found.chosen is not None
    at = found.prediction.index_of(found.chosen.power_d)
    mean = float(found.prediction.by_formula_d[at].mean())
    moved = float(found.prediction.carried.mean_d[at])
    assert moved < -0.1
    assert (
        f" D, equal weights: mean {signed(mean)}, carried over from the first eye "
        f"{signed(moved)}, expected {dioptres(found.chosen.refraction_d)}."
    ) in flowing(page(plan))


def test_where_nothing_is_carried_the_formulas_stand_alone() -> None:
    text = flowing(page(example("plain-eye")))
    assert " D, equal weights. " in text
    assert "carried over" not in text


def _by(method: str) -> Case:
    return with_biometry(case("plain-eye"), method=method)


def test_a_converted_length_is_said_once() -> None:
    text = flowing(page(planned(_by("ultrasound_contact"))))
    assert text.count("Length: ") == 1
    assert (
        "Length: published constant, optical lengths; this ultrasound contact length is taken "
        "+0.20 mm longer, once."
    ) in text


@pytest.mark.parametrize("method", ["optical_swept_source", "ultrasound_immersion"])
def test_a_length_used_as_it_is_needs_no_line(method: str) -> None:
    assert "Length: " not in flowing(page(planned(_by(method))))


def test_a_long_eye_is_said_on_the_page() -> None:
    says = (
        "Long eye: formulas without a long-eye adjustment, such as these, tend to leave it more "
        "hyperopic than they say; compare with an adjusted formula before aiming."
    )
    assert says in flowing(page(example("long-eye-after-vitrectomy")))
    assert "Long eye" not in flowing(page(example("plain-eye")))


def _first_with_a_one_piece() -> Eye:
    eye = HARD.fellow_eye
    assert eye.operation is not None
    return replace(eye, operation=replace(eye.operation, lens_name=ONE_PIECE))


def test_a_one_piece_in_the_sulcus_of_the_first_eye_is_looked_after() -> None:
    says = (
        "Look after that eye: one-piece acrylic never loose in the sulcus: of 30 referred eyes 93 "
        "of 100 needed surgery, 83 of 100 an exchange."
    )
    assert says in flowing(page(planned(with_eye(HARD, _first_with_a_one_piece()))))
    assert "Look after that eye" not in flowing(page(example("hard-second-eye")))


def test_it_is_said_what_the_likelihoods_are_made_of() -> None:
    text = flowing(page(example("plain-eye")))
    assert (
        "Likelihoods: the chance of the capsule states in which the lens goes there, from the "
        "rupture model, counts of zonular and rim events, and assumed shares of states."
    ) in text
    assert "After rupture elsewhere: sulcus 60" in text


def test_an_eye_without_a_model_says_why_it_has_no_likelihoods() -> None:
    text = flowing(page(example("aphakic-eye")))
    assert "No likelihoods: the risk models are those of eyes that start with their own" in text
