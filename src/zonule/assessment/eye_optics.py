"""The eye as each formula sees it, with the lens plane where this place puts it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.applicable import FormulaUse
from zonule.assessment.measured import Measured
from zonule.formulas import power
from zonule.formulas.optics import thin_lens
from zonule.formulas.optics.thin_lens import ThinEye
from zonule.library.placements import Place

Array = NDArray[np.float64]

_STEP: Final = 1e-4
"""Step of the central differences through a formula, in mm and D."""
A_CONSTANT_MM: Final = 0.62467
"""Millimetres of lens position per unit of A constant (Retzlaff 1990)."""


@dataclass(frozen=True, slots=True)
class EyeOptics:
    """Every formula that speaks, as a thin eye; formulas on the last axis of each array."""

    uses: tuple[FormulaUse, ...]
    thin: ThinEye
    per_length_mm: ThinEye
    per_cornea_d: ThinEye
    per_chamber_mm: ThinEye
    move_mm: float
    move_low_mm: float
    move_high_mm: float

    @property
    def position_mm(self) -> Array:
        """Predicted lens position in this place, by formula."""
        return self.thin.lens_position_mm + self.move_mm

    def refraction_d(self, power_d: Array, *, move_mm: Array | float | None = None) -> Array:
        """Return the refraction by formula; formulas last, powers and moves before.

        ``move_mm`` replaces the move of this place, for bounds and quadrature.
        """
        move = np.asarray(self.move_mm if move_mm is None else move_mm, dtype=np.float64)
        return thin_lens.refraction(
            corneal_power_d=self.thin.corneal_power_d,
            length_mm=self.thin.length_mm,
            lens_position_mm=self.thin.lens_position_mm + move[..., None],
            lens_power_d=np.asarray(power_d, dtype=np.float64)[..., None],
        )

    def slopes(self, power_d: Array) -> MeanSlopes:
        """Return the slopes of the mean refraction for each power."""
        at = thin_lens.slopes(
            corneal_power_d=self.thin.corneal_power_d,
            length_mm=self.thin.length_mm,
            lens_position_mm=self.position_mm,
            lens_power_d=np.asarray(power_d, dtype=np.float64)[..., None],
        )
        length = at.length_d_per_mm * self.per_length_mm.length_mm
        cornea = at.cornea_d_per_d * self.per_cornea_d.corneal_power_d
        position = at.position_d_per_mm
        return MeanSlopes(
            fixed_length_d_per_mm=length.mean(axis=-1),
            fixed_cornea_d_per_d=cornea.mean(axis=-1),
            position_d_per_mm=position.mean(axis=-1),
            power_d_per_d=at.power_d_per_d.mean(axis=-1),
            length_d_per_mm=(length + position * self.per_length_mm.lens_position_mm).mean(axis=-1),
            cornea_d_per_d=(cornea + position * self.per_cornea_d.lens_position_mm).mean(axis=-1),
            chamber_d_per_mm=(position * self.per_chamber_mm.lens_position_mm).mean(axis=-1),
        )

    def power_for(self, target_d: float, *, move_mm: float | None = None) -> float:
        """Return the power, not rounded to any step, whose mean refraction is the target [D].

        Two Newton steps from the mean of the formulas' own answers; the mean refraction is all
        but straight in the power.
        """
        move = self.move_mm if move_mm is None else move_mm
        found = thin_lens.lens_power(
            corneal_power_d=self.thin.corneal_power_d,
            length_mm=self.thin.length_mm,
            lens_position_mm=self.thin.lens_position_mm + move,
            target_refraction_d=target_d,
        ).mean()
        for _ in range(3):
            at = np.array([found - 0.01, found, found + 0.01])
            low, middle, high = self.refraction_d(at, move_mm=move).mean(axis=-1)
            found += (target_d - middle) / ((high - low) / 0.02)
        return float(found)


@dataclass(frozen=True, slots=True)
class MeanSlopes:
    """Slopes of the mean refraction: with the predicted position held, and moving along."""

    fixed_length_d_per_mm: Array
    fixed_cornea_d_per_d: Array
    position_d_per_mm: Array
    power_d_per_d: Array
    length_d_per_mm: Array
    cornea_d_per_d: Array
    chamber_d_per_mm: Array


def _thin(use: FormulaUse, measured: Measured) -> ThinEye:
    """Return the thin eye at the measurements and one step to either side of each of them."""
    steps = np.array([0.0, 1.0, -1.0]) * _STEP
    still = np.zeros(3)
    chamber = measured.anterior_chamber_depth_mm
    return power.thin_eye(
        use.name,
        axial_length_mm=measured.axial_length_mm
        + use.length_shift_mm
        + np.stack([steps, still, still]),
        corneal_power_d=measured.corneal_power_d + np.stack([still, steps, still]),
        anterior_chamber_depth_mm=(np.nan if chamber is None else chamber)
        + np.stack([still, still, steps]),
        constants=use.values,
    )


def _difference(thins: list[ThinEye], row: int) -> ThinEye:
    return ThinEye(
        *(
            np.array([(part[row, 1] - part[row, 2]) / (2.0 * _STEP) for part in parts])
            for parts in _filled(thins)
        )
    )


def _filled(thins: list[ThinEye]) -> list[list[Array]]:
    """Return the three parts of the thin eyes, each broadcast to the full set of steps."""
    return [[np.broadcast_to(part, (3, 3)) for part in parts] for parts in zip(*thins, strict=True)]


def eye_optics(place: Place, uses: tuple[FormulaUse, ...], measured: Measured) -> EyeOptics | None:
    """Return the optics of a place for the formulas that have a say; None when none has."""
    spoken = tuple(use for use in uses if use.applies)
    if not spoken:
        return None
    thins = [_thin(use, measured) for use in spoken]
    base = ThinEye(*(np.array([part[0, 0] for part in parts]) for parts in _filled(thins)))
    low, high = place.move_low_mm, place.move_high_mm
    if place.a_constant is not None:
        # A lens's own constant may lie outside the published range; its place is then an end.
        used = spoken[0].values["a_constant"]
        low = min((place.a_constant_low - used) * A_CONSTANT_MM, 0.0)
        high = max((place.a_constant_high - used) * A_CONSTANT_MM, 0.0)
    return EyeOptics(
        uses=spoken,
        thin=base,
        per_length_mm=_difference(thins, 0),
        per_cornea_d=_difference(thins, 1),
        per_chamber_mm=_difference(thins, 2),
        move_mm=place.move_mm,
        move_low_mm=low,
        move_high_mm=high,
    )
