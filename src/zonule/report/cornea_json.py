"""The endothelium and energy of a plan as plain data, and the schema of them."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Final, get_args

from zonule.plan.cornea_parts import Cornea, Outlook
from zonule.plan.energy_parts import Energy
from zonule.report.schema_shapes import (
    BAND,
    CHANCE,
    MAYBE_EMPTY,
    NUMBER,
    STATUS,
    TEXT,
    Schema,
    closed,
    list_of,
    or_not_there,
    or_null,
)

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

COUNT: Final[Schema] = {"type": "integer", "minimum": 0}
SPREAD: Final = closed({"middle": NUMBER, "half": BAND, "nine_in_ten": BAND})


def cornea_as_json(told: Cornea) -> dict[str, Any]:
    """Return the endothelium: now, after surgery, over the years."""
    found = _fields(told)
    why = found.pop("why_unknown")
    if told.count_per_mm2 is None:
        found["count_per_mm2"] = {"value": None, "why": why}
    return found | {"no_loss_because": told.no_loss_because or None}


def energy_as_json(told: Energy) -> dict[str, Any]:
    """Return energy at this density; of the own log how many cases there are, not each of them."""
    found = _fields(told)
    if told.log is not None:
        found["log"]["cases"] = len(told.log.cases)
    return found | {"why_none": told.why_none or None}


def _plain(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return _fields(value)
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    return value.isoformat() if isinstance(value, date) else value


def _fields(record: DataclassInstance) -> dict[str, Any]:
    return {one.name: _plain(getattr(record, one.name)) for one in fields(record)}


def cornea_schema() -> Schema:
    """Return the schema of the endothelium of a plan.

    Examples
    --------
    >>> cornea_schema()["properties"]["yearly_rate"]
    {'type': 'number'}
    """
    return closed(
        {
            "count_per_mm2": or_not_there(NUMBER),
            "waits_for": list_of(TEXT),
            "usual_per_mm2": or_null(NUMBER),
            "age_years": or_null(NUMBER),
            "after": or_null(_after()),
            "beside": or_null(_after()),
            "no_loss_because": or_null(TEXT),
            "loss_range": BAND,
            "thresholds": list_of(_threshold()),
            "series": list_of(_series()),
            "course": list_of(closed({"years": NUMBER, "count": SPREAD})),
            "yearly_rate": NUMBER,
            "yearly_rate_unoperated": NUMBER,
            "rupture_waits_for": TEXT,
            "rupture_says": TEXT,
        }
    )


def _after() -> Schema:
    group = closed({"key": TEXT, "label": TEXT, "eyes": COUNT, "share": CHANCE, "sd": NUMBER})
    return closed({"group": group, "count": SPREAD, "one_sd": BAND, "chance_of_large_loss": CHANCE})


def _threshold() -> Schema:
    return closed(
        {
            "key": TEXT,
            "label": TEXT,
            "below_per_mm2": NUMBER,
            "outlook": {"enum": list(get_args(Outlook))},
            "years": or_null(BAND),
            "years_middle": or_null(NUMBER),
            "source": TEXT,
            "status": STATUS,
        }
    )


def _series() -> Schema:
    return closed(
        {
            "label": TEXT,
            "share": CHANCE,
            "weeks": or_null(COUNT),
            "count_per_mm2": or_null(NUMBER),
            "source": TEXT,
            "status": STATUS,
        }
    )


def energy_schema() -> Schema:
    """Return the schema of ultrasound energy in a plan.

    Examples
    --------
    >>> energy_schema()["properties"]["waits_for"]["type"]
    'array'
    """
    return closed(
        {
            "measure": or_null(_measure()),
            "log": or_null(_log()),
            "nuclear_colour": or_null(NUMBER),
            "expected": or_null(SPREAD),
            "limit": or_null(NUMBER),
            "limit_share": CHANCE,
            "waits_for": list_of(TEXT),
            "why_none": or_null(TEXT),
            "printed": list_of(_printed()),
        }
    )


def _measure() -> Schema:
    texts = dict.fromkeys(("definition", "label", "unit", "machine", "mode", "tip"), TEXT)
    return closed(
        {
            **texts,
            "technique": MAYBE_EMPTY,
            "terms": list_of(closed({"mode": TEXT, "factor": NUMBER})),
            "source": MAYBE_EMPTY,
            "status": STATUS,
            "note": MAYBE_EMPTY,
        }
    )


def _log() -> Schema:
    return closed(
        {
            "file": TEXT,
            "cases": COUNT,
            "set_aside": list_of(closed({"line": COUNT, "because": TEXT})),
            "lowest_colour": or_null(NUMBER),
            "highest_colour": or_null(NUMBER),
            "line": list_of(closed({"nuclear_colour": NUMBER, "energy": SPREAD})),
            "more_cases_needed": COUNT,
            "firm": {"type": "boolean"},
        }
    )


def _printed() -> Schema:
    return closed(
        {
            "lens": TEXT,
            "technique": TEXT,
            "mean": NUMBER,
            "sd": or_null(NUMBER),
            "span": or_null(BAND),
            "eyes": or_null(COUNT),
            "source": TEXT,
            "status": STATUS,
        }
    )
