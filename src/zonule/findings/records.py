"""What is known of one patient and both eyes, as frozen records.

Findings proper (``pxf``, ``phacodonesis``, ``locs_no`` …) live in the mapping ``answers`` under
the names of ``library/fields/case.toml``; a name that is not in the mapping reads as not
recorded. Measurements and operations have records of their own because computation needs them
whole.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Final

from zonule.errors import Side
from zonule.findings.answers import Answer, Unknown

NOT_RECORDED: Final = Unknown.NOT_RECORDED
SIDES: Final[tuple[Side, Side]] = ("right", "left")


def _nothing() -> Mapping[str, Answer]:
    return MappingProxyType({})


def other_side(side: Side) -> Side:
    """Return the other side.

    Examples
    --------
    >>> other_side("left")
    'right'
    """
    return "left" if side == "right" else "right"


@dataclass(frozen=True, slots=True)
class Biometry:
    """One set of measurements of one eye, made in one sitting by one method."""

    method: str | Unknown = NOT_RECORDED
    measured_on: date | Unknown = NOT_RECORDED
    measured_as: str | Unknown = NOT_RECORDED
    entry: str | Unknown = NOT_RECORDED
    instrument: str | Unknown = NOT_RECORDED
    quality: str | Unknown = NOT_RECORDED
    record_number: str | Unknown = NOT_RECORDED
    axial_length_mm: float | Unknown = NOT_RECORDED
    axial_length_sd_mm: float | Unknown = NOT_RECORDED
    anterior_chamber_depth_mm: float | Unknown = NOT_RECORDED
    anterior_chamber_depth_from: str | Unknown = NOT_RECORDED
    lens_thickness_mm: float | Unknown = NOT_RECORDED
    corneal_thickness_um: float | Unknown = NOT_RECORDED
    white_to_white_mm: float | Unknown = NOT_RECORDED
    k_flat_d: float | Unknown = NOT_RECORDED
    k_flat_axis: float | Unknown = NOT_RECORDED
    k_steep_d: float | Unknown = NOT_RECORDED
    k_steep_axis: float | Unknown = NOT_RECORDED
    k_flat_radius_mm: float | Unknown = NOT_RECORDED
    k_steep_radius_mm: float | Unknown = NOT_RECORDED
    """Radii as typed, where the file gave radii; the K values above come from them."""
    contact_lens_off_days: float | Unknown = NOT_RECORDED
    """Days that contact lenses were not worn before the measurement."""
    keratometer_index: float | Unknown = NOT_RECORDED
    difference_explained: str | Unknown = NOT_RECORDED
    """Why this eye may differ from the other, in the examiner's words."""


@dataclass(frozen=True, slots=True)
class Operation:
    """What was done to an eye that has been operated, and how it turned out."""

    done_on: date | Unknown = NOT_RECORDED
    placement: str | Unknown = NOT_RECORDED
    variant: str | Unknown = NOT_RECORDED
    placement_known_by: str | Unknown = NOT_RECORDED
    posterior_capsule: str | Unknown = NOT_RECORDED
    lens_name: str | Unknown = NOT_RECORDED
    lens_power_d: float | Unknown = NOT_RECORDED
    aim_d: float | Unknown = NOT_RECORDED
    settled_refraction_d: float | Unknown = NOT_RECORDED
    settled_on: date | Unknown = NOT_RECORDED
    settled_refraction_kind: str | Unknown = NOT_RECORDED
    surprise_explained: str | Unknown = NOT_RECORDED
    answers: Mapping[str, Answer] = field(default_factory=_nothing)
    """Events and course: floppy iris, zonular event, macular oedema, haemorrhage …"""

    def answer(self, name: str) -> Answer:
        """Return the answer recorded under a name, or that nothing was recorded."""
        return self.answers.get(name, NOT_RECORDED)


@dataclass(frozen=True, slots=True)
class Overruling:
    """The surgeon set a rule aside for this eye, and why; the rule stays in sight."""

    rule: str
    by: str
    on: date
    reason: str


@dataclass(frozen=True, slots=True)
class Eye:
    """One eye: its lens status, its findings, its measurements, its operation if it had one."""

    side: Side
    lens_status: str | Unknown = NOT_RECORDED
    answers: Mapping[str, Answer] = field(default_factory=_nothing)
    biometry: tuple[Biometry, ...] = ()
    operation: Operation | None = None
    refused_placements: tuple[str, ...] = ()
    """Places the patient does not want a lens in."""
    overrulings: tuple[Overruling, ...] = ()
    """Rules the surgeon has set aside for this eye."""

    def answer(self, name: str) -> Answer:
        """Return the answer recorded under a name, or that nothing was recorded.

        Examples
        --------
        >>> Eye(side="left", answers={"pxf": False}).answer("pxf")
        False
        >>> Eye(side="left").answer("pxf")
        <Unknown.NOT_RECORDED: 'not_recorded'>
        """
        return self.answers.get(name, NOT_RECORDED)


@dataclass(frozen=True, slots=True)
class Patient:
    """The patient, as far as a plan needs to know."""

    record_number: str
    born: date | Unknown = NOT_RECORDED
    answers: Mapping[str, Answer] = field(default_factory=_nothing)

    def answer(self, name: str) -> Answer:
        """Return the answer recorded under a name, or that nothing was recorded."""
        return self.answers.get(name, NOT_RECORDED)


@dataclass(frozen=True, slots=True)
class Aim:
    """Which refraction is wanted, and what counts as a good choice of power."""

    spherical_equivalent_d: float
    rule: str = "best_chance"
    hyperopia_weight: float = 2.0
    """How many times worse a dioptre of hyperopia is than one of myopia; rule ``asymmetric``."""


@dataclass(frozen=True, slots=True)
class Case:
    """One patient, both eyes, and which eye is to be done."""

    eye_to_do: Side
    patient: Patient
    aim: Aim
    right: Eye
    left: Eye
    surgery_planned_on: date | Unknown = NOT_RECORDED

    def eye(self, side: Side) -> Eye:
        """Return the eye of that side."""
        return self.right if side == "right" else self.left

    @property
    def operative_eye(self) -> Eye:
        """The eye to be done."""
        return self.eye(self.eye_to_do)

    @property
    def fellow_eye(self) -> Eye:
        """The other eye."""
        return self.eye(other_side(self.eye_to_do))
