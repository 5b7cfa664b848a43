"""Eyes with something at the limbus, and their maps, for the tests of the map."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from hypothesis import strategies as st

from plan.cases import case, practice, with_eye, with_findings
from zonule.errors import Side
from zonule.findings.facts import facts_of
from zonule.findings.records import Case, other_side
from zonule.plan.clock_map import ClockMap, Mark, clock_map_of
from zonule.practice.records import Practice

HARD: Final = "hard-second-eye"
NOTHING_THERE: Final[Mapping[str, Any]] = {
    "hist_glaucoma_surgery": False,
    "dialysis_clock_hours": 0.0,
    "old_wound_clock_hours": 0.0,
    "limbal_vessels_clock_hours": 0.0,
}
EVERY_HOOK: Final = frozenset({"T-01", "D-05", "D-09", "D-13"})
PORTS_ONLY: Final = frozenset({"T-01"})


def eye_with(**there: Any) -> Case:
    """Return a left eye that was looked at all round, with what is said."""
    return with_findings(case(HARD), **{**NOTHING_THERE, **there})


def map_of(
    whole: Case,
    *,
    firing: frozenset[str] = EVERY_HOOK,
    store: Practice | None = None,
    scleral: bool = False,
) -> ClockMap:
    return clock_map_of(
        whole,
        store or practice(),
        facts_of(whole, whole.eye_to_do),
        firing=firing,
        waiting=frozenset(),
        scleral_backup=scleral,
    )


def mirrored(whole: Case) -> Case:
    """Return the same findings in the other eye: hours and axes as in a mirror."""
    eye = whole.operative_eye
    side: Side = other_side(whole.eye_to_do)
    answers = {
        name: _hour(answer) if name.endswith("_clock") else answer
        for name, answer in eye.answers.items()
    }
    biometry = tuple(
        replace(one, k_steep_axis=_axis(one.k_steep_axis), k_flat_axis=_axis(one.k_flat_axis))
        for one in eye.biometry
    )
    other = replace(eye, side=side, answers=answers, biometry=biometry)
    return with_eye(replace(whole, eye_to_do=side), other)


def _hour(hour: Any) -> Any:
    if not isinstance(hour, float):
        return hour
    turned = (12.0 - hour) % 12.0
    return turned + 12.0 if turned < 1.0 else turned


def _axis(axis: Any) -> Any:
    return 180.0 - axis % 180.0 if isinstance(axis, int | float) else axis


def hours(clock: ClockMap, kind: str) -> list[float]:
    return [one.hour for one in clock.of_kind(kind)]


def edges_apart(one: Mark, other: Mark) -> float:
    """Return the degrees from edge to edge of two marks, reckoned from their degrees alone."""
    turn = abs(one.degrees - other.degrees) % 360.0
    return min(turn, 360.0 - turn) - one.half_width_degrees - other.half_width_degrees


HOURS = st.integers(4, 51).map(lambda quarters: quarters / 4.0)
"""Every quarter of an hour on the clock, 1 to 12.75."""
WIDTHS = st.integers(1, 12).map(lambda halves: halves / 2.0)


@st.composite
def limbal_eyes(draw: st.DrawFn) -> Case:
    """Draw an eye with any of the four things at its limbus, or none."""
    found: dict[str, Any] = {}
    if draw(st.booleans()):
        found |= {"dialysis_centre_clock": draw(HOURS), "dialysis_clock_hours": draw(WIDTHS)}
    if draw(st.booleans()):
        found |= {"hist_glaucoma_surgery": True, "bleb_or_tube_clock": draw(HOURS)}
        found |= {"bleb_or_tube_clock_hours": draw(WIDTHS)}
    if draw(st.booleans()):
        found |= {"old_wound_clock": draw(HOURS), "old_wound_clock_hours": draw(WIDTHS)}
    if draw(st.booleans()):
        found |= {"limbal_vessels_clock": draw(HOURS), "limbal_vessels_clock_hours": draw(WIDTHS)}
    return eye_with(**found)
