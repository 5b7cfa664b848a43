"""What physics says of the machine in this plan, as frozen records. Not validated."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Verdict = Literal["published", "one_height", "agree", "differ", "contradict"]
"""Where irrigation resistance comes from: a published span; a cup test at one height; heights that
agree with one resistance; heights that differ as tube and opening do; heights that contradict."""
TopVacuum = Literal["within", "may_exceed", "exceeds"]


@dataclass(frozen=True, slots=True)
class Spread:
    """One figure with its bands."""

    middle: float
    half: tuple[float, float]
    nine_in_ten: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Irrigation:
    """The way in: drop = a F + b F², with the spread of both parts."""

    verdict: Verdict
    linear_mmhg_per_ml_min: float
    square_mmhg_per_ml2_min2: float
    linear_sd: float
    square_sd: float
    covariance: float
    readings: int = 0

    @property
    def own(self) -> bool:
        """Whether it was measured on this set-up."""
        return self.verdict != "published"


@dataclass(frozen=True, slots=True)
class Aspiration:
    """The way out."""

    mmhg_per_ml_min: float
    log_sd: float
    readings: int = 0
    """None of them: a published span."""
    agree: bool = True
    """Whether the readings agree within their spreads."""

    @property
    def own(self) -> bool:
        """Whether it was measured on this set-up."""
        return self.readings > 0


@dataclass(frozen=True, slots=True)
class Setup:
    """The set-up that every stage shares."""

    label: str
    offset_cm: float | None
    """Height of the machine's zero above the eye; None: not recorded."""
    allowed_floor_mmhg: float
    own_floor: bool
    irrigation: Irrigation
    aspiration: Aspiration
    measured: tuple[date, date] | None
    """First and last day of the cup tests."""
    blocked_k_per_s_per_w: float
    """How fast a blocked tip warms, for each watt lost to it."""

    @property
    def assumed(self) -> bool:
        """Whether any resistance is a published span and not this set-up's own."""
        return not (self.irrigation.own and self.aspiration.own)


@dataclass(frozen=True, slots=True)
class VacuumLimit:
    """The highest vacuum whose worst floor is still allowed, at one infusion."""

    infusion_cm: float
    highest_mmhg: Spread
    """0: no vacuum keeps the floor; never above what is shown as a figure."""


@dataclass(frozen=True, slots=True)
class StagePhysics:
    """One stage: what to set, and what to expect in the chamber."""

    stage: str
    name: str
    set_cm: tuple[float, float] | None
    """What to set so that the eye gets the range; None: the machine's zero is not recorded."""
    set_mmhg: tuple[float, float] | None
    infusion_cm: tuple[float, float]
    infusion_mmhg: tuple[float, float]
    """At the eye, without flow."""
    flow_ml_min: tuple[float, float]
    vacuum_mmhg: tuple[float, float]
    chamber_mmhg: Spread
    """At the middle of infusion and flow; its bands: resistance, and how the eye lies."""
    chamber_by_flow_mmhg: tuple[float, float]
    """At the middle infusion: at the lowest and at the highest flow."""
    chamber_range_mmhg: tuple[float, float]
    """Over the whole range of infusion and flow, at the middle resistance."""
    limits: tuple[VacuumLimit, VacuumLimit]
    """At the lowest and the highest infusion of the range."""
    top_vacuum: TopVacuum
    """The top of the vacuum range against the limit at the lowest infusion."""
    top_vacuum_needs_cm: float
    """Infusion above the eye from which on the top of the vacuum range keeps the floor."""
    heat_k_per_w: tuple[float, float] | None
    """At the highest and the lowest flow; None: a stage without power."""


@dataclass(frozen=True, slots=True)
class MachinePhysics:
    """The machine in figures."""

    setup: Setup
    stages: tuple[StagePhysics, ...]

    def of(self, stage: str) -> StagePhysics | None:
        """Return what is said of a stage."""
        return next((one for one in self.stages if one.stage == stage), None)
