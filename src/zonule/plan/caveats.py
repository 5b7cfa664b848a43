"""What a person must know beside the numbers of a place."""

from __future__ import annotations

from zonule.assessment.caveat import Caveat
from zonule.assessment.prediction import Prediction


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
    odd = int(prediction.disagreement.odd_one_out[index])
    if bool(prediction.disagreement.unusual[index]):
        who = f"; {prediction.optics.uses[odd].label} stands apart" if odd >= 0 else ""
        told.append(
            Caveat(
                "formulas_disagree",
                "the formulas differ here more than in 19 of 20 eyes of this length; "
                f"the band is wider for it{who}",
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


def caveats_of(
    prediction: Prediction,
    index: int,
    findings_say: tuple[str, ...],
    refused_lenses: tuple[tuple[str, str], ...],
) -> tuple[Caveat, ...]:
    """Return the caveats of a place for the power at an index."""
    told = _assumed(prediction) + _formulas(prediction, index)
    told += [Caveat("not_known", says, "common_practice", "practice") for says in findings_say]
    told += [
        Caveat("lens_refused", says, "chang2009singlepiece", "confirmed")
        for _, says in refused_lenses
    ]
    return tuple(told)
