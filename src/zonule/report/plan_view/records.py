"""The plan page as frozen records of text."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Shown:
    """A text, and the path under which it is explained; no path where there is nothing more."""

    text: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class HeaderView:
    """Whose eye, which aim, which plan."""

    eye: str
    order: str
    aim: Shown
    about: tuple[str, ...]
    when: str


@dataclass(frozen=True, slots=True)
class RungView:
    """One place among intended and backups."""

    key: str
    order: int
    name: str
    in_hand: bool
    happens_when: str
    likelihood: Shown | None
    power: Shown | None
    lens: str
    kept: str
    expected: Shown | None
    band: Shown | None
    within: Shown | None
    notes: tuple[str, ...]
    figure: str
    """SVG; empty where there is no power."""


@dataclass(frozen=True, slots=True)
class RefusedView:
    """Places closed for one reason."""

    places: str
    because: str


@dataclass(frozen=True, slots=True)
class ExpectedRow:
    """One power around the chosen one, as the table has it."""

    power: Shown
    power_d: float
    refraction: Shown
    half: str
    nine_in_ten: Shown
    within: Shown
    kept: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class ExpectedView:
    """Expected after surgery for the one in hand."""

    heading: str
    figure: str
    rows: tuple[ExpectedRow, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RuleView:
    """One rule, its reason one press away."""

    id: str
    title: str
    strength: str
    strength_says: str
    status: str
    because: str
    do: tuple[str, ...]
    avoid: tuple[str, ...]
    reason: str
    settled: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class StepView:
    """One step of the operation."""

    order: int
    name: str
    says: str
    hours: Shown | None
    rules: tuple[RuleView, ...]


@dataclass(frozen=True, slots=True)
class TrayLine:
    """One thing in the room, to fetch or to order."""

    label: str
    count: Shown
    note: str


@dataclass(frozen=True, slots=True)
class TrayGroup:
    """Things kept alike."""

    heading: str
    lines: tuple[TrayLine, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """A short heading and what is said under it."""

    name: str
    says: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class PlanView:
    """The whole page."""

    header: HeaderView
    plain: bool
    """Nothing is different in this eye: cards that say so stay folded."""
    interruptions: tuple[str, ...]
    withheld: str
    rungs: tuple[RungView, ...]
    rare: tuple[RungView, ...]
    refused: tuple[RefusedView, ...]
    shares: tuple[str, ...]
    expected: ExpectedView | None
    outstanding: tuple[Pair, ...]
    first_eye: tuple[str, ...]
    first_eye_heading: str
    steps: tuple[StepView, ...]
    conflicts: tuple[Pair, ...]
    nucleus: tuple[Pair, ...]
    tray: tuple[TrayGroup, ...]
    tray_heading: str
    machine_heading: str
    machine: tuple[Shown, ...]
    machine_caution: str
    anaesthesia_heading: str
    anaesthesia: tuple[Pair, ...]
    before: tuple[RuleView, ...]
    to_say: tuple[str, ...]
    aside: tuple[Pair, ...]
    checks: tuple[str, ...]
    read_back: str
    caution: str
    identity: str
    versions: str
