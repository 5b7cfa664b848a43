"""The page of risks as frozen records: texts, each number with the path of its why, pictures."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.report.plan_view.records import HeaderView, Phrase, Shown


@dataclass(frozen=True, slots=True)
class FactorRow:
    """One factor: what this eye has, and what each table makes of it."""

    factor: str
    here: str
    counts: bool
    """It moves the risk, or may."""
    ratio: str
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One line: what it is, the figure, what is to be known of it."""

    label: str
    figure: Shown
    says: str = ""


@dataclass(frozen=True, slots=True)
class RootRow:
    """One root, as the table has it."""

    label: str
    chance: Shown
    between: str
    how: str


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """One place the lens may end up in, and the states that lead there."""

    name: str
    chance: Shown
    between: str
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlacesView:
    """Where the lens ends up: a picture, the places, how to read them."""

    heading: str
    figure: str
    narrow_figure: str
    """The same picture for a narrow place."""
    rows: tuple[PlaceRow, ...]
    notes: tuple[Phrase, ...]


@dataclass(frozen=True, slots=True)
class OutcomeRow:
    """One outcome over the years."""

    label: str
    window: str
    without: str
    after: str
    here: Shown
    says: str


@dataclass(frozen=True, slots=True)
class OutcomeDots:
    """One outcome as people, all of one denominator."""

    label: str
    says: str
    figure: str


@dataclass(frozen=True, slots=True)
class OutcomePicture:
    """Outcomes of one denominator."""

    heading: str
    outcomes: tuple[OutcomeDots, ...]


@dataclass(frozen=True, slots=True)
class RiskView:
    """The whole page."""

    header: HeaderView
    heading: str
    withheld: str
    """Why there are no risks; then nothing else stands on the page."""
    figure: str = ""
    lead: tuple[Phrase, ...] = ()
    table_names: tuple[str, ...] = ()
    factors: tuple[FactorRow, ...] = ()
    factors_left_out: str = ""
    yardsticks: tuple[Line, ...] = ()
    own_heading: str = ""
    own: tuple[Phrase, ...] = ()
    groups: tuple[Line, ...] = ()
    groups_note: str = ""
    used: tuple[str, ...] = ()
    """Devices and settings used for what this eye has; no figure says what they change."""
    second_eye_heading: str = ""
    second_eye: tuple[Phrase, ...] = ()
    second_eye_lines: tuple[Line, ...] = ()
    shared: tuple[str, ...] = ()
    roots: tuple[RootRow, ...] = ()
    places: PlacesView | None = None
    outcomes: tuple[OutcomeRow, ...] = ()
    outcome_dots: tuple[OutcomePicture, ...] = ()
    outcomes_note: str = ""
    caution: str = ""
    identity: str = ""
    versions: str = ""
