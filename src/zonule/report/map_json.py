"""The incision and hook map as plain data, and its JSON Schema."""

from __future__ import annotations

from typing import Any, Final

from zonule.plan.clock_map import ClockMap, Mark, SteepAxis
from zonule.report.schema_shapes import (
    MAYBE_EMPTY,
    NUMBER,
    STATUS,
    TEXT,
    Schema,
    closed,
    list_of,
    or_null,
)

HOUR: Final[Schema] = {"type": "number", "minimum": 1, "exclusiveMaximum": 13}
TURN: Final[Schema] = {"type": "number", "minimum": 0, "exclusiveMaximum": 360}
AXIS: Final[Schema] = {"type": "number", "minimum": 0, "maximum": 180}
YES_NO: Final[Schema] = {"type": "boolean"}


def map_as_json(clock: ClockMap) -> dict[str, Any]:
    """Return the map: what lies where, what comes too near, what it waits for."""
    return {
        "seat": clock.seat,
        "asks": clock.asks or None,
        "marks": [_mark(one) for one in clock.marks],
        "clashes": [
            {
                "first": one.first,
                "second": one.second,
                "apart_degrees": one.apart_degrees,
                "wanted_degrees": one.wanted_degrees,
                "hard": one.hard,
                "do": one.do,
                "source": one.source,
                "status": one.status,
            }
            for one in clock.clashes
        ],
        "waits_for": list(clock.waits_for),
        "notes": list(clock.notes),
        "steep_axis": _steep(clock.steep_axis),
    }


def _mark(one: Mark) -> dict[str, Any]:
    return {
        "key": one.key,
        "kind": one.kind,
        "label": one.label,
        "hour": one.hour,
        "degrees": one.degrees,
        "half_width_degrees": one.half_width_degrees,
        "fixed": one.fixed,
        "moved_degrees": one.moved_degrees,
        "moved": one.moved,
        "width_assumed": one.width_assumed,
        "says": one.says,
        "rules": list(one.rules),
        "source": one.source,
        "status": one.status,
    }


def _steep(one: SteepAxis | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "axis": one.axis,
        "cylinder_d": one.cylinder_d,
        "worked_out": one.worked_out,
        "off_degrees": one.off_degrees,
    }


def map_schema() -> Schema:
    """Return the JSON Schema of the map.

    Examples
    --------
    >>> sorted(map_schema()["properties"])[:3]
    ['asks', 'clashes', 'marks']
    """
    steep = closed(
        {
            "axis": AXIS,
            "cylinder_d": or_null(NUMBER),
            "worked_out": YES_NO,
            "off_degrees": or_null(AXIS),
        }
    )
    return closed(
        {
            "seat": {"enum": ["superior", "temporal"]},
            "asks": or_null(TEXT),
            "marks": list_of(_mark_shape()),
            "clashes": list_of(_clash_shape()),
            "waits_for": list_of(TEXT),
            "notes": list_of(TEXT),
            "steep_axis": or_null(steep),
        }
    )


def _mark_shape() -> Schema:
    return closed(
        {
            "key": TEXT,
            "kind": TEXT,
            "label": TEXT,
            "hour": HOUR,
            "degrees": TURN,
            "half_width_degrees": AXIS,
            "fixed": YES_NO,
            "moved_degrees": AXIS,
            "moved": MAYBE_EMPTY,
            "width_assumed": YES_NO,
            "says": TEXT,
            "rules": list_of(TEXT),
            "source": TEXT,
            "status": STATUS,
        }
    )


def _clash_shape() -> Schema:
    return closed(
        {
            "first": TEXT,
            "second": TEXT,
            "apart_degrees": or_null(AXIS),
            "wanted_degrees": AXIS,
            "hard": YES_NO,
            "do": TEXT,
            "source": TEXT,
            "status": STATUS,
        }
    )
