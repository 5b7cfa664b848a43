"""A plan as JSON, ``zonule-plan-1``: units in the keys, nothing rounded, nothing unsaid."""

from __future__ import annotations

import hashlib
from datetime import date
from importlib import resources
from typing import Any, Final

from zonule import __version__
from zonule.assessment.caveat import Caveat
from zonule.errors import Problem
from zonule.findings.answers import Unknown
from zonule.findings.records import Case
from zonule.library.reading import table_names
from zonule.plan.records import Expected, Outstanding, Plan, Rung
from zonule.plan.wish import Wish
from zonule.practice.first_eye import FirstEye
from zonule.report import sentences
from zonule.report.parts_json import parts_as_json
from zonule.report.risks_json import risks_as_json
from zonule.report.sources import sources_of

SCHEMA: Final = "zonule-plan-1"
NOT_COMPUTED: Final = {"value": None, "why": "not_computed"}
"""What this version says nothing of; not the same as none."""
NO_RISKS: Final = {"value": None, "why": "no_model_for_this_eye"}
"""The published models are those of eyes that start with their own lens."""
NOT_RECORDED: Final = {"value": None, "why": Unknown.NOT_RECORDED.value}


def as_json(plan: Plan) -> dict[str, Any]:
    """Return a plan as plain data."""
    return {
        "schema": SCHEMA,
        "eye": _eye(plan),
        "wish": _wish(plan.wish),
        "in_hand": plan.in_hand.place.key if plan.in_hand else None,
        "power_withheld_because": plan.power_withheld or None,
        "placements": [_rung(rung) for rung in plan.rungs],
        "expected": [_expected(row) for row in plan.ladder],
        "risks": NO_RISKS if plan.risks is None else risks_as_json(plan.risks),
        **parts_as_json(plan.parts),
        "unknown": [_outstanding(item) for item in plan.outstanding],
        "checks": [_problem(problem) for problem in plan.problems],
        "first_eye": _first_eye(plan),
        "sources": [
            {"key": one.key, "text": one.text, "seen": one.seen} for one in sources_of(plan)
        ],
        "versions": {
            "program": __version__,
            "library": library_edition(),
            "case": "zonule-case-1",
            "practice": "zonule-practice-1",
        },
        "caution": sentences.CAUTION,
    }


def _wish(wish: Wish) -> dict[str, Any]:
    """Return what was asked for beside the files."""
    return {
        "hand": wish.hand or None,
        "aim_d": wish.aim_d,
        "aim_rule": wish.aim_rule or None,
        "lens": wish.lens or None,
        "power_d": wish.power_d,
    }


def library_edition() -> str:
    """Return SHA-256 over every table of the library, so that a plan says what it rests on."""
    digest = hashlib.sha256()
    root = resources.files("zonule.library")
    for name in table_names():
        digest.update(name.encode())
        digest.update(root.joinpath(f"{name}.toml").read_bytes())
    return digest.hexdigest()


def _eye(plan: Plan) -> dict[str, Any]:
    case = plan.case
    return {
        "side": case.eye_to_do,
        "record_number": case.patient.record_number,
        "aim_d": case.aim.spherical_equivalent_d,
        "aim_rule": case.aim.rule,
        "lens_status": _plain(case.operative_eye.lens_status),
        "surgery_planned_on": _plain(case.surgery_planned_on),
        "made_on": plan.made_on.isoformat(),
        "order": _order(case),
    }


def _order(case: Case) -> str:
    if case.operative_eye.operation is not None:
        return "second_operation"
    return "first" if case.fellow_eye.operation is None else "second"


def _plain(answer: Any) -> Any:
    if isinstance(answer, Unknown):
        return {"value": None, "why": answer.value}
    return answer.isoformat() if isinstance(answer, date) else answer


def _expected(row: Expected) -> dict[str, Any]:
    return {
        "power_d": row.power_d,
        "refraction_d": row.refraction_d,
        "bands": {name: list(band) for name, band in row.bands.items()},
        "within_0_50": row.within_0_50,
        "within_1_00": row.within_1_00,
        "hyperopic": {"above_0": row.above_0, "above_0_50": row.above_0_50},
        "kept": row.kept,
    }


_EMPTY: Final = {
    "power_d": None,
    "refraction_d": None,
    "bands": None,
    "within_0_50": None,
    "within_1_00": None,
    "hyperopic": None,
    "in_room": None,
}


