"""Reads the first eye against the place its lens really has, and says what remains.

The myopic surprise of a lens loose in the sulcus belongs to the sulcus, not to the patient.
So the first eye is predicted again for the place its lens has; only what remains is evidence
about the second eye, and how much of that is carried follows from the optics of both.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np

from zonule.assessment.applicable import formulas_for
from zonule.assessment.eye_optics import EyeOptics, eye_optics
from zonule.assessment.measured import Measured, measured, missing_for_power
from zonule.assessment.prediction import Prediction, predict
from zonule.errors import Side
from zonule.findings.answers import is_known
from zonule.findings.facts import facts_of
from zonule.findings.labels import named
from zonule.findings.records import Case, Eye, Operation
from zonule.formulas.uncertainty import law
from zonule.library.placements import Place, place, places
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


_SUTURED = ("scleral", "iris_suture", "bag_anchored")
_WIDE_WOUND = ("iris_claw", "anterior_chamber")


def _place_of(operation: Operation) -> Place | None:
    if not isinstance(operation.placement, str):
        return None
    variant = operation.variant if isinstance(operation.variant, str) else ""
    key = f"{operation.placement}:{variant}" if variant else operation.placement
    return places().get(key)


def weeks_to_settle(place_key: str) -> int:
    """Return the weeks after which a refraction counts as settled in a place.

    Examples
    --------
    >>> weeks_to_settle("bag"), weeks_to_settle("scleral:sutured_1_0_mm")
    (4, 6)
    """
    limits = table("fellow_eye")["limits"]
    slow = place_key.partition(":")[0] in (*_SUTURED, *_WIDE_WOUND)
    return int(limits["settled_weeks_after_sutures" if slow else "settled_weeks"])


def _not_settled(operation: Operation, place_key: str) -> str:
    if not isinstance(operation.done_on, date) or not isinstance(operation.settled_on, date):
        return "waits for the days of operation and refraction: whether it has settled is not known"
    weeks = weeks_to_settle(place_key)
    if operation.settled_on - operation.done_on < timedelta(weeks=weeks):
        days = (operation.settled_on - operation.done_on).days
        return f"refraction taken {days} days after surgery, settled after {weeks} weeks"
    return ""


def _waits(eye: Eye, operation: Operation, practice: Practice) -> str:
    """Return the first thing that keeps the first eye from being read, or nothing."""
    asked = (
        ("placement", "where its lens lies"),
        ("placement_known_by", "how the place of its lens is known"),
        ("lens_name", "which lens it carries"),
        ("lens_power_d", "the power of its lens"),
        ("settled_refraction_d", "its settled refraction"),
    )
    for name, words in asked:
        if not is_known(getattr(operation, name)):
            return f"waits for {words} ({name})"
    return _place_in_doubt(operation) or _not_computable(eye, operation, practice)


def _place_in_doubt(operation: Operation) -> str:
    if operation.placement_known_by == "assumed":
        return "the place of its lens is only assumed: look, or read the operation note"
    if (at := _place_of(operation)) is None:
        return "waits for the variant of the place its lens lies in (variant)"
    return "" if at.holds_lens else "it carries no lens"


def _not_computable(eye: Eye, operation: Operation, practice: Practice) -> str:
    if all(lens.name != operation.lens_name for lens in practice.lenses):
        return f"{operation.lens_name!r} is not in the lens store: its constants are not known"
    if missing := missing_for_power(eye):
        return f"waits for its {', '.join(named(name) for name in missing)}"
    return ""


def _known(eye: Eye, operation: Operation, practice: Practice) -> _Known:
    at, eye_measured = _place_of(operation), measured(eye)
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


def _too_large(operation: Operation, error_d: float) -> str:
    limit = float(table("fellow_eye")["limits"]["explain_first_above_d"])
    if operation.surprise_explained == "by_this_eye":
        return "its surprise has a cause of that eye alone"
    if abs(error_d) <= limit or operation.surprise_explained == "by_both_eyes":
        return ""
    return (
        f"more than {limit:.1f} D is usually one eye's own: find its cause before it moves "
        "the other eye"
    )


def read_first_eye(case: Case, practice: Practice) -> FirstEye | None:
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
        return None
    operation = eye.operation
    if waits := _waits(eye, operation, practice):
        return FirstEye(side=eye.side, withheld=waits)
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
    withheld = _not_settled(known.operation, known.place.key) or _too_large(
        known.operation, error_d
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
        in_the_bag_d=None if from_bag is None else float(from_bag.by_formula_d[0].mean()),
        error_d=error_d,
        lesson=None if withheld else _lesson(eye, known, prediction, error_d),
        formulas=tuple(use.label for use in prediction.optics.uses),
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
