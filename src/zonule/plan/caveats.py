"""What a person must know beside the numbers of a place."""

from __future__ import annotations

from typing import Final

from zonule.assessment.caveat import Caveat
from zonule.assessment.parting import Parting, measurement_explains, parting
from zonule.assessment.prediction import Prediction
from zonule.library.reading import table

NOT_NEAR_D: Final = 0.55
"""A need further than this from every stocked power is said; half the widest step is 0.5 D."""
TOO_FAR_D: Final = 1.0
"""A need further than this from every stocked power is not met: no power is shown."""


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


def _long_eye(prediction: Prediction) -> list[Caveat]:
    row = table("power_formulas")["long_eye"]
    if prediction.measured.axial_length_mm <= row["above_mm"]:
        return []
    return [Caveat("long_eye", row["says"], row["source"], row["status"])]


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


def _nearest_d(prediction: Prediction, needed_d: float) -> float:
    powers = prediction.powers_d
    return float(powers[abs(powers - needed_d).argmin()])


def store_too_far(prediction: Prediction, aim_d: float) -> str:
    """Return that the store holds nothing near the power a place needs; empty when it does."""
    needed = prediction.optics.power_for(aim_d)
    nearest = _nearest_d(prediction, needed)
    if abs(nearest - needed) <= TOO_FAR_D:
        return ""
    text = f"the store holds nothing near {needed:+.2f} D (nearest {nearest:+.2f} D): order"
    return text.replace("-", "−")


def _not_near(prediction: Prediction, aim_d: float) -> list[Caveat]:
    """Say when the nearest power of the store is further off than half the widest usual step."""
    needed = prediction.optics.power_for(aim_d)
    nearest = _nearest_d(prediction, needed)
    if abs(nearest - needed) <= NOT_NEAR_D:
        return []
    text = (
        f"this place needs about {needed:+.2f} D and the nearest in the store is {nearest:+.2f} D"
    )
    return [
        Caveat("store_not_near", f"{text.replace('-', '−')}: order", "own_derivation", "derived")
    ]


def caveats_of(
    prediction: Prediction,
    index: int,
    *,
    aim_d: float,
    findings_say: tuple[str, ...],
    ring_says: str,
    wander_says: str,
    refused_lenses: tuple[tuple[str, str], ...],
) -> tuple[Caveat, ...]:
    """Return the caveats of a place for the power at an index.

    ``aim_d`` is the aim less what was carried over, so that the power needed can be told.
    """
    told = _assumed(prediction) + _formulas(prediction, index) + _not_near(prediction, aim_d)
    told += _long_eye(prediction)
    if wander_says:
        told.append(Caveat("may_wander", wander_says, "common_practice", "practice"))
    if ring_says:
        told.append(Caveat("ring", ring_says, "xu2024ring", "confirmed"))
    told += [Caveat("finding_says", says, "common_practice", "practice") for says in findings_say]
    told += [
        Caveat("lens_refused", says, "chang2009singlepiece", "confirmed")
        for _, says in refused_lenses
    ]
    return tuple(told)
