"""Ultrasound energy in these hands: how it is measured, and the surgeon's own log of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class EnergyTerm:
    """One mode of an own energy measure: seconds × mean power × factor."""

    mode: str
    factor: float


@dataclass(frozen=True, slots=True)
class EnergyCase:
    """One case of the own log."""

    done_on: date
    nuclear_colour: float
    """LOCS III."""
    energy: float


@dataclass(frozen=True, slots=True)
class SetAside:
    """One row of the own log that is not used, and why."""

    line: int
    because: str


@dataclass(frozen=True, slots=True)
class EnergyLog:
    """The own log: the cases of this machine, mode and tip, and every row that is not used."""

    file: str
    cases: tuple[EnergyCase, ...] = field(default=(), repr=False)
    """Not in the record's text: a log may hold hundreds."""
    set_aside: tuple[SetAside, ...] = ()
    was_read: bool = True
    """False where the practice came without the folder in which its log lies."""


@dataclass(frozen=True, slots=True)
class EnergyMeasure:
    """Which number stands for energy, on which machine, in which mode, with which tip."""

    definition: str
    """An id of ``library/energy.toml``, or own."""
    machine: str
    mode: str
    tip: str
    technique: str = ""
    """Way of dividing the nucleus that the log is kept to; empty: any."""
    label: str = ""
    unit: str = ""
    terms: tuple[EnergyTerm, ...] = ()
    """Name, unit and terms of an own definition."""
    log: EnergyLog | None = None
