"""Positions within one eye: quarters of a clock hour from 12 towards the temple.

Reckoned like this, both eyes are the same eye; only the last step makes hours of a side of it.
"""

from __future__ import annotations

from typing import Final

from zonule.errors import Side
from zonule.plan.main_wound import on_the_clock

QUARTERS: Final = 48
DEGREES_A_QUARTER: Final = 7.5


def to_hour(quarters: float, side: Side) -> float:
    """Return the hour of a position, as an examiner facing the patient sees the eye.

    Examples
    --------
    >>> to_hour(12, "left"), to_hour(12, "right"), to_hour(0, "right"), to_hour(-4, "left")
    (3.0, 9.0, 12.0, 11.0)
    """
    towards_the_temple = 1.0 if side == "left" else -1.0
    return on_the_clock(towards_the_temple * quarters / 4.0)


def from_hour(hour: float, side: Side) -> float:
    """Return the position of an hour, from -24 to just under 24 quarters.

    Examples
    --------
    >>> from_hour(3.0, "left"), from_hour(9.0, "right"), from_hour(11.0, "left")
    (12.0, 12.0, -4.0)
    """
    towards_the_temple = 1.0 if side == "left" else -1.0
    return (towards_the_temple * 4.0 * hour + 24.0) % QUARTERS - 24.0


def apart(one: float, other: float) -> float:
    """Return the degrees between two positions, the short way round.

    Examples
    --------
    >>> apart(0, 12), apart(-4, 44), apart(-20, 20)
    (90.0, 0.0, 60.0)
    """
    gap = abs(one - other) % QUARTERS
    return DEGREES_A_QUARTER * min(gap, QUARTERS - gap)
