"""Why one formula stands apart from the rest, in its own terms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.applicable import FormulaUse
from zonule.assessment.prediction import Prediction, typical_disagreement_d
from zonule.formulas import power
from zonule.formulas.optics import thin_lens
from zonule.formulas.optics.thin_lens import ThinEye

Array = NDArray[np.float64]

NINE_IN_TEN: Final = 1.645
"""Standard score that nine in ten errors stay within."""
AVERAGE_LENGTH_MM: Final = 23.5
AVERAGE_CORNEA_D: Final = 43.5
AVERAGE_CHAMBER_MM: Final = 3.1
"""An average eye, in which the constants of one series agree."""


@dataclass(frozen=True, slots=True)
class Parting:
    """What sets the odd one out apart from the mean of the others.

    ``by`` is the part that does most of it: ``position``, ``length`` or ``cornea``; ``amount``
    is how much that formula takes it differently, in mm or D; ``refraction_d`` what that part
    alone makes of the refraction.
    """

    label: str
    difference_d: float
    by: str
    amount: float
    refraction_d: float


def parting(prediction: Prediction, index: int) -> Parting | None:
    """Return why a formula stands apart with the power at an index; None when none does.

    Each formula has its own index and its own way to count a length, and its constant makes up
    for both in an average eye. So what counts is how far each part has moved from where that
    formula has it in an average eye, against how far the others have moved theirs.
    """
    odd = int(prediction.disagreement.odd_one_out[index])
    if odd < 0:
        return None
    optics = prediction.optics
    here, average = _parts(optics.thin), _parts(_average_eye(optics.uses))
    at = thin_lens.slopes(
        corneal_power_d=optics.thin.corneal_power_d,
        length_mm=optics.thin.length_mm,
        lens_position_mm=optics.position_mm,
        lens_power_d=prediction.powers_d[index],
    )
    slopes = {
        "position": at.position_d_per_mm,
        "length": at.length_d_per_mm,
        "cornea": at.cornea_d_per_d,
    }
    amounts = {name: _apart(here[name] - average[name], odd) for name in here}
    effects = {name: amounts[name] * float(slopes[name][odd]) for name in here}
    difference = _apart(prediction.by_formula_d[index], odd)
    by = max(effects, key=lambda name: effects[name] * float(np.sign(difference)))
    return Parting(
        label=optics.uses[odd].label,
        difference_d=difference,
        by=by,
        amount=amounts[by],
        refraction_d=effects[by],
    )


def measurement_explains(prediction: Prediction, index: int) -> bool:
    """Tell whether errors of measurement alone could have brought the formulas so far apart.

    How much the disagreement itself moves with length, cornea and chamber, times what each may
    be wrong by; true when taking 1.645 of that off brings it back within the ordinary.
    """
    optics, measured = prediction.optics, prediction.measured
    at = thin_lens.slopes(
        corneal_power_d=optics.thin.corneal_power_d,
        length_mm=optics.thin.length_mm,
        lens_position_mm=optics.position_mm,
        lens_power_d=prediction.powers_d[index],
    )
    moved = at.position_d_per_mm
    slopes = (
        at.length_d_per_mm * optics.per_length_mm.length_mm
        + moved * optics.per_length_mm.lens_position_mm,
        at.cornea_d_per_d * optics.per_cornea_d.corneal_power_d
        + moved * optics.per_cornea_d.lens_position_mm,
        moved * optics.per_chamber_mm.lens_position_mm,
    )
    sds = (measured.length_sd_mm, measured.corneal_power_sd_d, measured.chamber_depth_sd_mm)
    values = prediction.by_formula_d[index]
    spread = float(prediction.disagreement.spread_d[index])
    pull = (values - values.mean()) / ((len(values) - 1) * spread)
    wobble = np.sqrt(
        sum((float(pull @ slope) * sd) ** 2 for slope, sd in zip(slopes, sds, strict=True))
    )
    _, ordinary = typical_disagreement_d(measured.axial_length_mm)
    return bool(spread - NINE_IN_TEN * wobble <= ordinary)


def _average_eye(uses: tuple[FormulaUse, ...]) -> ThinEye:
    thins = [
        power.thin_eye(
            use.name,
            axial_length_mm=AVERAGE_LENGTH_MM,
            corneal_power_d=AVERAGE_CORNEA_D,
            anterior_chamber_depth_mm=AVERAGE_CHAMBER_MM,
            constants=use.values,
        )
        for use in uses
    ]
    return ThinEye(
        *(np.array([float(part) for part in parts]) for parts in zip(*thins, strict=True))
    )


def _parts(thin: ThinEye) -> dict[str, Array]:
    return {
        "position": thin.lens_position_mm,
        "length": thin.length_mm,
        "cornea": thin.corneal_power_d,
    }


def _apart(values: Array, odd: int) -> float:
    return float(values[odd] - np.delete(values, odd).mean())
