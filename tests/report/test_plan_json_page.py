"""The page on the plan's JSON names every key of its schema, and none that is not there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from contracts.sources import ROOT
from zonule.findings.answers import Unknown
from zonule.formulas.power import FORMULAS
from zonule.library.placements import places
from zonule.library.reading import STATUSES
from zonule.report.plan_schema import plan_schema

PAGE = (ROOT / "docs" / "plan-json.md").read_text("utf-8")
NAMED = set(re.findall(r"`([a-z][a-z0-9_]*)`", PAGE))
VALUES = {
    "right",
    "left",
    "phakic",
    "pseudophakic",
    "aphakic",
    "best_chance",
    "nearest",
    "asymmetric",
    "first",
    "second",
    "second_operation",
    "null",
    "constant_of_its_own",
    "not_computed",
    "not_recorded",
    "zonule",
    "no_model_for_this_eye",
    "not_offered",
    "capsule",
    "rim",
    "rupture",
    "vitreous",
    "none",
    "here_too",
    "absent_here",
    "look",
    *STATUSES,
    *(one.value for one in Unknown),
}


def _keys(schema: Any) -> Iterator[str]:
    if isinstance(schema, dict):
        yield from schema.get("properties", {})
        for value in schema.values():
            yield from _keys(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from _keys(value)


KEYS = set(_keys(plan_schema()))


def test_every_key_is_on_the_page() -> None:
    assert len(KEYS) > 70
    assert KEYS - NAMED - {"value"} == set()


def test_the_page_names_no_key_that_is_not_there() -> None:
    assert NAMED - KEYS - VALUES - set(FORMULAS) - set(places()) == set()
