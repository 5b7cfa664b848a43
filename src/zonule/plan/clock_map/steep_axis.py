"""The steep axis, and how the main wound lies to it: for information, never a clash."""

from __future__ import annotations

from typing import Final

from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.plan.clock_map.records import SteepAxis

HALF_TURN: Final = 180.0


def off_axis(axis: float, degrees: float) -> float:
    """Return how far a place at the limbus lies off an axis, 0 to 90.

    Examples
    --------
    >>> off_axis(88.0, 0.0), off_axis(178.0, 0.0), off_axis(90.0, 270.0)
    (88.0, 2.0, 0.0)
    """
    apart = abs(axis - degrees) % HALF_TURN
    return min(apart, HALF_TURN - apart)


def steep_axis_of(lookup: Lookup, wound_degrees: float | None) -> SteepAxis | None:
    """Return the steep axis of the deciding measurement.

    A quarter turn from the flat one if only that is recorded; None where neither is, or where no
    meridian is the steeper.

    Examples
    --------
    >>> found = {"k_flat_axis": 178.0}
    >>> steep_axis_of(lambda key: found.get(key, "not said"), 0.0).axis
    88.0
    """
    steep, flat = number(lookup("k_steep_axis")), number(lookup("k_flat_axis"))
    steep_d, flat_d = number(lookup("k_steep_d")), number(lookup("k_flat_d"))
    if steep_d is not None and flat_d is not None and flat_d > steep_d:
        steep, flat = flat, steep  # named the wrong way round in the record
    cylinder = number(lookup("corneal_cylinder_d"))
    if (steep is None and flat is None) or cylinder == 0.0:
        return None
    axis = steep if steep is not None else ((flat or 0.0) + 90.0) % HALF_TURN or HALF_TURN
    return SteepAxis(
        axis=axis,
        cylinder_d=None if cylinder is None else abs(cylinder),
        worked_out=steep is None,
        off_degrees=None if wound_degrees is None else off_axis(axis, wound_degrees),
    )