def _rung(rung: Rung) -> dict[str, Any]:
    told: dict[str, Any] = {
        "placement": rung.place.placement,
        "variant": rung.place.variant,
        "order": rung.order if rung.offered else None,
        "label": rung.place.label,
        "happens_when": rung.place.happens_when,
        "lens": rung.lens.name if rung.lens else None,
        **_EMPTY,
        "by_formula": {},
        "silent_formulas": {},
        "likelihood": _no_likelihood(rung) if rung.likelihood is None else rung.likelihood,
        "likelihood_status": None if rung.likelihood is None else "assumption",
        "likelihood_range": _no_likelihood(rung) if rung.likely_between is None else _range(rung),
        "move_status": rung.place.move_status,
        "spread_status": rung.place.spread_status,
        "residual_cylinder_d": NOT_COMPUTED,
        "wound_mm": NOT_RECORDED if rung.place.wound_mm is None else rung.place.wound_mm,
        "refused_because": rung.refused_because or None,
        "waits_for": rung.waits_for or None,
        "caveats": [_caveat(caveat) for caveat in rung.caveats],
        "why": f"placements.{rung.place.key}",
    }
    return told | _predicted(rung)


def _no_likelihood(rung: Rung) -> dict[str, Any]:
    return NO_RISKS if rung.offered else {"value": None, "why": "not_offered"}


def _range(rung: Rung) -> list[float]:
    assert rung.likely_between is not None
    return [rung.likely_between.low, rung.likely_between.high]


def _predicted(rung: Rung) -> dict[str, Any]:
    if rung.chosen is None or rung.prediction is None or rung.in_stock is None:
        return {}
    at = rung.prediction.index_of(rung.chosen.power_d)
    told = _expected(rung.chosen)
    del told["kept"]
    return told | {
        "in_room": rung.in_stock.kept == "in_room",
        "kept": rung.in_stock.kept,
        "device_identifier": rung.in_stock.device_identifier,
        "exact_power_d": rung.exact_power_d,
        **_place_of(rung),
        "at_bounds_d": [rung.low_move_d, rung.high_move_d],
        "core_sd_d": float(rung.prediction.budget.total_sd_d[at]),
        "tail_weight": rung.prediction.tail_weight,
        "by_formula": {
            use.name: float(rung.prediction.by_formula_d[at, column])
            for column, use in enumerate(rung.prediction.optics.uses)
        },
        "silent_formulas": {use.name: use.says for use in rung.prediction.uses if not use.applies},
    }


def _place_of(rung: Rung) -> dict[str, Any]:
    """Return the move against the bag, or the constant a place goes by instead."""
    if rung.place.a_constant is None:
        return {"move_mm": rung.place.move_mm}
    assert rung.prediction is not None
    used = rung.prediction.optics.uses[0].values["a_constant"]
    return {"move_mm": {"value": None, "why": "constant_of_its_own"}, "a_constant": used}


def _caveat(caveat: Caveat) -> dict[str, Any]:
    return {
        "name": caveat.name,
        "says": caveat.says,
        "source": caveat.source,
        "status": caveat.status,
        "stops": caveat.stops,
    }


def _outstanding(item: Outstanding) -> dict[str, Any]:
    return {
        "finding": item.finding,
        "label": item.label,
        "changes": item.changes,
        "why": item.why_unknown,
        "rank": item.rank,
        "rules": list(item.rules),
    }


def _problem(problem: Problem) -> dict[str, Any]:
    return {
        "check": problem.check,
        "field": problem.field,
        "eye": problem.eye,
        "sentence": problem.sentence(),
        "value": problem.value,
        "limit": problem.limit,
        "remedy": problem.remedy,
        "severity": problem.severity,
        "stops": problem.stops,
        "source": problem.source,
        "status": problem.status,
    }


def _first_eye(plan: Plan) -> dict[str, Any] | None:
    told: FirstEye | None = plan.first_eye
    if told is None:
        return None
    return {
        "side": told.side,
        "place": told.place.key if told.place else None,
        "known_by": told.known_by or None,
        "lens": told.lens_name or None,
        "lens_power_d": told.lens_power_d,
        "aim_d": told.aim_d,
        "achieved_d": told.achieved_d,
        "predicted_d": told.predicted_d,
        "predicted_p90": list(told.predicted_band_d) if told.predicted_band_d else None,
        "in_the_bag_d": told.in_the_bag_d,
        "error_d": told.error_d,
        "withheld_because": told.withheld or None,
        "carried": _carried(plan),
        "says": list(sentences.first_eye_lines(plan)),
    }


def _carried(plan: Plan) -> dict[str, Any]:
    """Return what is carried to each place, for the power chosen there."""
    told = {}
    for rung in plan.rungs:
        if rung.prediction is None or rung.prediction.carried is None or rung.chosen is None:
            continue
        at = rung.prediction.index_of(rung.chosen.power_d)
        told[rung.place.key] = {
            "share": float(rung.prediction.carried.share[at]),
            "carried_d": float(rung.prediction.carried.mean_d[at]),
        }
    return told
