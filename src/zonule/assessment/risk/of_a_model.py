"""The risk that one model gives one eye: a value, and the range over what is not known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product
from math import prod

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.risk.factors import FactorReading, read_factor, with_level
from zonule.assessment.risk.together import together
from zonule.findings.conditions import Lookup
from zonule.formulas.risk.hazard import risk_from_hazard
from zonule.formulas.risk.mixture import reference_risk_of_mix
from zonule.formulas.risk.odds import from_probability, risk_from_odds
from zonule.formulas.risk.relative import risk_from_relative
from zonule.library.risk_models import Factor, Level, Model

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ModelRisk:
    """What a model says of an eye.

    With every finding known ``low``, ``value`` and ``high`` are one figure. With some unknown
    ``value`` is the mean over their levels at the stated prevalences, and the range holds every
    way the unknown may turn out. A model with a missing row says nothing and names the row.
    """

    model: Model
    factors: tuple[FactorReading, ...]
    value: float | None = None
    low: float | None = None
    high: float | None = None
    waits_for_rows: tuple[str, ...] = ()
    """Rows of the model's own table that nobody has typed in."""
    cut_at_one: bool = False
    """Relative risks multiplied beyond 1 somewhere in the range, and were cut there."""
    completions: Array = field(default_factory=lambda: np.array([]), repr=False)
    """The risk at each way the unknown may turn out, with ``weights`` beside it."""
    weights: Array = field(default_factory=lambda: np.array([]), repr=False)

    @property
    def waits_for(self) -> tuple[str, ...]:
        """Findings that would narrow the range."""
        names = (name for one in self.factors for name in one.waits_for)
        return tuple(dict.fromkeys(names))


def risk_of(
    model: Model,
    lookup: Lookup,
    *,
    set_to: Mapping[str, str] | None = None,
    baseline: float | None = None,
    ratio_of: Mapping[tuple[str, str], float] | None = None,
) -> ModelRisk:
    """Return what a model says of one eye.

    Parameters
    ----------
    model
        A model of the library.
    lookup
        Every finding of the eye, by the name that rules use.
    set_to
        Factors set to a level by the caller, such as the grade of the operator. A factor that
        compares groups and is not named stays at its reference level.
    baseline
        Instead of the model's own: odds, risk or cumulative risk as its kind wants.
    ratio_of
        Ratios to use instead of the printed ones, by factor and level: the ends of an interval.
    """
    readings = tuple(
        _reading(_with_ratios(factor, ratio_of or {}), lookup, set_to or {})
        for factor in model.factors
    )
    base = model.baseline.value if baseline is None else baseline
    rows: tuple[str, ...] = () if base is not None else ("baseline",)
    rows += tuple(f"{one.factor.label}: {level.label}" for one in readings for level in one.missing)
    uncounted = any(not one.possible for one in readings)
    if base is None or rows or uncounted:
        return ModelRisk(model, readings, waits_for_rows=rows)
    ratios, weights = _completions(readings, lookup)
    risks, cut = _risks(model.kind, base, ratios)
    return ModelRisk(
        model,
        readings,
        value=float(risks @ weights),
        low=float(risks.min()),
        high=float(risks.max()),
        cut_at_one=cut,
        completions=risks,
        weights=weights,
    )


def _with_ratios(factor: Factor, ratio_of: Mapping[tuple[str, str], float]) -> Factor:
    levels = tuple(
        replace(level, ratio=ratio_of.get((factor.name, level.level), level.ratio))
        for level in factor.levels
    )
    return replace(factor, levels=levels)


def _reading(factor: Factor, lookup: Lookup, named: Mapping[str, str]) -> FactorReading:
    if factor.name in named:
        return with_level(FactorReading(factor, factor.levels), named[factor.name])
    return read_factor(factor, lookup)


def _shares(possible: Sequence[Level]) -> list[float]:
    """Return how often each level is met among those that are possible.

    Levels without a stated prevalence share what the others leave; where none has one, all alike.
    """
    given = [level.prevalence for level in possible]
    without = given.count(None)
    rest = max(1.0 - sum(one for one in given if one is not None), 0.0)
    shares = [rest / without if one is None else one for one in given]
    total = sum(shares)
    if total == 0.0:
        return [1.0 / len(shares)] * len(shares)
    return [share / total for share in shares]


def _completions(readings: Sequence[FactorReading], lookup: Lookup) -> tuple[Array, Array]:
    """Return the product of ratios, and the weight, of every way the unknown may turn out."""
    shares = [dict(zip(_names(one), _shares(one.possible), strict=True)) for one in readings]
    allowed = together(readings, lookup)
    every = [way for way in product(*(one.possible for one in readings)) if allowed(way)]
    ratios = np.array([prod(level.ratio or 0.0 for level in way) for way in every])
    weights = np.array(
        [
            prod(share[level.level] for share, level in zip(shares, way, strict=True))
            for way in every
        ]
    )
    return ratios, weights / weights.sum()


def _names(reading: FactorReading) -> list[str]:
    return [level.level for level in reading.possible]


def _risks(kind: str, baseline: float, ratios: Array) -> tuple[Array, bool]:
    """Return the risks, and whether relative risks had to be cut where they multiply beyond 1."""
    each = ratios[:, None]
    if kind == "odds":
        return np.asarray(risk_from_odds(baseline_odds=baseline, ratios=each)), False
    if kind == "hazard":
        return np.asarray(risk_from_hazard(cumulative_risk=baseline, ratios=each)), False
    within = np.minimum(each, 1.0 / baseline)
    cut = bool((within < each).any())
    return np.asarray(risk_from_relative(baseline_risk=baseline, ratios=within)), cut


def baseline_from_rate(model: Model) -> float | None:
    """Return the baseline that gives a model's whole series its rate, at the stated shares.

    Factors without stated shares do not count; a level without a figure counts as the reference
    level. None where the series has no rate.
    """
    if model.rate.value is None:
        return None
    ways = [
        [(level.ratio or 1.0, level.prevalence or 0.0) for level in factor.levels]
        for factor in model.factors
        if all(level.prevalence is not None for level in factor.levels)
    ]
    every = list(product(*ways))
    risk = reference_risk_of_mix(
        overall=model.rate.value,
        ratios=np.array([prod(ratio for ratio, _ in way) for way in every]),
        shares=np.array([prod(share for _, share in way) for way in every]),
        scale=model.kind,
    )
    return float(from_probability(probability=risk)) if model.kind == "odds" else float(risk)
