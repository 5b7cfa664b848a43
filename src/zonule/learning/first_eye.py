"""Reads the first eye against the place its lens really has, and says what remains.

The myopic surprise of a lens loose in the sulcus belongs to the sulcus, not to the patient.
So the first eye is predicted again for the place its lens has; only what remains is evidence
about the second eye, and how much of that is carried follows from the optics of both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np

from zonule.assessment.applicable import formulas_for
from zonule.assessment.eye_optics import EyeOptics, eye_optics
from zonule.assessment.measured import Measured, measured
from zonule.assessment.prediction import Prediction, predict
from zonule.errors import Problem, Side
from zonule.findings.answers import is_known
from zonule.findings.facts import facts_of
from zonule.findings.records import Case, Eye, Operation
from zonule.formulas.uncertainty import law
from zonule.learning.in_doubt import (
    after_today,
    against_advice,
    figures_in_doubt,
    lens_in_doubt,
    not_settled,
    place_of,
    too_large,
    unwell,
    waits_for,
)
from zonule.library.placements import Place, place
from zonule.library.reading import table
from zonule.practice.first_eye import FirstEye
from zonule.practice.lesson import Lesson
from zonule.practice.records import Lens, Practice


@dataclass(frozen=True, slots=True)
class _Known:
    """Everything that must be known of a first eye before it can be read."""

    operation: Operation
    place: Place
    lens: Lens
    power_d: float
    achieved_d: float
    measured: Measured


def _known(eye: Eye, operation: Operation, practice: Practice) -> _Known:
    at, eye_measured = place_of(operation), measured(eye)
    assert at is not None
    assert eye_measured is not None
    assert isinstance(operation.lens_power_d, float)
    assert isinstance(operation.settled_refraction_d, float)
    return _Known(
        operation=operation,
        place=at,
        lens=next(lens for lens in practice.lenses if lens.name == operation.lens_name),
        power_d=operation.lens_power_d,
        achieved_d=operation.settled_refraction_d,
        measured=eye_measured,
    )


def _predicted(case: Case, side: Side, known: _Known, at: Place) -> Prediction | None:
    uses = formulas_for(at, known.lens, known.measured, facts_of(case, side))
    optics: EyeOptics | None = eye_optics(at, uses, known.measured)
    if optics is None:
        return None
    return predict(
        place=at,
        lens=known.lens,
        uses=uses,
        optics=optics,
        measured=known.measured,
        lesson=None,
        powers_d=np.array([known.power_d]),
    )


def _lesson(eye: Eye, known: _Known, prediction: Prediction, error_d: float) -> Lesson:
    biometry, kind = known.measured.biometry, known.operation.settled_refraction_kind
    slopes = prediction.slopes
    reshaped = eye.answer("hist_refractive_surgery")
    return Lesson(
        error_d=error_d,
        place_key=known.place.key,
        length_method=known.measured.length_method,
        instrument=biometry.instrument if isinstance(biometry.instrument, str) else "",
        refraction_kind=str(kind) if kind in ("autorefraction", "retinoscopy") else "subjective",
        length_d_per_mm=float(slopes.fixed_length_d_per_mm[0]),
        cornea_d_per_d=float(slopes.fixed_cornea_d_per_d[0]),
        position_d_per_mm=float(slopes.position_d_per_mm[0]),
        power_d_per_d=float(slopes.power_d_per_d[0]),
        lens_power_d=known.power_d,
        tail_weight=prediction.tail_weight,
        cornea_reshaped=is_known(reshaped) and reshaped != "none",
    )


def read_first_eye(
    case: Case, practice: Practice, *, problems: Sequence[Problem] = (), today: date | None = None
) -> FirstEye | None:
    """Return what the other eye teaches, or None when it has not been operated.

    Parameters
    ----------
    case
        Both eyes; the other eye is the one not to be done now.
    practice
        The lens store, for the constants of the lens the other eye carries.
    """
    eye = case.fellow_eye
    if eye.operation is None:
        if eye.lens_status in ("pseudophakic", "aphakic"):
            return FirstEye(side=eye.side, withheld="nothing of its operation is recorded")
        return None
    operation = eye.operation
    if waits := waits_for(eye, operation, practice):
        return FirstEye(side=eye.side, withheld=waits)
    if doubt := figures_in_doubt(eye, problems) or after_today(operation, today) or unwell(eye):
        return FirstEye(side=eye.side, withheld=doubt)
    known = _known(eye, operation, practice)
    prediction = _predicted(case, eye.side, known, known.place)
    if prediction is None:
        says = "no formula applies to it"
        return FirstEye(side=eye.side, withheld=says)
    return _told(case, eye, known, prediction)


def _told(case: Case, eye: Eye, known: _Known, prediction: Prediction) -> FirstEye:
    from_bag = _predicted(case, eye.side, known, place("bag"))
    predicted_d = float(prediction.by_formula_d[0].mean())
    error_d = known.achieved_d - predicted_d
    in_the_bag_d = None if from_bag is None else float(from_bag.by_formula_d[0].mean())
    withheld = (
        not_settled(known.operation, known.place.key)
        or lens_in_doubt(known.operation, predicted_d, in_the_bag_d)
        or too_large(known.operation, error_d)
    )
    low, high = law.band(prediction.law, level=0.9)
    aim: Any = known.operation.aim_d
    return FirstEye(
        side=eye.side,
        withheld=withheld,
        place=known.place,
        known_by=str(known.operation.placement_known_by).replace("_", " "),
        lens_name=known.lens.name,
        lens_power_d=known.power_d,
        aim_d=float(aim) if is_known(aim) else None,
        achieved_d=known.achieved_d,
        predicted_d=predicted_d,
        predicted_band_d=(float(low[0]), float(high[0])),
        in_the_bag_d=in_the_bag_d,
        error_d=error_d,
        lesson=None if withheld else _lesson(eye, known, prediction, error_d),
        formulas=tuple(use.label for use in prediction.optics.uses),
        shared_cause=known.operation.surprise_explained == "by_both_eyes"
        and bool(too_large(known.operation, error_d)),
        warns=against_advice(known.place, known.lens),
        less_alike=_less_alike(known.measured, measured(case.operative_eye)),
    )


def _less_alike(first: Measured, second: Measured | None) -> tuple[str, ...]:
    """Return in what the eyes differ more than those of the published pairs did."""
    if second is None:
        return ()
    limits, found = table("fellow_eye")["alike"], []
    length = abs(first.axial_length_mm - second.axial_length_mm)
    cornea = abs(first.corneal_power_d - second.corneal_power_d)
    if length > limits["axial_length_mm"]:
        found.append(f"length by {length:.2f} mm")
    if cornea > limits["corneal_power_d"]:
        found.append(f"cornea by {cornea:.2f} D")
    depths = first.anterior_chamber_depth_mm, second.anterior_chamber_depth_mm
    if depths[0] is not None and depths[1] is not None:
        chamber = abs(depths[0] - depths[1])
        if chamber > limits["chamber_depth_mm"]:
            found.append(f"chamber depth by {chamber:.2f} mm")
    return tuple(found)
