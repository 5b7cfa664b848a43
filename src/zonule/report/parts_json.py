"""The parts of a plan beside its powers, as plain data."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from zonule.findings.records import Overruling
from zonule.plan.parts import Parts, RuleReading
from zonule.practice.department import RuleDecision
from zonule.report.cornea_json import cornea_as_json, energy_as_json
from zonule.report.machine_json import machine_as_json
from zonule.report.map_json import map_as_json

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


def parts_as_json(parts: Parts) -> dict[str, Any]:
    """Return rules, tray, steps, machine, anaesthesia, nucleus and what is said."""
    return {
        "tray": [_without(_plain(one), "lens") for one in parts.tray],
        "rules": [_reading(one) for one in parts.rules if one.in_sight],
        "conflicts": [
            {
                "rules": list(one.conflict.rules),
                "question": one.conflict.question,
                "settled": one.conflict.settled,
                "source": one.conflict.source,
                "status": one.conflict.status,
            }
            for one in parts.conflicts
        ],
        "steps": [
            {
                "step": one.key,
                "order": one.order,
                "name": one.name,
                "says": one.says or None,
                "rules": [reading.rule.id for reading in one.rules],
                "clock_hours": [{"what": what, "hour": hour} for what, hour in one.clock_hours],
            }
            for one in parts.steps
        ],
        "clock_map": map_as_json(parts.clock_map),
        "machine": machine_as_json(parts),
        "anaesthesia": _plain(parts.anaesthesia),
        "nucleus": [_plain(one) for one in parts.nucleus],
        "to_say": [_plain(one) for one in parts.to_say],
        "triggers": [_plain(one) for one in parts.triggers],
        "cornea": cornea_as_json(parts.cornea),
        "energy": energy_as_json(parts.energy),
        "different": list(parts.different),
    }


def _plain(record: DataclassInstance) -> dict[str, Any]:
    """Return a record as plain data, its tuples as lists."""
    return {
        key: list(value) if isinstance(value, tuple) else value
        for key, value in _fields(record).items()
    }


def _fields(record: DataclassInstance) -> dict[str, Any]:
    return {
        one.name: [_plain(each) for each in value] if _records(value) else value
        for one in fields(record)
        for value in (getattr(record, one.name),)
    }


def _records(value: object) -> bool:
    return isinstance(value, tuple) and bool(value) and all(is_dataclass(one) for one in value)


def _without(row: dict[str, Any], *keys: str) -> dict[str, Any]:
    return {key: value for key, value in row.items() if key not in keys}


def _reading(reading: RuleReading) -> dict[str, Any]:
    rule = reading.rule
    return {
        "rule": rule.id,
        "state": reading.state,
        "would_be": reading.would_be,
        "stage": rule.stage,
        "step": rule.step or None,
        "title": rule.title,
        "do": list(rule.do),
        "avoid": list(rule.avoid),
        "why": rule.why,
        "sources": list(rule.sources),
        "strength": rule.strength,
        "status": rule.status,
        "because": list(reading.because),
        "waits_for": list(reading.waits_for),
        "decision": _decision(reading.decision),
        "overruling": _overruling(reading.overruling),
    }


def _decision(one: RuleDecision | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "decision": one.decision,
        "by": one.decided_by,
        "on": _day(one.decided_on),
        "reason": one.reason,
    }


def _overruling(one: Overruling | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {"by": one.by, "on": _day(one.on), "reason": one.reason}


def _day(day: date) -> str:
    return day.isoformat()
