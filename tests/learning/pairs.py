"""Invented patients whose first eye has been operated, and what the second eye is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np

from assessment.eyes import AIM_D, SOUND, eye_of, lens_of, measured_of, optics_of, practice_of
from zonule.assessment.carry import Carried, carry_to
from zonule.assessment.prediction import Prediction, predict
from zonule.findings.answers import Answer
from zonule.findings.records import Aim, Case, Eye, Operation, Patient
from zonule.learning.first_eye import read_first_eye
from zonule.library.placements import place
from zonule.practice.first_eye import FirstEye
from zonule.practice.lesson import Lesson
from zonule.practice.records import Practice

DONE_ON = date(2026, 9, 1)
LENS = lens_of("three_piece")
PRACTICE = practice_of(LENS)


def first_eye_of(
    *,
    placement: str = "bag",
    variant: str = "",
    power_d: float = 22.0,
    achieved_d: float = -0.25,
    days: int = 60,
    answers: Mapping[str, Answer] = SOUND,
    biometry: Mapping[str, Any] | None = None,
    **changes: Any,
) -> Eye:
    """Return a right eye with its lens; changes go to the operation."""
    operation = Operation(
        done_on=DONE_ON,
        placement=placement,
        placement_known_by="slit_lamp",
        lens_name=LENS.name,
        lens_power_d=power_d,
        aim_d=AIM_D,
        settled_refraction_d=achieved_d,
        settled_refraction_kind="subjective",
        settled_on=DONE_ON + timedelta(days=days),
    )
    if variant:
        operation = replace(operation, variant=variant)
    return replace(
        eye_of(answers=answers, **(biometry or {})),
        side="right",
        lens_status="pseudophakic",
        operation=replace(operation, **changes),
    )


def case_of(first: Eye, second: Eye | None = None) -> Case:
    return Case("left", Patient("invented"), Aim(AIM_D), right=first, left=second or eye_of())


def read(first: Eye, second: Eye | None = None, practice: Practice = PRACTICE) -> FirstEye:
    found = read_first_eye(case_of(first, second), practice)
    assert found is not None
    return found


def predicted_d(**changes: Any) -> float:
    """Return what the first eye was predicted to become in the place its lens has."""
    found = read(first_eye_of(**changes)).predicted_d
    assert found is not None
    return found


def with_error(error_d: float, **changes: Any) -> Eye:
    """Return a first eye that came out by so much off the prediction for its place."""
    return first_eye_of(**{**changes, "achieved_d": predicted_d(**changes) + error_d})


def lesson_of(first: Eye, second: Eye | None = None) -> Lesson:
    found = read(first, second)
    assert found.lesson is not None, found.withheld
    return found.lesson


def carried(first: Eye, at: str = "bag", second: Eye | None = None) -> Carried:
    """Return what the first eye tells the power that meets the aim in a place of the second."""
    eye = second or eye_of()
    optics = optics_of(at, eye, LENS)
    powers = np.array([optics.power_for(AIM_D)])
    lesson = lesson_of(first, second)
    return carry_to(place(at), optics.slopes(powers), measured_of(eye), powers, lesson)


def second_prediction(first: Eye | None, at: str = "bag", second: Eye | None = None) -> Prediction:
    """Return the second eye's prediction with the lesson of the first, or without one."""
    eye = second or eye_of()
    optics = optics_of(at, eye, LENS)
    return predict(
        place=place(at),
        lens=LENS,
        uses=optics.uses,
        optics=optics,
        measured=measured_of(eye),
        lesson=None if first is None else lesson_of(first, second),
        powers_d=np.array([optics.power_for(AIM_D)]),
    )
