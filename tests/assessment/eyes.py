"""Invented eyes and lenses for the tests of assessment, and one short way to a prediction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np

from zonule.assessment.applicable import FormulaUse, formulas_for
from zonule.assessment.eye_optics import EyeOptics, eye_optics
from zonule.assessment.measured import Measured, measured
from zonule.assessment.prediction import Prediction, predict
from zonule.findings.answers import Answer
from zonule.findings.facts import facts_of
from zonule.findings.records import Aim, Biometry, Case, Eye, Patient
from zonule.library.placements import Place, place, places
from zonule.practice.lesson import Lesson
from zonule.practice.records import Constants, Lens, Practice

AIM_D = -0.25
SOUND: Mapping[str, Answer] = MappingProxyType(
    {
        "phacodonesis": "none",
        "iridodonesis": False,
        "dialysis_clock_hours": 0.0,
        "lens_look": "nuclear",
        "locs_no": 3.0,
    }
)
"""A zonule and a lens that were looked at and found in order."""

OF_888_EYES: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "srkt": {"a_constant": 119.2709},
        "holladay1": {"surgeon_factor": 1.9688},
        "hofferq": {"pacd_mm": 5.7359},
        "haigis": {"a0": -0.5914, "a1": 0.3570, "a2": 0.1970},
    }
)
"""One lens, four formulas, each set to no mean error in the same 888 eyes
(langenbucher2022constants)."""


def constants(
    values: Mapping[str, Mapping[str, float]] = OF_888_EYES,
    *,
    length_method: str = "optical",
    origin: str = "published",
) -> dict[str, Constants]:
    return {
        name: Constants(formula=name, values=row, length_method=length_method, origin=origin)
        for name, row in values.items()
    }


def lens_of(lens_class: str = "three_piece", **changes: Any) -> Lens:
    """Return a lens of a class; those that are never in a bag have no constants of their own."""
    never_in_a_bag = lens_class in ("iris_claw", "angle_supported")
    lens = Lens(
        name=f"invented {lens_class}",
        lens_class=lens_class,
        optic_mm=6.0,
        overall_mm=13.0,
        constants={} if never_in_a_bag else constants(),
        stock=(),
    )
    return replace(lens, **changes)


def lens_for(place_key: str) -> Lens:
    """Return the lens that goes to a place: a three-piece one wherever it may."""
    classes = place(place_key).lens_classes
    return lens_of("three_piece" if "three_piece" in classes else classes[0])


def practice_of(*lenses: Lens) -> Practice:
    return Practice(
        surgeon="invented",
        grade="consultant",
        time_zone="UTC",
        repertoire=("bag", "sulcus_three_piece"),
        lenses=lenses,
        preferred_lens=lenses[0].name,
    )


WITH_A_LENS: tuple[str, ...] = tuple(at.key for at in places().values() if at.holds_lens)


def eye_of(
    *,
    axial_length_mm: float = 23.5,
    corneal_power_d: float = 43.5,
    chamber_depth_mm: float | None = 3.1,
    method: str = "optical_swept_source",
    answers: Mapping[str, Answer] = SOUND,
    **changes: Any,
) -> Eye:
    """Return a left eye with one set of measurements; changes go to the measurements."""
    depth = {} if chamber_depth_mm is None else {"anterior_chamber_depth_mm": chamber_depth_mm}
    biometry = replace(
        Biometry(
            method=method,
            measured_as="phakic",
            axial_length_mm=axial_length_mm,
            k_flat_d=corneal_power_d - 0.4,
            k_steep_d=corneal_power_d + 0.4,
        ),
        **{**depth, **changes},
    )
    return Eye(side="left", lens_status="phakic", answers=answers, biometry=(biometry,))


def case_of(eye: Eye) -> Case:
    return Case(eye.side, Patient("invented"), Aim(AIM_D), right=Eye(side="right"), left=eye)


def measured_of(eye: Eye) -> Measured:
    found = measured(eye)
    assert found is not None
    return found


def uses_of(at: Place | str, eye: Eye, lens: Lens | None = None) -> tuple[FormulaUse, ...]:
    at = place(at) if isinstance(at, str) else at
    return formulas_for(
        at, lens or lens_for(at.key), measured_of(eye), facts_of(case_of(eye), eye.side)
    )


def use_of(name: str, at: Place | str, eye: Eye, lens: Lens | None = None) -> FormulaUse:
    return next(use for use in uses_of(at, eye, lens) if use.name == name)


def speaking_of(at: Place | str, eye: Eye, lens: Lens | None = None) -> tuple[str, ...]:
    return tuple(use.name for use in uses_of(at, eye, lens) if use.applies)


def optics_of(at: Place | str, eye: Eye, lens: Lens | None = None) -> EyeOptics:
    at = place(at) if isinstance(at, str) else at
    found = eye_optics(at, uses_of(at, eye, lens), measured_of(eye))
    assert found is not None
    return found


def exact_power_d(at: Place | str, eye: Eye, lens: Lens | None = None) -> float:
    return optics_of(at, eye, lens).power_for(AIM_D)


def predicted(
    at: Place | str,
    eye: Eye,
    *,
    lens: Lens | None = None,
    powers_d: Sequence[float] | None = None,
    lesson: Lesson | None = None,
) -> Prediction:
    """Return what the powers would leave; without powers, the one that meets the aim."""
    at = place(at) if isinstance(at, str) else at
    lens, found = lens or lens_for(at.key), measured_of(eye)
    uses = uses_of(at, eye, lens)
    optics = eye_optics(at, uses, found)
    assert optics is not None
    return predict(
        place=at,
        lens=lens,
        uses=uses,
        optics=optics,
        measured=found,
        lesson=lesson,
        powers_d=np.array([optics.power_for(AIM_D)] if powers_d is None else powers_d),
    )
