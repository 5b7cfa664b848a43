"""The risks of a plan as JSON: rupture, its factors, roots, states, outcomes, the second eye."""

from __future__ import annotations

from typing import Any

from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.factors import FactorReading
from zonule.assessment.risk.outcomes import Outcome
from zonule.assessment.risk.second_eye import SecondEye
from zonule.plan.risks import Risks
from zonule.plan.roots.records import CapsuleState, Root


def risks_as_json(risks: Risks) -> dict[str, Any]:
    """Return the risks of a plan as plain data."""
    return {
        "rupture": _rupture(risks),
        "compared": [
            {
                "group": one.level.level,
                "value": one.value,
                "held_at_reference": one.held_at_reference,
            }
            for one in risks.rupture.comparisons
        ],
        "mixed_fits": risks.mixed,
        "second_eye": _second_eye(risks.second_eye) if risks.second_eye else None,
        "roots": [_root(one) for one in risks.roots.roots],
        "states": [_state(one) for one in risks.roots.states],
        "outcomes": [_outcome(one) for one in risks.outcomes],
    }


def _rupture(risks: Risks) -> dict[str, Any]:
    one = risks.rupture
    return {
        "value": one.value,
        "band_p90": list(one.band),
        "range": [one.low, one.high],
        "by_model": one.of_model.value,
        "model": one.of_model.model.id,
        "rebased_to": one.years.id,
        "definition": one.years.definition,
        "status": one.of_model.model.baseline.status,
        "factors": [_factor(factor) for factor in one.of_model.factors],
        "waits_for": list(one.waits_for),
        "not_in_figure": list(one.not_in_figure),
        "own": {
            "cases": one.own.cases,
            "ruptures": one.own.ruptures,
            "expected_ruptures": one.own.expected_ruptures,
            "shift_log_odds": one.own.mean,
            "shift_sd": one.own.sd,
            "spread_between_surgeons": one.own.spread,
            "counted_from": one.own.counted_from or None,
            "rows_set_aside": list(one.own.set_aside),
        },
        "why": "risks.rupture",
    }


def _factor(one: FactorReading) -> dict[str, Any]:
    return {
        "factor": one.factor.name,
        "levels": [level.level for level in one.possible],
        "ratios": [level.ratio for level in one.possible],
        "waits_for": list(one.waits_for),
    }


def _second_eye(one: SecondEye) -> dict[str, Any]:
    return {
        "first_eye_ruptured": one.ruptured,
        "cause": one.cause or None,
        "what_if": [{"spread": each.spread, "value": each.value} for each in one.what_if],
        "shared_causes": [
            {"id": each.id, "finding": each.finding, "found": each.found} for each in one.shared
        ],
    }


def _chance(one: Chance | None) -> dict[str, Any] | None:
    return None if one is None else {"value": one.value, "range": [one.low, one.high]}


def _root(one: Root) -> dict[str, Any]:
    return {
        "root": one.key,
        "label": one.label,
        "value": one.chance.value,
        "range": [one.chance.low, one.chance.high],
        "how": one.how,
        "status": one.status,
        "waits_for": list(one.waits_for),
        "why": f"risks.roots.{one.key}",
    }


def _state(one: CapsuleState) -> dict[str, Any]:
    return {"says": one.says, "answers": dict(one.answers), "share": one.share, "place": one.place}


def _outcome(one: Outcome) -> dict[str, Any]:
    return {
        "outcome": one.id,
        "label": one.label,
        "window": one.window,
        "branch": one.branch,
        "without": _chance(one.without),
        "after": _chance(one.after),
        "here": _chance(one.here),
        "status": one.status,
        "waits_for": list(one.waits_for),
        "waits_for_rows": list(one.waits_for_rows),
        "why": f"risks.outcomes.{one.id}",
    }
