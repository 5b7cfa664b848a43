"""What a person must know beside the numbers of a place."""

from __future__ import annotations

from typing import Final

from zonule.assessment.caveat import Caveat
from zonule.assessment.parting import Parting, measurement_explains, parting
from zonule.assessment.prediction import Prediction

HALF_STEP_D: Final = 0.25
"""Half the usual step between powers; a need further out than this is not met by the store."""


def _assumed(prediction: Prediction) -> list[Caveat]:
    place, told = prediction.place, []
    if place.spread_status == "assumption":
        told.append(
            Caveat(
                "spread_assumed",
                f"spread assumed: no series gives it; ±{place.position_sd_mm:.2f} mm of position",
                place.source,
                "assumption",
            )
        )
    if place.move_status in ("assumption", "memory"):
        word = "assumed" if place.move_status == "assumption" else "unverified"
        told.append(
            Caveat("move_" + word, f"place of the lens {word}", place.source, place.move_status)
        )
    return told


def _formulas(prediction: Prediction, index: int) -> list[Caveat]:
    told = []
    if bool(prediction.disagreement.unusual[index]):
        who = _stands_apart(parting(prediction, index))
        told.append(
            Caveat(
                "formulas_disagree",
                "the formulas differ here more than in 19 of 20 eyes of this length, "
                f"{_measured_again(prediction, index)}; the band is wider for it{who}",
            )
        )
    if len(prediction.optics.uses) == 1 and prediction.place.formulas == "capsule":
        told.append(Caveat("one_formula", "one formula alone: nothing to compare it with"))
    starting = [
        u.label
        for u in prediction.optics.uses
        if u.constants and u.constants.origin == "starting_value"
    ]
    if starting:
        told.append(
            Caveat(
                "starting_value",
                f"{', '.join(starting)}: a starting value, not a constant of this lens; "
                "not to be signed",
                "own_derivation",
                "assumption",
                stops="signature",
            )
        )
    return told


def _measured_again(prediction: Prediction, index: int) -> str:
    """Return whether errors of measurement could be behind the disagreement."""
    if measurement_explains(prediction, index):
        return "which an error of measurement could explain: measure again"
    return "more than measurement explains"


def _stands_apart(found: Parting | None) -> str:
    """Return which formula stands apart and what in it does so."""
    if found is None:
        return ""
    size, more = abs(found.amount), found.amount > 0
    way = {
        "position": f"it puts the lens {size:.2f} mm {'deeper' if more else 'further forward'}",
        "length": f"it takes the eye {size:.2f} mm {'longer' if more else 'shorter'}",
        "cornea": f"it takes the cornea {size:.2f} D {'steeper' if more else 'flatter'}",
    }[found.by]
    total, part = (
        f"{value:+.2f}".replace("-", "−") for value in (found.difference_d, found.refraction_d)
    )
    return (
        f". {found.label} stands apart by {total} D, chiefly ({part} D) because {way} than the "
        "others do, set against an average eye"
    )


def _store_ends(prediction: Prediction, aim_d: float) -> list[Caveat]:
    """Say when the store holds no power near the one this place needs."""
    needed = prediction.optics.power_for(aim_d)
    low, high = float(prediction.powers_d.min()), float(prediction.powers_d.max())
    if low - HALF_STEP_D <= needed <= high + HALF_STEP_D:
        return []
    end = low if needed < low else high
    text = f"the store ends at {end:+.2f} D and this place needs about {needed:+.2f} D: order"
    return [Caveat("store_ends", text.replace("-", "−"), "own_derivation", "derived")]


def caveats_of(
    prediction: Prediction,
    index: int,
    *,
    aim_d: float,
    findings_say: tuple[str, ...],
    ring_says: str,
    refused_lenses: tuple[tuple[str, str], ...],
) -> tuple[Caveat, ...]:
    """Return the caveats of a place for the power at an index.

    ``aim_d`` is the aim less what was carried over, so that the power needed can be told.
    """
    told = _assumed(prediction) + _formulas(prediction, index) + _store_ends(prediction, aim_d)
    if ring_says:
        told.append(Caveat("ring", ring_says, "xu2024ring", "confirmed"))
    told += [Caveat("finding_says", says, "common_practice", "practice") for says in findings_say]
    told += [
        Caveat("lens_refused", says, "chang2009singlepiece", "confirmed")
        for _, says in refused_lenses
    ]
    return tuple(told)
