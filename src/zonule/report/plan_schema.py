"""The JSON Schema of a plan, ``zonule-plan-1``: what another program may rely on."""

from __future__ import annotations

from typing import Final

from zonule.errors import SEVERITIES
from zonule.formulas.power import FORMULAS
from zonule.library.placements import places
from zonule.report.parts_schema import parts_schema
from zonule.report.risks_schema import risks_schema
from zonule.report.schema_shapes import (
    BAND,
    CHANCE,
    DAY,
    DIALECT,
    MAYBE_EMPTY,
    NUMBER,
    STATUS,
    TEXT,
    Schema,
    closed,
    keyed,
    list_of,
    or_not_there,
    or_null,
)


def _eye() -> Schema:
    return closed(
        {
            "side": {"enum": ["right", "left"]},
            "record_number": TEXT,
            "aim_d": NUMBER,
            "aim_rule": {"enum": ["best_chance", "nearest", "asymmetric"]},
            "lens_status": or_not_there({"enum": ["phakic", "pseudophakic", "aphakic"]}),
            "surgery_planned_on": or_not_there(DAY),
            "made_on": DAY,
            "order": {"enum": ["first", "second", "second_operation"]},
        }
    )


def _wish() -> Schema:
    return closed(
        {
            "hand": or_null({"enum": list(places())}),
            "aim_d": or_null(NUMBER),
            "aim_rule": or_null({"enum": ["best_chance", "nearest", "asymmetric"]}),
            "lens": or_null(TEXT),
            "power_d": or_null(NUMBER),
        }
    )


BANDS: Final = closed({"p50": BAND, "p80": BAND, "p90": BAND})
HYPEROPIC: Final = closed({"above_0": CHANCE, "above_0_50": CHANCE})
KEPT: Final[Schema] = {"enum": ["in_room", "to_fetch", "to_order"]}


def _expected() -> Schema:
    return closed(
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
    "move_mm": or_not_there(NUMBER, "constant_of_its_own"),
    "a_constant": NUMBER,
    "at_bounds_d": BAND,
    "core_sd_d": {"type": "number", "exclusiveMinimum": 0},
    "tail_weight": CHANCE,
}
"""Keys that are absent where a place has no power."""


NO_MODEL: Final = "no_model_for_this_eye"


def _placement() -> Schema:
    formulas = list(FORMULAS)
    always: Schema = {
        "placement": {"enum": sorted({one.placement for one in places().values()})},
        "variant": or_null({"enum": [o.variant for o in places().values() if o.variant]}),
        "order": or_null({"type": "integer", "minimum": 0}),
        "label": TEXT,
        "happens_when": TEXT,
        "lens": or_null(TEXT),
        **{key: or_null(value) for key, value in WITH_POWER.items()},
        "by_formula": keyed(formulas, NUMBER),
        "silent_formulas": keyed(formulas, TEXT),
        "likelihood": or_not_there(CHANCE, NO_MODEL, "not_offered"),
        "likelihood_status": or_null(STATUS),
        "likelihood_range": or_not_there(BAND, NO_MODEL, "not_offered"),
        "move_status": STATUS,
        "spread_status": STATUS,
        "residual_cylinder_d": or_not_there(NUMBER, "not_computed"),
        "wound_mm": or_not_there({"type": "number", "exclusiveMinimum": 0}),
        "refused_because": or_null(TEXT),
        "waits_for": or_null(TEXT),
        "caveats": list_of(_caveat()),
        "why": TEXT,
    }
    whole = closed(always)
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
    return closed(
        {
            "name": TEXT,
            "says": TEXT,
            "source": TEXT,
            "status": STATUS,
            "stops": {"enum": ["signature", "nothing"]},
        }
    )


def _unknown() -> Schema:
    return closed(
        {
            "finding": TEXT,
            "label": TEXT,
            "changes": TEXT,
            "why": TEXT,
            "rank": {"type": "integer", "minimum": 0},
            "rules": list_of(TEXT),
        }
    )


def _check() -> Schema:
    return closed(
        {
            "check": TEXT,
            "field": TEXT,
            "eye": or_null({"enum": ["right", "left"]}),
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
    return closed(
        {
            "side": {"enum": ["right", "left"]},
            "place": or_null({"enum": keys}),
            "known_by": or_null(TEXT),
            "lens": or_null(TEXT),
            "lens_power_d": or_null(NUMBER),
            "aim_d": or_null(NUMBER),
            "achieved_d": or_null(NUMBER),
            "predicted_d": or_null(NUMBER),
            "predicted_p90": or_null(BAND),
            "in_the_bag_d": or_null(NUMBER),
            "error_d": or_null(NUMBER),
            "withheld_because": or_null(TEXT),
            "carried": keyed(keys, closed({"share": NUMBER, "carried_d": NUMBER})),
            "says": list_of(TEXT),
        }
    )


def _versions() -> Schema:
    return closed(
        {
            "program": TEXT,
            "library": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
            "case": {"const": "zonule-case-1"},
            "practice": {"const": "zonule-practice-1"},
        }
    )


def plan_schema() -> Schema:
    """Return the JSON Schema (draft 2020-12) of a plan.

    ``risks`` says ``no_model_for_this_eye`` where the eye does not start with its own lens.

    Examples
    --------
    >>> plan_schema()["properties"]["schema"]
    {'const': 'zonule-plan-1'}
    """
    source = closed({"key": TEXT, "text": TEXT, "seen": TEXT})
    whole = closed(
        {
            "schema": {"const": "zonule-plan-1"},
            "eye": _eye(),
            "wish": _wish(),
            "in_hand": or_null({"enum": list(places())}),
            "power_withheld_because": or_null(TEXT),
            "placements": {"type": "array", "items": _placement(), "minItems": 1},
            "expected": list_of(_expected()),
            "risks": or_not_there(risks_schema(), NO_MODEL),
            **parts_schema(),
            "unknown": list_of(_unknown()),
            "checks": list_of(_check()),
            "first_eye": or_null(_first_eye()),
            "sources": list_of(source),
            "versions": _versions(),
            "caution": TEXT,
        }
    )
    return {"$schema": DIALECT, "$id": "zonule-plan-1", "title": "Zonule plan", **whole}
