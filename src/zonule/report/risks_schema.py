"""The JSON Schema of the risks of a plan."""

from __future__ import annotations

from typing import Final

from zonule.library.placements import places
from zonule.library.reading import table
from zonule.library.risk_models import models, recalibrations
from zonule.report.schema_shapes import (
    BAND,
    CHANCE,
    NUMBER,
    STATUS,
    TEXT,
    Schema,
    closed,
    list_of,
    or_null,
)

COUNT: Final[Schema] = {"type": "integer", "minimum": 0}


def risks_schema() -> Schema:
    """Return the shape of the risks of an eye that starts with its own lens."""
    group = closed({"group": TEXT, "value": CHANCE, "held_at_reference": {"type": "boolean"}})
    state = closed(
        {
            "says": TEXT,
            "answers": {"type": "object", "additionalProperties": TEXT},
            "share": CHANCE,
            "place": {"enum": list(places())},
        }
    )
    return closed(
        {
            "rupture": _rupture(),
            "compared": list_of(group),
            "mixed_fits": or_null(CHANCE),
            "second_eye": or_null(_second_eye()),
            "roots": list_of(_root()),
            "states": list_of(state),
            "outcomes": list_of(_outcome()),
        }
    )


def _rupture() -> Schema:
    headline = table("risk/choices")["headline"]["model"]
    factor = closed(
        {
            "factor": TEXT,
            "levels": list_of(TEXT),
            "ratios": list_of(or_null(NUMBER)),
            "waits_for": list_of(TEXT),
        }
    )
    own = closed(
        {
            "cases": COUNT,
            "ruptures": COUNT,
            "expected_ruptures": NUMBER,
            "shift_log_odds": NUMBER,
            "shift_sd": NUMBER,
            "spread_between_surgeons": NUMBER,
            "counted_from": or_null(TEXT),
            "rows_set_aside": list_of(TEXT),
        }
    )
    return closed(
        {
            "value": CHANCE,
            "band_p90": BAND,
            "range": BAND,
            "by_model": CHANCE,
            "model": {"enum": list(models())},
            "rebased_to": {"enum": list(recalibrations(headline))},
            "definition": TEXT,
            "status": STATUS,
            "factors": list_of(factor),
            "waits_for": list_of(TEXT),
            "not_in_figure": list_of(TEXT),
            "own": own,
            "why": TEXT,
        }
    )


def _second_eye() -> Schema:
    what_if = closed({"spread": NUMBER, "value": CHANCE})
    found = {"enum": ["here_too", "absent_here", "look"]}
    cause = closed({"id": TEXT, "finding": TEXT, "found": found})
    return closed(
        {
            "first_eye_ruptured": or_null({"type": "boolean"}),
            "cause": or_null({"enum": ["shared", "technique", "chance"]}),
            "what_if": list_of(what_if),
            "shared_causes": list_of(cause),
        }
    )


def _root() -> Schema:
    return closed(
        {
            "root": {"enum": ["capsule", "zonule", "rim"]},
            "label": TEXT,
            "value": CHANCE,
            "range": BAND,
            "how": TEXT,
            "status": STATUS,
            "waits_for": list_of(TEXT),
            "why": TEXT,
        }
    )


def _outcome() -> Schema:
    chance = or_null(closed({"value": CHANCE, "range": BAND}))
    return closed(
        {
            "outcome": {"enum": [row["id"] for row in table("risk/outcomes")["outcome"]]},
            "label": TEXT,
            "window": TEXT,
            "branch": {"enum": ["rupture", "vitreous", "none"]},
            "without": chance,
            "after": chance,
            "here": chance,
            "status": STATUS,
            "waits_for": list_of(TEXT),
            "waits_for_rows": list_of(TEXT),
            "why": TEXT,
        }
    )
