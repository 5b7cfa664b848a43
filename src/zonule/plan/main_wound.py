"""Where the main wound goes: the usual site, moved off a dialysis to where hands can be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from zonule.errors import Side
from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.practice.records import Practice

SITES: Final = {
    "temporal": 3.0,
    "superior": 0.0,
    "superotemporal": 1.5,
    "inferotemporal": 4.25,
    "superonasal": -1.0,
}
"""Hours from 12 towards the temple. Nasal and inferior ones are not among them: there the nose
and the cheek leave no room for hands."""


def on_the_clock(hour: float) -> float:
    """Return an hour between 12 (kept as 12) and just under it.

    Examples
    --------
    >>> on_the_clock(15.0), on_the_clock(0.0), on_the_clock(-2.25), on_the_clock(12.5)
    (3.0, 12.0, 9.75, 12.5)
    """
    turned = hour % 12.0
    return turned + 12.0 if turned < 1.0 else turned


def hours_apart(one: float, other: float) -> float:
    """Return how many hours lie between two positions, the short way round.

    Examples
    --------
    >>> hours_apart(11.0, 1.0), hours_apart(3.0, 9.0)
    (2.0, 6.0)
    """
    apart = abs(one - other) % 12.0
    return min(apart, 12.0 - apart)


def hour_of(site: str, side: Side) -> float:
    """Return the hour of a site, as an examiner facing the patient sees the eye.

    Examples
    --------
    >>> hour_of("temporal", "left"), hour_of("temporal", "right"), hour_of("superior", "left")
    (3.0, 9.0, 12.0)
    >>> hour_of("superonasal", "right")
    1.0
    """
    towards_the_temple = 1.0 if side == "left" else -1.0
    return on_the_clock(12.0 + towards_the_temple * SITES[site])


def clear_of_a_gap_hours() -> float:
    """Return how near the edge of a dialysis the middle of a wound may come, in clock hours.

    Examples
    --------
    >>> clear_of_a_gap_hours()
    1.5
    """
    rows = table("clock_map")["between"]
    row = next(one for one in rows if set(one["of"]) == {"main_wound", "dialysis"})
    return float(row["degrees"]) / 30.0


@dataclass(frozen=True, slots=True)
class MainWound:
    """Where the main wound goes, as a proposal, and why."""

    hour: float | None
    """None: no hour that hands can reach is clear of the dialysis."""
    site: str
    because: str
    moved: bool = False
    """It is not where this surgeon usually makes it."""


def main_wound(case: Case, practice: Practice, lookup: Lookup) -> MainWound:
    """Return the hour of the main wound.

    Without a site in the practice file the temporal one is proposed, and it is said so. Where a
    dialysis leaves no site clear, or nobody knows where it lies, none is proposed: the surgeon
    decides.
    """
    usual = practice.habits.main_wound_site
    first = usual or "temporal"
    said = "your usual site" if usual else "temporal: no usual site in the practice file"
    centre, width = number(lookup("dialysis_centre_clock")), number(lookup("dialysis_clock_hours"))
    if width is None:
        return MainWound(hour_of(first, case.eye_to_do), first, f"{said}; dialysis not known")
    if width == 0.0:
        return MainWound(hour_of(first, case.eye_to_do), first, said)
    if centre is None:
        lost = f"where the dialysis of {width:g} clock hours lies is not known"
        return MainWound(None, "", lost, moved=True)
    clear = width / 2.0 + clear_of_a_gap_hours()
    for site in (first, *(one for one in SITES if one != first)):
        hour = hour_of(site, case.eye_to_do)
        if hours_apart(hour, centre) >= clear:
            moved = f"{site}, moved off the dialysis at {centre:g} o'clock"
            return MainWound(hour, site, said if site == first else moved, site != first)
    return MainWound(
        None, "", f"no site is clear of the dialysis at {centre:g} o'clock", moved=True
    )
