"""The parts of a plan beside the lens powers, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from zonule.findings.records import Overruling
from zonule.library.reading import Status
from zonule.library.rules import Conflict, Rule
from zonule.plan.clock_map import ClockMap
from zonule.plan.cornea_parts import Cornea
from zonule.plan.energy_parts import Energy
from zonule.plan.machine_parts import MachinePhysics
from zonule.practice.department import RuleDecision

RuleState = Literal["fires", "silent", "waits", "in_theatre", "switched_off", "overruled"]


@dataclass(frozen=True, slots=True)
class RuleReading:
    """What one rule says of this eye."""

    rule: Rule
    """As it applies here: in the department's wording where that was changed."""
    state: RuleState
    waits_for: tuple[str, ...] = ()
    """Findings that would settle it; for ``in_theatre`` those that only theatre can show."""
    because: tuple[str, ...] = ()
    """The findings that make it fire, as a person reads them."""
    decision: RuleDecision | None = None
    overruling: Overruling | None = None
    would_be: RuleState | None = None
    """What it would say if it had not been switched off or overruled."""

    @property
    def in_sight(self) -> bool:
        """Whether a plan speaks of it: it does not stay silent, or somebody set it aside."""
        return self.state != "silent" or self.overruling is not None

    @property
    def set_aside(self) -> bool:
        """Whether somebody set it aside, whatever it would have said."""
        return self.state in ("overruled", "switched_off") or self.overruling is not None


@dataclass(frozen=True, slots=True)
class ConflictReading:
    """Two rules of this plan that pull apart."""

    conflict: Conflict
    first: Rule
    second: Rule


@dataclass(frozen=True, slots=True)
class TrayItem:
    """One thing that should be there, and where it is."""

    key: str
    label: str
    kind: str
    """lens, device, instrument, suture, viscoelastic, dye or drug."""
    count: int
    kept: str
    """in_room, to_fetch, to_order or not_recorded."""
    shelf: str
    strength: str
    """As the department's recipe card has it; empty where there is no card, or none is needed."""
    card: str
    needs_card: bool
    """A drug or dye whose strength is on no recipe card."""
    rules: tuple[str, ...]
    """Rules that want it here."""
    waits_for: tuple[str, ...] = ()
    """Only wanted if these findings turn out so."""
    short: bool = False
    """The practice file has fewer than this eye needs."""
    power_d: float | None = None
    lens: str = ""
    for_places: tuple[str, ...] = ()
    """Labels of the places a lens would go to."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the operation, in order, with the rules that shape it in this eye."""

    key: str
    order: int
    name: str
    says: str
    """What is done when no rule says more; empty for a step that only rules bring in."""
    rules: tuple[RuleReading, ...]
    clock_hours: tuple[tuple[str, float], ...] = ()
    """What goes in at which hour, proposed: label and hour."""
    asks: bool = False
    """What it says is a question to the surgeon, and is shown beside any rule."""


@dataclass(frozen=True, slots=True)
class StageSetting:
    """The machine at one stage, as a range and as one sentence."""

    profile: str
    stage: str
    name: str
    infusion_cm: tuple[float, float]
    infusion_mmhg: tuple[float, float]
    flow_ml_min: tuple[float, float]
    vacuum_mmhg: tuple[float, float]
    power: str
    sentence: str
    sources: tuple[str, ...]
    status: Status


@dataclass(frozen=True, slots=True)
class NucleusRoute:
    """One way for the nucleus to come out; the first is intended, the rest are backups."""

    key: str
    name: str
    order: int
    trigger: str
    wound: str
    suture: str
    items: tuple[str, ...]
    """Labels of what it needs."""
    astigmatism: str
    rules: tuple[str, ...]
    source: str
    status: Status
    in_repertoire: bool | None
    """None: the practice file does not say."""


@dataclass(frozen=True, slots=True)
class Said:
    """One sentence of a part, with what it rests on."""

    key: str
    says: str
    why: str
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class Anaesthesia:
    """Route, time flat, needle, and what changes if it becomes scleral work."""

    route: str
    route_from: str
    """this case, the practice file, or empty when no route is recorded."""
    longest_flat_min: float | None
    flat_says: str
    needle_allowed: bool | None
    """None: waits for what needle_waits_for names."""
    needle_says: str
    needle_waits_for: tuple[str, ...]
    lines: tuple[Said, ...]
    if_scleral: str


@dataclass(frozen=True, slots=True)
class Trigger:
    """Something that may go wrong, and the first words then."""

    key: str
    name: str
    first_words: tuple[str, ...]
    because: str
    """What in this eye makes it likely."""
    source: str
    status: Status
    hands: str = ""
    """What is in the eye when these words hold, in words."""


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything a plan says beside lens powers."""

    rules: tuple[RuleReading, ...]
    """Every rule of scope eye."""
    conflicts: tuple[ConflictReading, ...]
    tray: tuple[TrayItem, ...]
    clock_map: ClockMap
    """Where everything goes at the limbus; steps and sheet read their hours from it."""
    steps: tuple[Step, ...]
    machine: tuple[StageSetting, ...]
    machine_profile: str
    machine_because: str
    machine_physics: MachinePhysics
    anaesthesia: Anaesthesia
    nucleus: tuple[NucleusRoute, ...]
    """Empty where the nucleus is not dense."""
    to_say: tuple[Said, ...]
    triggers: tuple[Trigger, ...]
    """The likeliest first; for the sheet the first three."""
    cornea: Cornea
    energy: Energy
    different: tuple[str, ...]
    """What is different in this eye, at most five lines."""

    def firing(self) -> tuple[RuleReading, ...]:
        """Return the rules that fire."""
        return tuple(one for one in self.rules if one.state == "fires")

    def waiting(self) -> tuple[RuleReading, ...]:
        """Return the rules that wait for something that can be found out before theatre."""
        return tuple(one for one in self.rules if one.state == "waits")
