"""What a plan says of the corneal endothelium, as frozen records; counts in cells/mm²."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from zonule.library.reading import Status

Outlook = Literal[
    "below_now", "below_expected", "below_possible", "above", "above_now", "not_known"
]
"""How a count stands to a threshold; ``above_now``: nothing is said of it after surgery."""
Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Band:
    """A middle with half and nine in ten of such eyes, equal-tailed."""

    middle: float
    half: Pair
    nine_in_ten: Pair


@dataclass(frozen=True, slots=True)
class LossGroup:
    """The printed loss of eyes that began with a like count."""

    key: str
    label: str
    eyes: int
    share: float
    sd: float


@dataclass(frozen=True, slots=True)
class After:
    """The count expected after surgery, by the loss of one group."""

    group: LossGroup
    count: Band
    one_sd: Pair
    """With a loss one standard deviation above and below the mean."""
    chance_of_large_loss: float
    """Share of such eyes that lose the large share of the library or more."""


@dataclass(frozen=True, slots=True)
class Threshold:
    """A count below which something changes, and when this eye comes there."""

    key: str
    label: str
    below_per_mm2: float
    outlook: Outlook
    years: Pair | None
    """Years from surgery until the count falls below it, nine in ten; None where not asked."""
    years_middle: float | None
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class Series:
    """A mean loss of another series, as a bound."""

    label: str
    share: float
    weeks: int | None
    count_per_mm2: float | None
    """What it would leave of this eye's count."""
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class CoursePoint:
    """The count expected some years after surgery."""

    years: float
    count: Band


@dataclass(frozen=True, slots=True)
class Cornea:
    """The endothelium of this eye: now, after surgery, over the years."""

    count_per_mm2: float | None
    why_unknown: str
    """In which way the count is not known; empty where it is."""
    waits_for: tuple[str, ...]
    """Findings without which no count after surgery is said."""
    usual_per_mm2: float | None
    """Usual for the age on the day of surgery; None where the age is not known."""
    age_years: float | None
    after: After | None
    beside: After | None
    """By the loss of the group beside, where the count lies near the edge of its own."""
    no_loss_because: str
    """Why no loss is taken off although the count is known; empty where one is."""
    loss_range: Pair
    """Lowest and highest mean loss over all groups: what is known without a count."""
    thresholds: tuple[Threshold, ...]
    series: tuple[Series, ...]
    """Bounds, only those that stand beside this density; all where the density is not known."""
    course: tuple[CoursePoint, ...]
    yearly_rate: float
    yearly_rate_unoperated: float
    rupture_waits_for: str
    rupture_says: str
