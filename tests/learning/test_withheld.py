"""When the first eye teaches nothing, and the whole sentence that says why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from assessment.eyes import eye_of, lens_of, practice_of
from learning.pairs import (
    LENS,
    case_of,
    first_eye_of,
    predicted_d,
    read,
    with_error,
)
from zonule.findings.answers import Unknown
from zonule.findings.records import Eye
from zonule.learning.first_eye import read_first_eye
from zonule.learning.in_doubt import weeks_to_settle


def withheld(first: Eye) -> str:
    found = read(first)
    assert (found.lesson is None) is bool(found.withheld)
    return found.withheld


def test_an_eye_that_was_not_operated_teaches_nothing() -> None:
    case = case_of(replace(eye_of(), side="right"))
    assert read_first_eye(case, practice_of(LENS)) is None


@pytest.mark.parametrize(
    ("placement", "variant", "weeks"),
    [
        ("bag", "", 4),
        ("sulcus_three_piece", "", 4),
        ("bag_anchored", "", 6),
        ("iris_suture", "", 6),
        ("scleral", "sutured_1_0_mm", 6),
        ("scleral", "intrascleral_2_0_mm", 6),
    ],
)
def test_a_refraction_must_have_settled(placement: str, variant: str, weeks: int) -> None:
    assert weeks_to_settle(f"{placement}:{variant}" if variant else placement) == weeks
    place: dict[str, Any] = {"placement": placement, "variant": variant}
    a_day_short = first_eye_of(**place, days=7 * weeks - 1, achieved_d=predicted_d(**place))
    assert withheld(a_day_short) == (
        f"refraction taken {7 * weeks - 1} days after surgery, settled after {weeks} weeks"
    )
    assert withheld(first_eye_of(**place, days=7 * weeks, achieved_d=predicted_d(**place))) == ""


def test_a_lens_through_a_wide_wound_settles_late() -> None:
    assert weeks_to_settle("iris_claw:behind") == weeks_to_settle("anterior_chamber") == 6


@pytest.mark.parametrize("day", ["done_on", "settled_on"])
def test_without_both_days_nobody_knows_whether_it_settled(day: str) -> None:
    changed: dict[str, Any] = {day: Unknown.NOT_RECORDED}
    assert withheld(first_eye_of(**changed)) == (
        "waits for the days of operation and refraction: whether it has settled is not known"
    )


@pytest.mark.parametrize("error_d", [-1.21, 1.21, -2.0])
def test_a_large_error_waits_for_its_cause(error_d: float) -> None:
    assert withheld(with_error(error_d)) == (
        "more than 1.2 D is usually one eye's own: find its cause before it moves the other eye"
    )
    shared = with_error(error_d, surprise_explained="by_both_eyes")
    assert withheld(shared) == (
        "its cause is shared: correct this eye's figures for it, do not carry it over"
    )
    assert read(shared).shared_cause
    assert not read(with_error(error_d)).shared_cause
    assert withheld(with_error(error_d, surprise_explained="by_this_eye")) == (
        "its surprise has a cause of that eye alone"
    )
    assert withheld(with_error(error_d, surprise_explained=Unknown.UNKNOWN)) != ""


def test_an_error_just_below_is_read() -> None:
    assert withheld(with_error(1.19)) == ""


def test_a_withheld_error_is_still_told() -> None:
    found = read(with_error(1.5))
    assert found.lesson is None
    assert found.error_d == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("placement", "waits for where its lens lies"),
        ("placement_known_by", "waits for how the place of its lens is known"),
        ("lens_name", "waits for which lens it carries"),
        ("lens_power_d", "waits for the power of its lens"),
        ("settled_refraction_d", "waits for its settled refraction"),
    ],
)
@pytest.mark.parametrize("why", list(Unknown))
def test_what_is_not_known_of_the_operation_is_waited_for(
    name: str, says: str, why: Unknown
) -> None:
    changed: dict[str, Any] = {name: why}
    assert withheld(first_eye_of(**changed)) == f"{says} ({name})"


def test_a_place_of_several_kinds_needs_its_variant() -> None:
    assert withheld(first_eye_of(placement="scleral")) == (
        "waits for the variant of the place its lens lies in (variant)"
    )


def test_a_lens_that_is_not_in_the_store_has_no_constants() -> None:
    assert withheld(first_eye_of(lens_name="another lens")) == (
        "'another lens' is not in the lens store: its constants are not known"
    )


def test_an_eye_without_measurements_cannot_be_predicted() -> None:
    assert withheld(replace(first_eye_of(), biometry=())) == "waits for its biometry"
    no_k = first_eye_of(biometry={"k_flat_d": Unknown.NOT_POSSIBLE})
    assert withheld(no_k) == "waits for its flat K"


def test_a_lens_without_constants_cannot_be_predicted() -> None:
    bare = practice_of(lens_of("three_piece", constants={}))
    found = read(first_eye_of(), practice=bare)
    assert found.withheld == "no formula applies to it"


def test_the_day_of_the_refraction_counts_and_not_today() -> None:
    """An old operation refracted early stays unsettled however long ago it was."""
    early = first_eye_of(done_on=date(2020, 1, 1), settled_on=date(2020, 1, 10))
    assert withheld(early) == "refraction taken 9 days after surgery, settled after 4 weeks"


def test_a_place_that_is_only_assumed_teaches_nothing() -> None:
    assert withheld(first_eye_of(placement_known_by="assumed")) == (
        "the place of its lens is only assumed: look, or read the operation note"
    )


def test_an_eye_left_without_a_lens_teaches_nothing() -> None:
    assert withheld(first_eye_of(placement="later")) == "it carries no lens"
