"""The machine of a plan as plain data, and the schema of it."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Final, get_args

from zonule.plan.machine_parts import StagePhysics, TopVacuum, Verdict
from zonule.plan.parts import Parts, StageSetting
from zonule.report.machine_words import CAUTION
from zonule.report.schema_shapes import (
    BAND,
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

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

IN_THE_SETTING: Final = (
    "stage",
    "name",
    "infusion_cm",
    "infusion_mmhg",
    "flow_ml_min",
    "vacuum_mmhg",
)
"""What a stage's setting says already."""
COUNT: Final[Schema] = {"type": "integer", "minimum": 0}


def machine_as_json(parts: Parts) -> dict[str, Any]:
    """Return profile, reason, the set-up, and every stage with what physics says of it."""
    found = parts.machine_physics
    return {
        "profile": parts.machine_profile,
        "because": parts.machine_because,
        "caution": CAUTION,
        "setup": _plain(found.setup),
        "stages": [_stage(one, found.of(one.stage)) for one in parts.machine],
    }


def _stage(setting: StageSetting, physics: StagePhysics | None) -> dict[str, Any]:
    told: dict[str, Any] = _plain(setting)
    more: dict[str, Any] = {} if physics is None else _plain(physics)
    return told | {key: value for key, value in more.items() if key not in IN_THE_SETTING}


def _plain(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return _fields(value)
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    return value.isoformat() if isinstance(value, date) else value


def _fields(record: DataclassInstance) -> dict[str, Any]:
    return {one.name: _plain(getattr(record, one.name)) for one in fields(record)}


def machine_schema() -> Schema:
    """Return the schema of the machine of a plan.

    Examples
    --------
    >>> sorted(machine_schema()["properties"])
    ['because', 'caution', 'profile', 'setup', 'stages']
    """
    return closed(
        {
            "profile": TEXT,
            "because": TEXT,
            "caution": TEXT,
            "setup": _setup(),
            "stages": list_of(_stage_schema()),
        }
    )


def _setup() -> Schema:
    irrigation = closed(
        {
            "verdict": {"enum": list(get_args(Verdict))},
            "linear_mmhg_per_ml_min": NUMBER,
            "square_mmhg_per_ml2_min2": NUMBER,
            "linear_sd": NUMBER,
            "square_sd": NUMBER,
            "covariance": NUMBER,
            "readings": COUNT,
        }
    )
    aspiration = closed(
        {
            "mmhg_per_ml_min": NUMBER,
            "log_sd": NUMBER,
            "readings": COUNT,
            "agree": {"type": "boolean"},
        }
    )
    days: Schema = {"type": "array", "items": DAY, "minItems": 2, "maxItems": 2}
    return closed(
        {
            "label": MAYBE_EMPTY,
            "offset_cm": or_null(NUMBER),
            "allowed_floor_mmhg": NUMBER,
            "own_floor": {"type": "boolean"},
            "irrigation": irrigation,
            "aspiration": aspiration,
            "measured": or_null(days),
            "blocked_k_per_s_per_w": NUMBER,
        }
    )


def _stage_schema() -> Schema:
    spread = closed({"middle": NUMBER, "half": BAND, "nine_in_ten": BAND})
    limits = list_of(closed({"infusion_cm": NUMBER, "highest_mmhg": spread}))
    return closed(
        {
            "profile": TEXT,
            "stage": TEXT,
            "name": TEXT,
            "infusion_cm": BAND,
            "infusion_mmhg": BAND,
            "flow_ml_min": BAND,
            "vacuum_mmhg": BAND,
            "power": TEXT,
            "sentence": TEXT,
            "sources": list_of(TEXT),
            "status": STATUS,
            "set_cm": or_null(BAND),
            "set_mmhg": or_null(BAND),
            "chamber_mmhg": spread,
            "chamber_by_flow_mmhg": BAND,
            "chamber_range_mmhg": BAND,
            "limits": limits,
            "top_vacuum": {"enum": list(get_args(TopVacuum))},
            "top_vacuum_needs_cm": NUMBER,
            "heat_k_per_w": or_null(BAND),
        }
    )
