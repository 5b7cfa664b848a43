"""Eyes told by their findings: written as a case file, read by the real reader, asked by name."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Final

from intake.documents import to_toml
from zonule.findings.answers import Answer
from zonule.findings.conditions import Lookup
from zonule.findings.facts import facts_of
from zonule.findings.fields import sections
from zonule.findings.records import Case
from zonule.intake.case_file import read_case
from zonule.library.reading import table
from zonule.plan.parts import RuleReading
from zonule.plan.rules import read_rules
from zonule.practice.department import RuleDecision

CASES: Final[dict[str, dict[str, Any]]] = tomllib.loads(
    Path(__file__).with_name("rule_cases.toml").read_text("utf-8")
)
SURGERY: Final = date(2026, 12, 10)
SHORT_NAMES: Final = {
    "acd_mm": "anterior_chamber_depth_mm",
    "cct_um": "corneal_thickness_um",
    "wtw_mm": "white_to_white_mm",
}
"""Measurements that the program knows by a shorter name."""
BESIDE_THE_FILE: Final = ("names", "fellow", "theatre", "plan")
WHO, ON, REASON = "A. Surgeon", date(2026, 12, 1), "opens with viscoelastic"
NO_SULCUS: Final[dict[str, Answer]] = {"sulcus_offered": False}
"""What a plan says of itself unless an entry has it otherwise; it always says one or the other."""


def document_of(entry: Mapping[str, Any]) -> dict[str, Any]:
    """Return an entry as the content of a case file: the eye to do, the other eye, the patient."""
    found: dict[str, Any] = {
        "schema": "zonule-case-1",
        "eye_to_do": "left",
        "patient": {"record_number": "demo-1"},
        "aim": {"spherical_equivalent_d": -0.25},
        "left": {},
    }
    own = {key: value for key, value in entry.items() if key not in BESIDE_THE_FILE}
    if "age" in own:
        found["surgery_planned_on"] = SURGERY
        found["patient"]["born"] = SURGERY.replace(year=SURGERY.year - own.pop("age"))
    for key in [key for key in own if key in sections("case")["patient"]]:
        found["patient"][key] = own.pop(key)
    found["left"] = _section(own)
    if "fellow" in entry:
        found["right"] = _section(entry["fellow"])
    return found


def _section(told: Mapping[str, Any]) -> dict[str, Any]:
    """Return one eye's section; measurements go into one sitting, made through the own lens."""
    section: dict[str, Any] = {}
    sitting: dict[str, Any] = {}
    for key, value in told.items():
        long = SHORT_NAMES.get(key, key)
        (sitting if long in sections("case")["biometry"] else section)[long] = value
    if sitting:
        section["biometry"] = [{"measured_as": "phakic", **sitting}]
    return section


@cache
def _case_of(text: str) -> Case:
    return read_case(text.encode(), name="rule case")


def read(document: dict[str, Any]) -> Case:
    """Return the case that a document holds, through the reader of case files."""
    return _case_of(to_toml(document))


def lookup_of(case: Case, beside: Mapping[str, Answer]) -> Lookup:
    """Return every finding of the eye to do, and what is told beside the case file."""
    of_the_file = facts_of(case, case.eye_to_do)

    def found(name: str) -> Answer:
        return beside[name] if name in beside else of_the_file(name)

    return found


def eye(entry: Mapping[str, Any]) -> tuple[Case, Lookup]:
    """Return the case of an entry, and a lookup that also knows theatre and plan."""
    theatre = entry.get("theatre", {})
    strange = set(theatre) - set(table("theatre_findings")["finding"])
    assert not strange, f"not seen only in theatre: {strange}"
    case = read(document_of(entry))
    return case, lookup_of(case, {**NO_SULCUS, **theatre, **entry.get("plan", {})})


def set_aside(entry: Mapping[str, Any], *keys: str) -> Case:
    """Return the case of an entry in which the surgeon set rules aside, as the file holds it."""
    document = document_of(entry)
    if keys:
        document["left"]["overruled"] = [
            {"rule": key, "by": WHO, "on": ON, "reason": REASON} for key in keys
        ]
    return read(document)


def decided(decision: str, rule: str = "D-03", **told: Any) -> RuleDecision:
    """Return a decision of the department about a rule."""
    return RuleDecision(rule, decision, "B. Lead", date(2026, 3, 1), "our own kit", **told)


def told_of(
    key: str, entry: Mapping[str, Any], *decisions: RuleDecision, overruled: str = ""
) -> RuleReading:
    """Return one rule's reading among all of an eye."""
    case = set_aside(entry, *filter(None, [overruled]))
    lookup = lookup_of(case, NO_SULCUS)
    return next(one for one in read_rules(case, lookup, decisions) if one.rule.id == key)
