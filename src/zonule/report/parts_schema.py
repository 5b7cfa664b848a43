"""The JSON Schema of what a plan says beside its powers."""

from __future__ import annotations

from typing import Final, get_args

from zonule.library.rules import STRENGTH_WORDS
from zonule.plan.parts import RuleState
from zonule.report.cornea_json import cornea_schema, energy_schema
from zonule.report.machine_json import machine_schema
from zonule.report.map_json import HOUR, map_schema
from zonule.report.schema_shapes import (
    DAY,
    MAYBE_EMPTY,
    NUMBER,
    STATUS,
    TEXT,
    Schema,
    closed,
    list_of,
    or_null,
)

COUNT: Final[Schema] = {"type": "integer", "minimum": 1}
KEPT: Final[Schema] = {"enum": ["in_room", "to_fetch", "to_order", "not_recorded"]}
KINDS: Final = ["lens", "device", "instrument", "suture", "viscoelastic", "dye", "drug"]


def _item() -> Schema:
    return closed(
        {
            "key": TEXT,
            "label": TEXT,
            "kind": {"enum": KINDS},
            "count": COUNT,
            "kept": KEPT,
            "shelf": MAYBE_EMPTY,
            "strength": MAYBE_EMPTY,
            "card": MAYBE_EMPTY,
            "needs_card": {"type": "boolean"},
            "rules": list_of(TEXT),
            "waits_for": list_of(TEXT),
            "short": {"type": "boolean"},
            "power_d": or_null(NUMBER),
            "for_places": list_of(TEXT),
        }
    )


def _reading() -> Schema:
    states = list(get_args(RuleState))
    decision = closed(
        {
            "decision": {"enum": ["accepted", "changed", "switched_off"]},
            "by": TEXT,
            "on": DAY,
            "reason": TEXT,
        }
    )
    return closed(
        {
            "rule": TEXT,
            "state": {"enum": states},
            "would_be": or_null({"enum": states}),
            "stage": TEXT,
            "step": or_null(TEXT),
            "title": TEXT,
            "do": list_of(TEXT),
            "avoid": list_of(TEXT),
            "why": TEXT,
            "sources": list_of(TEXT),
            "strength": {"enum": list(STRENGTH_WORDS)},
            "status": STATUS,
            "because": list_of(TEXT),
            "waits_for": list_of(TEXT),
            "decision": or_null(decision),
            "overruling": or_null(closed({"by": TEXT, "on": DAY, "reason": TEXT})),
        }
    )


def _conflict() -> Schema:
    return closed(
        {
            "rules": {"type": "array", "items": TEXT, "minItems": 2, "maxItems": 2},
            "question": TEXT,
            "settled": TEXT,
            "source": TEXT,
            "status": STATUS,
        }
    )


def _step() -> Schema:
    return closed(
        {
            "step": TEXT,
            "order": COUNT,
            "name": TEXT,
            "says": or_null(TEXT),
            "rules": list_of(TEXT),
            "clock_hours": list_of(closed({"what": TEXT, "hour": HOUR})),
        }
    )


def _said() -> Schema:
    return closed({"key": TEXT, "says": TEXT, "why": MAYBE_EMPTY, "source": TEXT, "status": STATUS})


def _anaesthesia() -> Schema:
    return closed(
        {
            "route": TEXT,
            "route_from": MAYBE_EMPTY,
            "longest_flat_min": or_null(NUMBER),
            "flat_says": TEXT,
            "needle_allowed": or_null({"type": "boolean"}),
            "needle_says": TEXT,
            "needle_waits_for": list_of(TEXT),
            "lines": list_of(_said()),
            "if_scleral": TEXT,
        }
    )


def _route() -> Schema:
    texts = dict.fromkeys(
        ("key", "name", "trigger", "wound", "suture", "astigmatism", "source"), TEXT
    )
    return closed(
        {
            **texts,
            "order": {"type": "integer", "minimum": 0},
            "items": list_of(TEXT),
            "rules": list_of(TEXT),
            "status": STATUS,
            "in_repertoire": or_null({"type": "boolean"}),
        }
    )


def _trigger() -> Schema:
    return closed(
        {
            "key": TEXT,
            "name": TEXT,
            "first_words": list_of(TEXT),
            "because": MAYBE_EMPTY,
            "source": TEXT,
            "status": STATUS,
            "hands": TEXT,
        }
    )


def parts_schema() -> Schema:
    """Return the properties of a plan beside its powers.

    Examples
    --------
    >>> sorted(parts_schema())[:3]
    ['anaesthesia', 'clock_map', 'conflicts']
    """
    return {
        "tray": list_of(_item()),
        "rules": list_of(_reading()),
        "conflicts": list_of(_conflict()),
        "clock_map": map_schema(),
        "steps": list_of(_step()),
        "machine": machine_schema(),
        "anaesthesia": _anaesthesia(),
        "nucleus": list_of(_route()),
        "to_say": list_of(_said()),
        "triggers": list_of(_trigger()),
        "cornea": cornea_schema(),
        "energy": energy_schema(),
        "different": list_of(TEXT),
    }
