"""The JSON Schema of a plan, ``zonule-plan-1``: what another program may rely on."""

from __future__ import annotations

from typing import Any, Final

from zonule.errors import SEVERITIES
from zonule.findings.answers import Unknown
from zonule.formulas.power import FORMULAS
from zonule.library.placements import places
from zonule.library.reading import STATUSES

Schema = dict[str, Any]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
NUMBER: Final[Schema] = {"type": "number"}
TEXT: Final[Schema] = {"type": "string", "minLength": 1}
MAYBE_EMPTY: Final[Schema] = {"type": "string"}
CHANCE: Final[Schema] = {"type": "number", "minimum": 0, "maximum": 1}
BAND: Final[Schema] = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}
DAY: Final[Schema] = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
STATUS: Final[Schema] = {"enum": list(STATUSES)}
REASONS: Final = tuple(word.value for word in Unknown)


def _closed(properties: Schema) -> Schema:
    """Return an object that has all of these keys and no other."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _or_null(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


def _not_there(*reasons: str) -> Schema:
    """Return the shape of a value that is not there: null, and why."""
    return _closed({"value": {"type": "null"}, "why": {"enum": list(reasons or REASONS)}})


def _or_not_there(schema: Schema, *reasons: str) -> Schema:
    return {"anyOf": [schema, _not_there(*reasons)]}


def _list(items: Schema) -> Schema:
    return {"type": "array", "items": items}


def _keyed(names: list[str], value: Schema) -> Schema:
    return {"type": "object", "propertyNames": {"enum": names}, "additionalProperties": value}


def _eye() -> Schema:
    return _closed(
        {
            "side": {"enum": ["right", "left"]},
            "record_number": TEXT,
            "aim_d": NUMBER,
            "aim_rule": {"enum": ["best_chance", "nearest", "asymmetric"]},
            "lens_status": _or_not_there({"enum": ["phakic", "pseudophakic", "aphakic"]}),
            "surgery_planned_on": _or_not_there(DAY),
            "made_on": DAY,
            "order": {"enum": ["first", "second", "second_operation"]},
        }
    )


BANDS: Final = _closed({"p50": BAND, "p80": BAND, "p90": BAND})
HYPEROPIC: Final = _closed({"above_0": CHANCE, "above_0_50": CHANCE})
KEPT: Final[Schema] = {"enum": ["in_room", "to_fetch", "to_order"]}


def _expected() -> Schema:
    return _closed(
        {
            "power_d": NUMBER,
            "refraction_d": NUMBER,
            "bands": BANDS,
            "within_0_50": CHANCE,
            "within_1_00": CHANCE,
            "hyperopic": HYPEROPIC,
            "kept": KEPT,
        }
    )


WITH_POWER: Final[Schema] = {
    "power_d": NUMBER,
    "refraction_d": NUMBER,
    "bands": BANDS,
    "within_0_50": CHANCE,
    "within_1_00": CHANCE,
    "hyperopic": HYPEROPIC,
    "in_room": {"type": "boolean"},
}
"""Keys that hold null where a place has no power."""
ONLY_WITH_POWER: Final[Schema] = {
    "kept": KEPT,
    "device_identifier": MAYBE_EMPTY,
    "exact_power_d": NUMBER,
    "move_mm": _or_not_there(NUMBER, "constant_of_its_own"),
    "a_constant": NUMBER,
    "at_bounds_d": BAND,
    "core_sd_d": {"type": "number", "exclusiveMinimum": 0},
    "tail_weight": CHANCE,
}
"""Keys that are absent where a place has no power."""


def _placement() -> Schema:
    formulas = list(FORMULAS)
    always: Schema = {
        "placement": {"enum": sorted({one.placement for one in places().values()})},
        "variant": _or_null({"enum": [o.variant for o in places().values() if o.variant]}),
        "order": _or_null({"type": "integer", "minimum": 0}),
        "label": TEXT,
        "happens_when": TEXT,
        "lens": _or_null(TEXT),
        **{key: _or_null(value) for key, value in WITH_POWER.items()},
        "by_formula": _keyed(formulas, NUMBER),
        "silent_formulas": _keyed(formulas, TEXT),
        "likelihood": _or_not_there(CHANCE),
        "likelihood_status": _or_null(STATUS),
        "likelihood_range": _or_not_there(BAND, "not_computed"),
        "move_status": STATUS,
        "spread_status": STATUS,
        "residual_cylinder_d": _or_not_there(NUMBER, "not_computed"),
        "wound_mm": _or_not_there({"type": "number", "exclusiveMinimum": 0}),
        "refused_because": _or_null(TEXT),
        "waits_for": _or_null(TEXT),
        "caveats": _list(_caveat()),
        "why": TEXT,
    }
    whole = _closed(always)
    whole["properties"] |= ONLY_WITH_POWER
    whole["if"] = {"properties": {"power_d": NUMBER}}
    whole["then"] = _has_power()
    whole["else"] = _has_none()
    return whole


def _has_power() -> Schema:
    """A place with a power has everything that goes with it, and is neither refused nor waiting."""
    return {
        "properties": {
            **WITH_POWER,
            "order": {"type": "integer"},
            "lens": TEXT,
            "by_formula": {"minProperties": 1},
            "refused_because": {"type": "null"},
            "waits_for": {"type": "null"},
        },
        "required": [key for key in ONLY_WITH_POWER if key != "a_constant"],
    }


def _has_none() -> Schema:
    """A place without a power has none of it, and says why; or it holds no lens at all."""
    nothing: Schema = {key: {"type": "null"} for key in WITH_POWER}
    nothing |= dict.fromkeys(ONLY_WITH_POWER, False)
    lensless = [one.placement for one in places().values() if not one.holds_lens]
    return {
        "properties": {**nothing, "by_formula": {"maxProperties": 0}},
        "anyOf": [
            {"properties": {"refused_because": TEXT}},
            {"properties": {"waits_for": TEXT}},
            {"properties": {"placement": {"enum": lensless}}},
        ],
    }


def _caveat() -> Schema:
    return _closed(
        {
            "name": TEXT,
            "says": TEXT,
            "source": TEXT,
            "status": STATUS,
            "stops": {"enum": ["signature", "nothing"]},
        }
    )


def _unknown() -> Schema:
    return _closed(
        {
            "finding": TEXT,
            "label": TEXT,
            "changes": TEXT,
            "why": TEXT,
            "rank": {"type": "integer", "minimum": 0},
        }
    )


def _check() -> Schema:
    return _closed(
        {
            "check": TEXT,
            "field": TEXT,
            "eye": _or_null({"enum": ["right", "left"]}),
            "sentence": TEXT,
            "value": MAYBE_EMPTY,
            "limit": TEXT,
            "remedy": MAYBE_EMPTY,
            "severity": {"enum": list(SEVERITIES)},
            "stops": {"enum": ["power", "signature", "first_cut", "opening_a_lens", "nothing"]},
            "source": MAYBE_EMPTY,
            "status": MAYBE_EMPTY,
        }
    )


def _first_eye() -> Schema:
    keys = list(places())
    return _closed(
        {
            "side": {"enum": ["right", "left"]},
            "place": _or_null({"enum": keys}),
            "known_by": _or_null(TEXT),
            "lens": _or_null(TEXT),
            "lens_power_d": _or_null(NUMBER),
            "aim_d": _or_null(NUMBER),
            "achieved_d": _or_null(NUMBER),
            "predicted_d": _or_null(NUMBER),
            "predicted_p90": _or_null(BAND),
            "in_the_bag_d": _or_null(NUMBER),
            "error_d": _or_null(NUMBER),
            "withheld_because": _or_null(TEXT),
            "carried": _keyed(keys, _closed({"share": NUMBER, "carried_d": NUMBER})),
            "says": _list(TEXT),
        }
    )


def _versions() -> Schema:
    return _closed(
        {
            "program": TEXT,
            "library": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
            "case": {"const": "zonule-case-1"},
            "practice": {"const": "zonule-practice-1"},
        }
    )


def plan_schema() -> Schema:
    """Return the JSON Schema (draft 2020-12) of a plan.

    ``risks``, ``tray`` and ``rules`` are empty lists in this version: nothing is said of them,
    which is not the same as there being none.

    Examples
    --------
    >>> plan_schema()["properties"]["schema"]
    {'const': 'zonule-plan-1'}
    """
    nothing_yet = _not_there("not_computed")
    source = _closed({"key": TEXT, "text": TEXT, "seen": TEXT})
    whole = _closed(
        {
            "schema": {"const": "zonule-plan-1"},
            "eye": _eye(),
            "power_withheld_because": _or_null(TEXT),
            "placements": {"type": "array", "items": _placement(), "minItems": 1},
            "expected": _list(_expected()),
            "risks": nothing_yet,
            "tray": nothing_yet,
            "rules": nothing_yet,
            "unknown": _list(_unknown()),
            "checks": _list(_check()),
            "first_eye": _or_null(_first_eye()),
            "sources": _list(source),
            "versions": _versions(),
            "caution": TEXT,
        }
    )
    return {"$schema": DIALECT, "$id": "zonule-plan-1", "title": "Zonule plan", **whole}
