"""What a plan says of ultrasound energy, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from zonule.library.reading import Status
from zonule.plan.cornea_parts import Band
from zonule.practice.energy import EnergyTerm, SetAside


@dataclass(frozen=True, slots=True)
class Measure:
    """Which number stands for energy, and on what it was made."""

    definition: str
    label: str
    unit: str
    terms: tuple[EnergyTerm, ...]
    machine: str
    mode: str
    tip: str
    technique: str
    source: str
    status: Status
    note: str = ""


@dataclass(frozen=True, slots=True)
class OwnCase:
    """One own case, as a picture shows it."""

    done_on: date
    nuclear_colour: float
    energy: float


@dataclass(frozen=True, slots=True)
class LinePoint:
    """What the next eye of a density is expected to need."""

    nuclear_colour: float
    energy: Band


@dataclass(frozen=True, slots=True)
class OwnLog:
    """The own log as the plan uses it."""

    file: str
    cases: tuple[OwnCase, ...]
    set_aside: tuple[SetAside, ...]
    lowest_colour: float | None
    highest_colour: float | None
    line: tuple[LinePoint, ...]
    """Empty while the log is too small for a line."""
    more_cases_needed: int
    """Own cases that are lacking for a line; 0 where there are enough."""
    firm: bool
    """Whether there are enough cases for the scatter to be known well."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed mean: context only, another machine, mode, tip and scale."""

    lens: str
    technique: str
    mean: float
    sd: float | None
    span: tuple[float, float] | None
    eyes: int | None
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class Energy:
    """Energy that this density is expected to need, and the limit agreed beforehand."""

    measure: Measure | None
    log: OwnLog | None
    nuclear_colour: float | None
    expected: Band | None
    limit: float | None
    limit_share: float
    """Share of own eyes of this density that stay under the limit."""
    waits_for: tuple[str, ...]
    """Findings without which nothing is said of this eye."""
    why_none: str
    """Why there is no limit; empty where there is one."""
    printed: tuple[Printed, ...]
    """Printed means of the same measure."""
