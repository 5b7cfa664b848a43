"""Reads ``placements.toml``: where a lens may end up and what its plane does there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from zonule.errors import NoSuchName
from zonule.library.reading import Status, status, table


@dataclass(frozen=True, slots=True)
class Place:
    """One place, under its key ``placement`` or ``placement:variant``."""

    key: str
    label: str
    happens_when: str
    holds_lens: bool
    source: str
    note: str
    move_mm: float = 0.0
    move_low_mm: float = 0.0
    move_high_mm: float = 0.0
    move_status: Status = "missing"
    position_sd_mm: float = 0.0
    position_mean_sd_mm: float = 0.0
    spread_status: Status = "missing"
    tail: str = "inside"
    power_from: str = "own"
    formulas: str = "capsule"
    lens_classes: tuple[str, ...] = ()
    optic_mm_at_least: float = 0.0
    overall_mm_at_least: float = 0.0
    wound_mm: float | None = None
    rule_of_thumb: bool = False
    lens_already_in: bool = False
    """The lens is the one already in the bag when this happens: its power is the bag's."""
    longer_than_white_to_white_mm: float | None = None
    """By how much an angle-supported lens must be longer than the horizontal white-to-white."""
    a_constant: Mapping[str, float] | None = None
    """A constant of this place by length method, for lenses that are never in a bag."""
    a_constant_low: float = 0.0
    a_constant_high: float = 0.0
    property_of: str = ""
    """The place this is only a property of (a ring in the bag); it is then no rung of its own."""

    @property
    def placement(self) -> str:
        """The placement without its variant."""
        return self.key.partition(":")[0]

    @property
    def variant(self) -> str | None:
        """The variant, if the place has one."""
        return self.key.partition(":")[2] or None


@dataclass(frozen=True, slots=True)
class Exclusion:
    """A finding that rules places out."""

    places: tuple[str, ...]
    when: str
    says: str
    if_unknown: str
    """hold: the place waits for the finding; say: it is offered and says what is not known."""
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class ClassRefusal:
    """A class of lens that must not go to certain places."""

    lens_class: str
    places: tuple[str, ...]
    says: str
    source: str
    status: Status


_NOT_PLACES = ("refusal", "exclusion", "aphakic", "rule_of_thumb", "after_rupture_elsewhere")


def _place(key: str, row: Mapping[str, Any]) -> Place:
    fields = {**row, "key": key, "holds_lens": row.get("holds_lens", True)}
    fields["lens_classes"] = tuple(row.get("lens_classes", ()))
    for name in ("move_status", "spread_status"):
        fields[name] = status(row.get(name, "missing"))
    if "a_constant" in row:
        fields["a_constant"] = MappingProxyType(row["a_constant"])
    return Place(**fields)


@cache
def places() -> Mapping[str, Place]:
    """Return every place by key, in the order of the table.

    Examples
    --------
    >>> places()["sulcus_three_piece"].move_mm
    -0.8
    """
    rows = table("placements")
    return MappingProxyType({key: _place(key, rows[key]) for key in rows if key not in _NOT_PLACES})


def place(key: str) -> Place:
    """Return one place.

    Raises
    ------
    NoSuchName
        If there is no such place.
    """
    if key not in places():
        raise NoSuchName("placement", key, places())
    return places()[key]


@cache
def exclusions() -> tuple[Exclusion, ...]:
    """Return the findings that rule places out."""
    return tuple(
        Exclusion(
            places=tuple(row["places"]),
            when=row["when"],
            says=row["says"],
            if_unknown=row["if_unknown"],
            source=row["source"],
            status=status(row["status"]),
        )
        for row in table("placements")["exclusion"]
    )


@cache
def class_refusals() -> tuple[ClassRefusal, ...]:
    """Return the lens classes that must not go to certain places."""
    return tuple(
        ClassRefusal(
            lens_class=row["lens_class"],
            places=tuple(row["places"]),
            says=row["says"],
            source=row["source"],
            status=status(row["status"]),
        )
        for row in table("placements")["refusal"]
    )


def rule_of_thumb_d(bag_power_d: float) -> float:
    """Return what the theatre's rule of thumb takes off a bag power for a loose sulcus lens [D].

    Examples
    --------
    >>> rule_of_thumb_d(21.0), rule_of_thumb_d(28.5), rule_of_thumb_d(6.0)
    (1.0, 1.5, 0.0)
    """
    for row in table("placements")["rule_of_thumb"]["rows"]:
        if bag_power_d >= row["bag_power_from_d"]:
            return float(row["take_off_d"])
    return 0.0
