"""From one eye, one lens and one place to the refraction expected with every power in stock."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.applicable import FormulaUse
from zonule.assessment.carry import Carried, carry_to
from zonule.assessment.eye_optics import EyeOptics, MeanSlopes
from zonule.assessment.label import label_sd_d
from zonule.assessment.measured import Measured
from zonule.findings.records import Aim
from zonule.formulas.uncertainty import choice, disagreement, law
from zonule.formulas.uncertainty.budget import Budget, core_budget
from zonule.formulas.uncertainty.disagreement import Disagreement
from zonule.formulas.uncertainty.law import Law
from zonule.library.placements import Place
from zonule.library.reading import table
from zonule.practice.lesson import Lesson
from zonule.practice.records import Lens

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Prediction:
    """What each power of one lens in one place would leave; powers on the first axis."""

    place: Place
    lens: Lens
    uses: tuple[FormulaUse, ...]
    optics: EyeOptics
    slopes: MeanSlopes
    powers_d: Array
    law: Law
    by_formula_d: Array
    """Powers by formulas that have a say."""
    low_move_d: Array
    """Mean refraction with the lens at the forward bound of this place."""
    high_move_d: Array
    """Mean refraction with the lens at the rearward bound of this place."""
    budget: Budget
    disagreement: Disagreement
    tail_weight: float
    carried: Carried | None
    measured: Measured

    def index_of(self, power_d: float) -> int:
        """Return the index of a power."""
        return int(np.argmin(np.abs(self.powers_d - power_d)))


def typical_disagreement_d(axial_length_mm: float) -> tuple[float, float]:
    """Return the typical spread across formulas at a length, and its 95th centile [D].

    Examples
    --------
    >>> typical_disagreement_d(23.5)
    (0.13, 0.32)
    """
    rows = table("prediction")["disagreement"]
    at = min(int(np.searchsorted(rows["upper_mm"], axial_length_mm)), len(rows["upper_mm"]) - 1)
    return float(rows["typical_d"][at]), float(rows["centile_95_d"][at])


def _budget(
    place: Place, slopes: MeanSlopes, measured: Measured, powers_d: Array, excess: Array
) -> Budget:
    return core_budget(
        length_d_per_mm=slopes.length_d_per_mm,
        cornea_d_per_d=slopes.cornea_d_per_d,
        chamber_d_per_mm=slopes.chamber_d_per_mm,
        position_d_per_mm=slopes.position_d_per_mm,
        power_d_per_d=slopes.power_d_per_d,
        length_sd_mm=measured.length_sd_mm,
        cornea_sd_d=measured.corneal_power_sd_d,
        chamber_sd_mm=measured.chamber_depth_sd_mm,
        length_chamber_correlation=measured.length_chamber_correlation,
        position_sd_mm=place.position_sd_mm,
        position_mean_sd_mm=place.position_mean_sd_mm,
        label_sd_d=label_sd_d(powers_d),
        refraction_sd_d=float(table("prediction")["refraction"]["sd_d"]["value"]),
        disagreement_d2=excess,
    )


def _law(
    place: Place, optics: EyeOptics, budget: Budget, powers_d: Array, carried: Carried | None
) -> Law:
    """Return the law: closed form in the bag, the position through the optics elsewhere."""
    tail = table("prediction")["tail"]
    told = {"tail_weight": tail[place.tail]["weight"], "tail_sd_d": tail["sd_d"]}
    learnt_d = carried.mean_d if carried else np.zeros_like(powers_d)
    less_d2 = carried.variance_gone_d2 if carried else np.zeros_like(powers_d)
    if place.tail == "practice":
        return law.two_component(
            median_d=optics.refraction_d(powers_d).mean(axis=-1) + learnt_d,
            core_sd_d=np.sqrt(budget.total - less_d2),
            **told,
        )
    nodes = law.standard_nodes()
    spread_mm = float(np.hypot(place.position_sd_mm, place.position_mean_sd_mm))
    moves = optics.move_mm + spread_mm * nodes.standard_scores
    at_nodes = optics.refraction_d(powers_d[:, None], move_mm=moves).mean(axis=-1)
    still = budget.without_position
    return law.over_positions(
        node_means_d=at_nodes + learnt_d[:, None],
        node_weights=nodes.weights,
        core_sd_d=np.sqrt(np.maximum(still - less_d2, 0.25 * still)),
        **told,
    )


def predict(
    *,
    place: Place,
    lens: Lens,
    uses: tuple[FormulaUse, ...],
    optics: EyeOptics,
    measured: Measured,
    lesson: Lesson | None,
    powers_d: Array,
) -> Prediction:
    """Return what each power would leave.

    Parameters
    ----------
    place, lens
        Where the lens would lie, and which it is.
    uses
        Every formula, with what it has to say.
    optics
        The eye as the speaking formulas see it.
    measured
        The measurements with their spreads.
    lesson
        What the first eye taught; None when there is nothing to carry.
    powers_d
        Powers to look at [D], one axis.

    Returns
    -------
    Prediction
        The law for each power, and what it was made of.
    """
    by_formula = optics.refraction_d(powers_d)
    slopes = optics.slopes(powers_d)
    _, ordinary = typical_disagreement_d(measured.axial_length_mm)
    together = disagreement.compare(refraction_d=by_formula, ordinary_up_to_d=ordinary)
    budget = _budget(place, slopes, measured, powers_d, together.excess_variance_d2)
    carried = carry_to(place, slopes, measured, powers_d, lesson) if lesson else None
    return Prediction(
        place=place,
        lens=lens,
        uses=uses,
        optics=optics,
        slopes=slopes,
        powers_d=powers_d,
        law=_law(place, optics, budget, powers_d, carried),
        by_formula_d=by_formula,
        low_move_d=optics.refraction_d(powers_d, move_mm=optics.move_low_mm).mean(axis=-1),
        high_move_d=optics.refraction_d(powers_d, move_mm=optics.move_high_mm).mean(axis=-1),
        budget=budget,
        disagreement=together,
        tail_weight=float(table("prediction")["tail"][place.tail]["weight"]),
        carried=carried,
        measured=measured,
    )


def choose_power(prediction: Prediction, aim: Aim, *, in_room: NDArray[np.bool_]) -> float:
    """Return the power that the aim rule takes from those predicted [D]."""
    index = choice.choose(
        prediction.law,
        lens_power_d=prediction.powers_d,
        aim_d=aim.spherical_equivalent_d,
        rule=aim.rule,
        hyperopia_weight=aim.hyperopia_weight,
        preferred=in_room,
    )
    return float(prediction.powers_d[int(index)])
