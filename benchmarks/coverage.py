"""How many eyes the 90 % band holds when the lens position scatters more or less than stated.

Part of ``make soak``.

For every place that holds a lens and for a short, an average and a long eye: the band is the one
the program shows for the power that meets the aim; the truth has the position spread times a
factor, taken through the optics, everything else as stated. No draws: the positions are weighed
at 201 nodes, so the figures have no noise of their own.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import Any

import numpy as np

from zonule.assessment.applicable import formulas_for
from zonule.assessment.eye_optics import eye_optics
from zonule.assessment.measured import measured
from zonule.assessment.prediction import Prediction, predict
from zonule.findings.answers import Answer
from zonule.findings.facts import facts_of
from zonule.findings.records import Aim, Biometry, Case, Eye, Patient
from zonule.formulas.uncertainty import law
from zonule.library.placements import Place, places
from zonule.library.reading import table
from zonule.practice.records import Constants, Lens

LEVEL = 0.9
FACTORS = {"stated": 1.0, "0.7": 0.7, "1.4": 1.4}
EYES: dict[str, dict[str, float]] = {
    "short": {"axial_length_mm": 21.5, "corneal_power_d": 44.5, "chamber_depth_mm": 2.8},
    "average": {"axial_length_mm": 23.5, "corneal_power_d": 43.5, "chamber_depth_mm": 3.1},
    "long": {"axial_length_mm": 27.0, "corneal_power_d": 43.0, "chamber_depth_mm": 3.5},
}
AIM_D = -0.25
CONSTANTS: dict[str, dict[str, float]] = {
    "srkt": {"a_constant": 119.2709},
    "holladay1": {"surgeon_factor": 1.9688},
    "hofferq": {"pacd_mm": 5.7359},
    "haigis": {"a0": -0.5914, "a1": 0.3570, "a2": 0.1970},
}


def lens_for(place: Place) -> Lens:
    """Return the lens of 888 eyes, or one without constants where the place brings its own."""
    own = {
        name: Constants(formula=name, values=row, length_method="optical", origin="published")
        for name, row in CONSTANTS.items()
        if place.a_constant is None
    }
    return Lens(
        name="example",
        lens_class=place.lens_classes[0],
        optic_mm=6.0,
        overall_mm=13.0,
        constants=MappingProxyType(own),
        stock=(),
    )


def case_of(numbers: dict[str, float]) -> Case:
    biometry = Biometry(
        method="optical_swept_source",
        measured_as="phakic",
        axial_length_mm=numbers["axial_length_mm"],
        anterior_chamber_depth_mm=numbers["chamber_depth_mm"],
        k_flat_d=numbers["corneal_power_d"],
        k_steep_d=numbers["corneal_power_d"],
    )
    findings: dict[str, Answer] = {
        "phacodonesis": "none",
        "dialysis_clock_hours": 0.0,
        "lens_look": "nuclear",
    }
    answers = MappingProxyType(findings)
    eye = Eye(side="left", lens_status="phakic", answers=answers, biometry=(biometry,))
    return Case("left", Patient("example"), Aim(AIM_D), right=Eye(side="right"), left=eye)


def predicted(case: Case, place: Place) -> Prediction:
    """Return the prediction for the power that meets the aim."""
    lens, found = lens_for(place), measured(case.left)
    assert found is not None
    uses = formulas_for(place, lens, found, facts_of(case, "left"))
    optics = eye_optics(place, uses, found)
    assert optics is not None
    return predict(
        place=place,
        lens=lens,
        uses=uses,
        optics=optics,
        measured=found,
        lesson=None,
        powers_d=np.array([optics.power_for(AIM_D)]),
    )


def true_law(prediction: Prediction, *, factor: float) -> law.Law:
    """Return the law of eyes whose position scatters ``factor`` times as much as stated."""
    place, nodes = prediction.place, law.standard_nodes(count=201, reach=6.0)
    spread_mm = np.hypot(factor * place.position_sd_mm, place.position_mean_sd_mm)
    return law.over_positions(
        node_means_d=prediction.optics.refraction_d(
            prediction.powers_d[0], move_mm=place.move_mm + spread_mm * nodes.standard_scores
        ).mean(axis=-1),
        node_weights=nodes.weights,
        core_sd_d=prediction.budget.sd_without_position_d[0],
        tail_weight=prediction.tail_weight,
        tail_sd_d=table("prediction")["tail"]["sd_d"],
    )


def coverage_percent(prediction: Prediction, *, factor: float) -> float:
    low, high = law.band(prediction.law, level=LEVEL)
    truth = true_law(prediction, factor=factor)
    return float(100.0 * (law.cdf(truth, value_d=high[0]) - law.cdf(truth, value_d=low[0])))


def rows() -> Iterator[dict[str, Any]]:
    for name, numbers in EYES.items():
        case = case_of(numbers)
        for place in places().values():
            if place.holds_lens:
                found = predicted(case, place)
                held = {key: coverage_percent(found, factor=by) for key, by in FACTORS.items()}
                held = {key: round(value, 1) for key, value in held.items()}
                low, high = law.band(found.law, level=LEVEL)
                shown = {
                    "power_d": round(float(found.powers_d[0]), 3),
                    "width_d": round(float(high[0] - low[0]), 3),
                }
                yield {"eye": name, "place": place.key} | shown | held


def coverage() -> dict[str, Any]:
    """Return the whole measurement as plain data."""
    return {
        "what": "percent of eyes inside the 90 % band, true position spread over stated",
        "level": LEVEL,
        "aim_d": AIM_D,
        "eyes": EYES,
        "rows": list(rows()),
    }
