"""What the first eye taught, as a person is told it and as the second eye receives it."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.errors import Side
from zonule.library.placements import Place
from zonule.practice.lesson import Lesson


@dataclass(frozen=True, slots=True)
class FirstEye:
    """The first eye, read against the place its lens really has.

    ``withheld`` says why nothing can be carried; it is empty when ``lesson`` holds.
    ``error_d`` is achieved minus predicted for that place; negative is myopic.
    """

    side: Side
    withheld: str = ""
    place: Place | None = None
    known_by: str = ""
    lens_name: str = ""
    lens_power_d: float | None = None
    aim_d: float | None = None
    achieved_d: float | None = None
    predicted_d: float | None = None
    predicted_band_d: tuple[float, float] | None = None
    """Nine in ten such eyes."""
    in_the_bag_d: float | None = None
    """Where the same lens would have ended in the bag."""
    error_d: float | None = None
    lesson: Lesson | None = None
    shared_cause: bool = False
    """A large surprise whose cause, by the surgeon's word, both eyes share."""
    warns: str = ""
    """What that eye itself needs someone to look after."""
    formulas: tuple[str, ...] = ()
    less_alike: tuple[str, ...] = ()
    """In what the two eyes differ more than those of the published pairs did."""
