"""What lies where on the clock face of an eye, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from zonule.errors import Side
from zonule.library.reading import Status

Seat = Literal["superior", "temporal"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing on the clock face: a cut, a hook, or what is there already."""

    key: str
    """``iris_hook_1``: its kind, numbered where there are several."""
    kind: str
    label: str
    hour: float
    """Of its middle, as an examiner facing the patient sees the eye; 12 above, never 0."""
    half_width_degrees: float
    fixed: bool
    """It is there already, or can go nowhere else."""
    says: str
    """Why there."""
    source: str
    status: Status
    rules: tuple[str, ...] = ()
    """Rules of this eye that speak of it."""
    moved_degrees: float = 0.0
    """How far the proposal has taken it from its usual place."""
    moved: str = ""
    """Of the main wound: why it was moved, in a few words; empty where it lies as usual."""
    width_assumed: bool = False
    """Nobody recorded how wide it is."""

    @property
    def degrees(self) -> float:
        """Degrees of its middle, counter-clockwise from 3 o'clock.

        Examples
        --------
        >>> Mark("a", "bleb", "Bleb", 12.0, 0.0, True, "", "own_assumption", "assumption").degrees
        90.0
        """
        return (90.0 - 30.0 * self.hour) % 360.0


@dataclass(frozen=True, slots=True)
class Clash:
    """Two things that come nearer to each other than they should."""

    first: str
    second: str
    """Keys of the marks; the first may be a kind for which no hour was found."""
    labels: tuple[str, str]
    apart_degrees: float | None
    """From edge to edge, 0 where one lies over the other; None: no hour was found."""
    wanted_degrees: float
    hard: bool
    """Otherwise a warning."""
    do: str
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class SteepAxis:
    """The steep axis of the cornea, and how the main wound lies to it."""

    axis: float
    cylinder_d: float | None
    worked_out: bool
    """From the flat axis: the steep one is not recorded."""
    off_degrees: float | None
    """How far the main wound lies off it, 0 to 90; None without a main wound."""


@dataclass(frozen=True, slots=True)
class ClockMap:
    """Everything at the limbus of the eye to be done: what is there, and what is proposed."""

    side: Side
    seat: Seat
    marks: tuple[Mark, ...]
    clashes: tuple[Clash, ...] = ()
    """Those that must not stay first."""
    waits_for: tuple[str, ...] = ()
    """Findings not known that could put something more on this clock face."""
    notes: tuple[str, ...] = ()
    """What the proposal had to do, in words."""
    steep_axis: SteepAxis | None = None
    asks: str = ""
    """Why no hour is proposed and the surgeon is asked; empty where there is a proposal."""

    def of_kind(self, kind: str) -> tuple[Mark, ...]:
        """Return the marks of one kind."""
        return tuple(one for one in self.marks if one.kind == kind)

    def mark(self, key: str) -> Mark | None:
        """Return the mark of that key, if it is there."""
        return next((one for one in self.marks if one.key == key), None)

    @property
    def hard(self) -> tuple[Clash, ...]:
        """The clashes that must not stay."""
        return tuple(one for one in self.clashes if one.hard)
