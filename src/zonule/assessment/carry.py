"""How much of the first eye's error each place of the second eye is told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.eye_optics import MeanSlopes
from zonule.assessment.label import label_sd_d
from zonule.assessment.measured import Measured
from zonule.findings.answers import is_known
from zonule.formulas import fellow_eye
from zonule.library.placements import Place, place
from zonule.library.reading import table
from zonule.practice.lesson import Lesson

Array = NDArray[np.float64]

_REFRACTION_SD: Final = {
    "subjective": "subjective_refraction_sd_d",
    "retinoscopy": "autorefraction_sd_d",
    "autorefraction": "autorefraction_sd_d",
}
"""Retinoscopy is taken like autorefraction: the patient was not asked."""


@dataclass(frozen=True, slots=True)
class Carried:
    """What is carried to one place of the second eye, by power."""

    share: Array
    mean_d: Array
    variance_gone_d2: Array
    core_probability: float
    apart: tuple[str, ...] = ()
    """In what the eyes were measured differently, so that less is shared."""


def _eye(
    *,
    at: Place,
    slopes: MeanSlopes | Lesson,
    length_method: str,
    refraction_kind: str,
    label_sd_d: Array,
) -> fellow_eye.Eye:
    own = table("fellow_eye")["own"]
    here: dict[str, float] = table("fellow_eye")["places"][at.key]
    if isinstance(slopes, MeanSlopes):
        length, cornea = slopes.fixed_length_d_per_mm, slopes.fixed_cornea_d_per_d
    else:
        length, cornea = np.array(slopes.length_d_per_mm), np.array(slopes.cornea_d_per_d)
    return fellow_eye.Eye(
        length_d_per_mm=length,
        cornea_d_per_d=cornea,
        position_d_per_mm=slopes.position_d_per_mm,
        power_d_per_d=slopes.power_d_per_d,
        length_sd_mm=own[f"{length_method}_length_sd_mm"],
        cornea_sd_d=own["cornea_sd_d"],
        refraction_sd_d=own[_REFRACTION_SD[refraction_kind]],
        label_sd_d=label_sd_d,
        position_sd_mm=here["own_position_sd_mm"],
        position_mean_sd_mm=at.position_mean_sd_mm,
        anatomy_share=here["anatomy"],
    )


def _same_instrument(lesson: Lesson, measured: Measured) -> bool:
    """Two labels that differ are two instruments; one method and no labels counts as one."""
    here = measured.biometry.instrument
    if lesson.instrument and is_known(here):
        return lesson.instrument == here
    return lesson.length_method == measured.length_method


def carry_to(
    at: Place, slopes: MeanSlopes, measured: Measured, powers_d: Array, lesson: Lesson
) -> Carried:
    """Return what the first eye's error says about a lens in this place of the second eye."""
    shared: dict[str, Any] = table("fellow_eye")["shared"]
    same_method = lesson.length_method == measured.length_method
    same_instrument = _same_instrument(lesson, measured)
    found = fellow_eye.carry_over(
        first=_eye(
            at=place(lesson.place_key),
            slopes=lesson,
            length_method=lesson.length_method,
            refraction_kind=lesson.refraction_kind,
            label_sd_d=label_sd_d(np.array(lesson.lens_power_d)),
        ),
        second=_eye(
            at=at,
            slopes=slopes,
            length_method=measured.length_method,
            refraction_kind="subjective",
            label_sd_d=label_sd_d(powers_d),
        ),
        shared=fellow_eye.Shared(
            length_sd_mm=shared["length_sd_mm"],
            cornea_sd_d=shared["cornea_sd_d"],
            refraction_sd_d=shared["refraction_sd_d"],
            position_sd_mm=shared["position_sd_mm"],
        ),
        first_error_d=lesson.error_d,
        tail_weight=lesson.tail_weight,
        tail_sd_d=table("prediction")["tail"]["sd_d"],
        same_placement=lesson.place_key == at.key,
        same_length_method=same_method and same_instrument,
        same_keratometer=same_instrument and not lesson.cornea_reshaped,
        same_kind_of_refraction=lesson.refraction_kind == "subjective",
    )
    return Carried(
        share=found.share,
        mean_d=found.mean_d,
        variance_gone_d2=found.variance_second_d2 - found.sd_d**2,
        core_probability=float(np.mean(found.core_probability)),
        apart=_measured_apart(lesson, measured),
    )


def _measured_apart(lesson: Lesson, measured: Measured) -> tuple[str, ...]:
    """Return in what the two eyes were measured differently."""
    alike = (
        ("length method", lesson.length_method == measured.length_method),
        ("instrument", _same_instrument(lesson, measured)),
        ("kind of refraction", lesson.refraction_kind == "subjective"),
    )
    return tuple(what for what, same in alike if not same)
