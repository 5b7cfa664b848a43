"""What a published risk model, score or count holds, as records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, get_args

from zonule.library.reading import Status

Kind = Literal["odds", "relative_risk", "hazard"]
KINDS: Final[tuple[Kind, ...]] = get_args(Kind)
KnownFrom = Literal["findings", "plan", "event", "nothing"]
KNOWN_FROM: Final[tuple[KnownFrom, ...]] = get_args(KnownFrom)
UNITS: Final[Mapping[Kind, str]] = {
    "odds": "odds",
    "relative_risk": "risk",
    "hazard": "cumulative risk",
}
"""What the baseline of each kind of model is."""


@dataclass(frozen=True, slots=True)
class Rate:
    """How often something was met in a series; no value where none was seen."""

    value: float | None
    status: Status
    source: str
    events: int | None = None
    n: int | None = None
    ci: tuple[float, float] | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Baseline:
    """The eye at every reference level: odds, risk or cumulative risk, as the model's kind."""

    value: float | None
    unit: str
    status: Status
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Level:
    """One row of a model's table; no ratio where the row was printed and not seen."""

    level: str
    label: str
    ratio: float | None
    status: Status
    source: str
    ci: tuple[float, float] | None = None
    when_all: tuple[str, ...] = ()
    when_any: tuple[str, ...] = ()
    otherwise: bool = False
    """Taken when no other level of the factor can hold."""
    reference: bool = False
    grades: tuple[str, ...] = ()
    """Grades of a practice file that this group of operators is read for."""
    prevalence: float | None = None
    others: tuple[float, ...] = ()
    """What other studies give for the same row."""
    asymmetric_as_printed: bool = False
    note: str = ""

    @property
    def readable(self) -> bool:
        """Whether findings can settle this level."""
        return bool(self.when_all or self.when_any or self.otherwise)


@dataclass(frozen=True, slots=True)
class Factor:
    """One factor of a model and its levels."""

    name: str
    label: str
    levels: tuple[Level, ...]
    known_from: KnownFrom = "findings"
    comparison: bool = False
    """Groups that a caller sets, such as grades of operator; never read from an eye."""
    first_wins: bool = False
    """Where several levels hold at once the first of them counts."""
    reference_missing: bool = False
    per_unit: str = ""
    """A ratio for each unit of ``finding``; the one level then has no condition."""
    finding: str = ""
    counted_from: float | None = None
    instead_of: str = ""
    """The factor that this is another form of: one of the two, never both."""
    read_as: str = ""
    """How the published levels are read from a case."""
    prevalence_status: Status | None = None
    prevalence_source: str = ""

    @property
    def complete(self) -> bool:
        """Whether every level has its ratio."""
        return not self.reference_missing and all(one.ratio is not None for one in self.levels)

    @property
    def reference(self) -> Level | None:
        """The level that all others are compared with."""
        return next((one for one in self.levels if one.reference), None)


@dataclass(frozen=True, slots=True)
class Model:
    """One published model."""

    id: str
    name: str
    kind: Kind
    outcome: str
    definition: str
    rate: Rate
    baseline: Baseline
    status: Status
    source: str
    factors: tuple[Factor, ...]
    n: int | None = None
    period: str = ""
    horizon: str = ""
    """Until when it counts, for what happens after surgery."""
    note: str = ""

    def factor(self, name: str) -> Factor | None:
        """Return one factor, or None if the model has none of that name."""
        return next((one for one in self.factors if one.name == name), None)

    @property
    def missing(self) -> tuple[str, ...]:
        """What nobody has typed in yet, in words: ``Factor: level``, ``baseline``, ``rate``."""
        rows = [
            f"{factor.label}: {level.label}"
            for factor in self.factors
            for level in factor.levels
            if level.ratio is None
        ]
        rows += [f"{one.label}: reference level" for one in self.factors if one.reference_missing]
        rows += ["baseline"] if self.baseline.value is None else []
        return tuple(rows + (["rate"] if self.rate.value is None else []))

    @property
    def unverified(self) -> tuple[str, ...]:
        """Figures of the model that stand here from memory or by assumption."""
        rows = ["baseline"] if self.baseline.status in _UNVERIFIED else []
        rows += [
            f"{factor.label}: {level.label}"
            for factor in self.factors
            for level in factor.levels
            if level.status in _UNVERIFIED
        ]
        return tuple(rows + (["rate"] if self.rate.status in _UNVERIFIED else []))


_UNVERIFIED: Final = ("memory", "assumption")


@dataclass(frozen=True, slots=True)
class Recalibration:
    """A later rate that a model's baseline is moved to."""

    id: str
    model: str
    label: str
    year: int
    """The year in which the period of the rate ends."""
    definition: str
    rate: Rate


@dataclass(frozen=True, slots=True)
class Item:
    """One row of a point score."""

    name: str
    label: str
    points: int
    when_all: tuple[str, ...] = ()
    when_any: tuple[str, ...] = ()
    one_of: str = ""
    """Of the items with the same word here only one counts: the one with most points."""
    prevalence: float | None = None
    read_as: str = ""

    @property
    def readable(self) -> bool:
        """Whether findings can settle this row."""
        return bool(self.when_all or self.when_any)


@dataclass(frozen=True, slots=True)
class ScoreBand:
    """What was met among patients of a band of points."""

    group: int
    low: int
    high: int | None
    """Highest points of the band; None: no upper end."""
    n: int
    counts: Mapping[str, int]
    """Events by name; ``any`` is any complication during surgery."""
    status: Status
    source: str

    def rate(self, event: str) -> float:
        """Return the share of patients with an event."""
        return self.counts[event] / self.n


@dataclass(frozen=True, slots=True)
class Score:
    """A published point score."""

    id: str
    name: str
    outcome: str
    items: tuple[Item, ...]
    status: Status
    source: str
    bands: tuple[ScoreBand, ...] = ()
    rule: str = ""
    prevalence_status: Status | None = None
    prevalence_source: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Incidence:
    """How often an outcome was met in a group of one series."""

    id: str
    outcome: str
    label: str
    rate: Rate
    compared_with: str = ""
    comparator: Rate | None = None
    years: float | None = None
    """Years since surgery of a cumulative figure."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Distribution:
    """How the cases of one series were spread over the ways there are."""

    id: str
    label: str
    counts: Mapping[str, int]
    labels: Mapping[str, str]
    n: int
    status: Status
    source: str
    shares: Mapping[str, float]
    """Further shares of the same cases that are no part of the spread."""
    note: str = ""
