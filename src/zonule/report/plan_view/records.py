"""The plan page as frozen records: texts, each number with the path of its why, and pictures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Shown:
    """A text, and the path under which it is explained; no path where there is nothing more."""

    text: str
    why: str = ""


Phrase: TypeAlias = tuple[Shown, ...]
"""A sentence in pieces, so that each number in it leads to its why."""


@dataclass(frozen=True, slots=True)
class HeaderView:
    """Whose eye, which aim, which plan."""

    eye: str
    aim: Shown
    rule: str
    who: str
    born: str
    allergies: str
    allergic: bool
    """There is an allergy, or nobody knows: then it stands out."""
    order: str
    surgery: str
    plan: str
    differs: str
    """What was asked for beside the files; empty where the plan is that of the files."""


@dataclass(frozen=True, slots=True)
class Interruption:
    """Something a surgeon must act on before anything else."""

    word: str
    says: str
    holds_up: str


@dataclass(frozen=True, slots=True)
class RungView:
    """One place among intended and backups."""

    key: str
    order: int
    order_says: str
    name: str
    in_hand: bool
    happens_when: str
    likelihood: Shown | None
    power: Shown | None
    lens: str
    kept: str
    expected: Shown | None
    nine_in_ten: Shown | None
    within: Shown | None
    wound: Shown | None
    notes: tuple[Phrase, ...]
    figure: str
    """SVG; empty where there is no power."""


@dataclass(frozen=True, slots=True)
class RefusedView:
    """Places closed for one reason."""

    places: tuple[Shown, ...]
    because: str


@dataclass(frozen=True, slots=True)
class ExpectedRow:
    """One power around the chosen one, as the table has it."""

    power: Shown
    power_d: float
    refraction: Shown
    half: Shown
    nine_in_ten: Shown
    within: Shown
    within_one: Shown
    above_0: Shown
    above_half: Shown
    kept: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class ExpectedView:
    """Expected after surgery for the one in hand."""

    heading: str
    figure: str
    narrow_figure: str
    """The same picture for a narrow place."""
    rows: tuple[ExpectedRow, ...]
    notes: tuple[Phrase, ...]
    read_back: str
    table_open: bool
    """A power was taken in the table: it stays open."""


@dataclass(frozen=True, slots=True)
class RuleView:
    """One rule, its reason one press away."""

    id: str
    title: str
    stands_out: bool
    """Among the few that a tired team must not forget in this eye."""
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
class ConflictView:
    """Two rules that pull apart, and how that is settled."""

    question: str
    settled: str
    meanwhile: str
    """Which of the two does not stand among the steps; empty where both do."""
    rules: tuple[Shown, Shown]


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
    act: str
    """What someone must see to: too few, or no recipe card."""


@dataclass(frozen=True, slots=True)
class TrayGroup:
    """Things kept alike."""

    heading: str
    folded: bool
    lines: tuple[TrayLine, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """A short name, with its why where it has one, and what is said under it."""

    name: Shown
    says: str


@dataclass(frozen=True, slots=True)
class Card:
    """One card: its heading is a finding."""

    heading: str
    pairs: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class MachineCard:
    """The machine in one line; a page of its own has the stages."""

    heading: str
    line: str


@dataclass(frozen=True, slots=True)
class MapCard:
    """What the plan page has of the incision and hook map."""

    heading: str
    acts: bool
    """Someone has to decide."""
    figure: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanView:
    """The whole page."""

    header: HeaderView
    plain: bool
    """Nothing is out of the ordinary in this eye: cards are folded to their first line."""
    interruptions: tuple[Interruption, ...]
    withheld_heading: str
    withheld: str
    rungs: tuple[RungView, ...]
    surer: Phrase
    """Why a backup may look surer than the bag; empty where none does."""
    rare: tuple[RungView, ...]
    rare_says: str
    """Which backups those are, so that none seems to be missing."""
    refused: tuple[RefusedView, ...]
    shares: tuple[Phrase, ...]
    whose_shares: str
    """Whose likelihoods these are and how sure; empty where none is shown."""
    expected: ExpectedView | None
    outstanding: Card
    first_eye_heading: str
    first_eye: tuple[Phrase, ...]
    steps_heading: str
    steps_note: str
    steps: tuple[StepView, ...]
    conflicts_heading: str
    conflicts: tuple[ConflictView, ...]
    nucleus: Card
    tray_heading: str
    tray: tuple[TrayGroup, ...]
    machine: MachineCard
    risk: Card
    cornea: Card
    map: MapCard
    anaesthesia: Card
    triggers: Card
    before_heading: str
    before: tuple[RuleView, ...]
    to_say: tuple[Phrase, ...]
    settled: Card
    checks: tuple[str, ...]
    caution: str
    identity: str
    versions: str
