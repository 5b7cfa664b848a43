"""A power of a place, ready to be explained, and what its explanations have in common."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from zonule.assessment.applicable import FormulaUse
from zonule.assessment.measured import Measured
from zonule.assessment.prediction import Prediction
from zonule.formulas.power import FORMULAS
from zonule.plan.records import Expected, Plan, Rung
from zonule.report.why.explanation import Input
from zonule.report.words import dioptres, signed

CONSTANTS: Final = {
    "a_constant": "A",
    "surgeon_factor": "surgeon factor",
    "pacd_mm": "pACD",
    "a0": "a0",
    "a1": "a1",
    "a2": "a2",
}
"""How the trade writes each constant."""


@dataclass(frozen=True, slots=True)
class At:
    """A rung with a power, ready to be explained."""

    plan: Plan
    rung: Rung
    prediction: Prediction
    chosen: Expected
    """What the power in question would leave: the chosen one, or one beside it."""
    measured: Measured
    root: str
    """What every path of this power begins with."""

    @property
    def index(self) -> int:
        """Index of the power among those predicted."""
        return self.prediction.index_of(self.chosen.power_d)

    @property
    def name(self) -> str:
        """What a person calls the place."""
        return self.rung.place.label

    @property
    def title_end(self) -> str:
        """Place and power, as titles close."""
        return f"{self.name}, {dioptres(self.chosen.power_d)}"

    def caveats(self) -> tuple[str, ...]:
        """Caveats of the place, and its note."""
        return (*(caveat.says for caveat in self.rung.caveats), self.rung.place.note)


def measurements(at: At) -> tuple[Input, ...]:
    """Return the measurements of the eye."""
    found = at.measured
    depth = found.anterior_chamber_depth_mm
    told = [
        Input("Axial length", f"{found.axial_length_mm:.2f} mm ± {found.length_sd_mm:.2f}"),
        Input("Corneal power", f"{found.corneal_power_d:.2f} D ± {found.corneal_power_sd_d:.2f}"),
    ]
    if depth is not None:
        told.append(Input("Chamber depth", f"{depth:.2f} mm ± {found.chamber_depth_sd_mm:.2f}"))
    return tuple(told)


def place_inputs(at: At) -> tuple[Input, ...]:
    """Return where the lens plane lies, and how far it scatters."""
    place, optics = at.rung.place, at.prediction.optics
    spread = Input(
        "Spread of the lens plane",
        f"±{place.position_sd_mm:.3g} mm, its mean ±{place.position_mean_sd_mm:.2f} mm",
        place.source,
        place.spread_status,
    )
    if place.a_constant is not None:
        return (Input("Place", own_constant(at), place.source, place.move_status), spread)
    move = (
        f"{signed(place.move_mm)} mm from the bag "
        f"({signed(optics.move_low_mm)} to {signed(optics.move_high_mm)})"
    )
    return (Input("Lens plane", move, place.source, place.move_status), spread)


def own_constant(at: At) -> str:
    """Return the constant of a place that has one of its own, with its published range."""
    place = at.rung.place
    used = at.prediction.optics.uses[0].values["a_constant"]
    return (
        f"by a constant of its own, A {used:.1f} "
        f"(published {place.a_constant_low:.1f} to {place.a_constant_high:.1f})"
    )


def constants_said(use: FormulaUse) -> str:
    """Return the constants of a formula as a person reads them."""
    said = ", ".join(f"{CONSTANTS[name]} {value:g}" for name, value in use.values.items())
    return f"{said} ({use.says})"


def formula_inputs(at: At) -> tuple[Input, ...]:
    """Return every formula: with its constants, or why it is silent."""
    spoken = tuple(
        one
        for use in at.prediction.optics.uses
        for one in (
            Input(
                use.label, "as published", FORMULAS[use.name].reference, FORMULAS[use.name].status
            ),
            Input(f"{use.label}, constant", constants_said(use)),
        )
    )
    silent = tuple(
        Input(f"{use.label}, silent", use.says) for use in at.prediction.uses if not use.applies
    )
    return spoken + silent


def sources_at(at: At) -> tuple[str, ...]:
    """Return the sources of the formulas, their constants and the place."""
    uses = at.prediction.optics.uses
    constants = tuple(u.constants.source for u in uses if u.constants and u.constants.source)
    formulas = tuple(FORMULAS[use.name].reference for use in uses)
    return tuple(dict.fromkeys((*formulas, *constants, at.rung.place.source)))


def by_formula(at: At) -> tuple[Input, ...]:
    """Return the refraction by each formula."""
    values = at.prediction.by_formula_d[at.index]
    return tuple(
        Input(f"By {use.label}", dioptres(float(values[column])))
        for column, use in enumerate(at.prediction.optics.uses)
    )
