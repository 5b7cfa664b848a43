"""Every factor of rupture in this eye, and what each published table makes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from zonule.assessment.risk.factors import FactorReading, read_factor, with_level
from zonule.findings.facts import facts_of
from zonule.library.reading import table
from zonule.library.risk_models import Factor, Model, model
from zonule.plan.records import Plan
from zonule.plan.risks import Risks
from zonule.report import risk_words
from zonule.report.risk_view.records import FactorRow

NOT_THERE = "–"


def _beside() -> dict[str, Any]:
    found: dict[str, Any] = table("risk/choices")["beside"]
    return found


def other_models() -> tuple[Model, ...]:
    """Return the tables that stand beside the headline model."""
    return tuple(model(key) for key in _beside()["models"])


def table_names(risks: Risks) -> tuple[str, ...]:
    """Return what each column of ratios is, the headline model first."""
    return (risks.rupture.of_model.model.name, *(one.name for one in other_models()))


def factor_rows(plan: Plan, risks: Risks) -> tuple[FactorRow, ...]:
    """Return a row for each factor that a table has and that this eye has, or may have."""
    headline = {one.factor.name: one for one in risks.rupture.of_model.factors}
    others = [_readings(one, plan) for one in other_models()]
    names = dict.fromkeys((*headline, *(name for readings in others for name in readings)))
    rows = [_row(headline.get(name), [one.get(name) for one in others]) for name in names]
    return tuple(row for row in rows if row is not None)


def _readings(one: Model, plan: Plan) -> dict[str, FactorReading]:
    """Return the factors of a table by the name that the headline model has for them."""
    lookup = facts_of(plan.case, plan.case.eye_to_do)
    same: Mapping[str, str] = _beside()["same_as"]
    return {
        same.get(factor.name, factor.name): _reading(factor, plan, lookup)
        for factor in one.factors
        if not factor.comparison
    }


def _reading(factor: Factor, plan: Plan, lookup: Any) -> FactorReading:
    wanted = _beside()["planned"].get(factor.name)
    if factor.known_from == "plan" and wanted is not None:
        planned = any(
            item.key in wanted and item.rules and not item.waits_for for item in plan.parts.tray
        )
        return with_level(FactorReading(factor, factor.levels), "yes" if planned else "no")
    return read_factor(factor, lookup)


def _row(mine: FactorReading | None, others: Sequence[FactorReading | None]) -> FactorRow | None:
    every = [one for one in (mine, *others) if one is not None]
    if mine is not None and mine.factor.comparison:
        return None
    if not any(_speaks(one) for one in every):
        return None
    first = every[0]
    planned = first.factor.known_from == "plan"
    return FactorRow(
        factor=first.factor.label,
        here="planned" if planned else risk_words.here(first),
        counts=mine is not None,
        ratio=_cell(mine),
        others=tuple(_cell(one) for one in others),
    )


def _speaks(one: FactorReading) -> bool:
    """Tell whether a factor moves the risk of this eye, or may."""
    if one.not_in_record:
        return False
    return not one.possible or any(not level.reference for level in one.possible)


def _cell(one: FactorReading | None) -> str:
    """Return the ratio of this eye in one table; what was not to be read is waited for."""
    if one is None or one.not_in_record:
        return NOT_THERE
    if one.missing:
        return "waiting"
    ratios = dict.fromkeys(f"{level.ratio:.2f}" for level in one.possible if level.ratio)
    return f"× {' or '.join(ratios)}" if ratios else NOT_THERE
