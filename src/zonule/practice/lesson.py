"""What the first eye taught, as a practice record that the second eye's assessment receives."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lesson:
    """The first eye's error against the prediction for the place its lens has, and its budget.

    Slopes are those of the first eye with the lens it has; spreads are what goes with that eye
    alone. With these the second eye can work out how much of the error it shares.
    """

    error_d: float
    place_key: str
    length_method: str
    instrument: str
    refraction_kind: str
    length_d_per_mm: float
    cornea_d_per_d: float
    position_d_per_mm: float
    power_d_per_d: float
    lens_power_d: float
    tail_weight: float
    cornea_reshaped: bool
