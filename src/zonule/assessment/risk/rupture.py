"""The risk of posterior capsule rupture in one eye, operated by this surgeon."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.risk.of_a_model import ModelRisk, risk_of
from zonule.errors import NoSuchName
from zonule.findings.conditions import Lookup, parse
from zonule.formulas.risk.odds import shift_to_rate, shifted
from zonule.formulas.risk.own_baseline import Posterior, quantile
from zonule.library.reading import table
from zonule.library.risk_models import Level, Recalibration, models, recalibrations
from zonule.practice.risk import OwnBaseline

Array = NDArray[np.float64]
NINE_IN_TEN = (0.05, 0.95)


@dataclass(frozen=True, slots=True)
class Comparison:
    """The same eye in the hands of another group: what groups had, not what a person has."""

    level: Level
    value: float
    held_at_reference: bool
    """The group's figure is better than the reference grade's; that is not carried over."""


@dataclass(frozen=True, slots=True)
class RuptureRisk:
    """The risk of rupture: by the model, in this surgeon's hands, and between which ends."""

    of_model: ModelRisk
    """At the reference grade, brought to the rate of the years chosen."""
    years: Recalibration
    value: float
    """In this surgeon's hands; the model's own where no case was counted."""
    band: tuple[float, float]
    """Nine in ten, from how little is known of the surgeon."""
    low: float
    high: float
    """The same over every way that unknown findings may turn out."""
    own: OwnBaseline
    comparisons: tuple[Comparison, ...]
    not_in_figure: tuple[str, ...]
    """What is recorded of the eye, may raise the risk, and is no factor of the model."""

    @property
    def waits_for(self) -> tuple[str, ...]:
        """Findings that would narrow it."""
        return self.of_model.waits_for


def years_of(rebased_to: str) -> Recalibration:
    """Return the years whose national rate is the yardstick; the library's own if none is named.

    Raises
    ------
    NoSuchName
        If there is no rate of those years.
    """
    headline = table("risk/choices")["headline"]
    known = recalibrations(headline["model"])
    wanted = rebased_to or headline["rebased_to"]
    if wanted not in known:
        raise NoSuchName("years of a national rate", wanted, known)
    return known[wanted]


def national_rate(rebased_to: str = "") -> float:
    """Return the national rate of rupture of the years chosen."""
    return rate_of(years_of(rebased_to))


def rate_of(years: Recalibration) -> float:
    """Return the national rate of some years."""
    assert years.rate.value is not None
    return years.rate.value


def headline_risk(lookup: Lookup, *, rebased_to: str = "") -> ModelRisk:
    """Return what the headline model says of an eye at the reference grade."""
    model = models()[table("risk/choices")["headline"]["model"]]
    assert model.baseline.value is not None
    assert model.rate.value is not None
    shift = float(shift_to_rate(rate=national_rate(rebased_to), from_rate=model.rate.value))
    return risk_of(model, lookup, baseline=model.baseline.value * float(np.exp(shift)))


def expected_rupture(lookup: Lookup, *, rebased_to: str = "") -> float:
    """Return the risk the model expects of an eye, unknown findings at their prevalences."""
    found = headline_risk(lookup, rebased_to=rebased_to)
    assert found.value is not None
    return found.value


def rupture_risk(lookup: Lookup, own: OwnBaseline, *, rebased_to: str = "") -> RuptureRisk:
    """Return the risk of rupture of one eye in this surgeon's hands.

    Parameters
    ----------
    lookup
        Every finding of the eye, by the name that rules use.
    own
        How far this surgeon stands from the model, and how sure that is.
    rebased_to
        The years whose national rate is the yardstick.
    """
    found = headline_risk(lookup, rebased_to=rebased_to)
    assert found.value is not None
    assert found.low is not None
    assert found.high is not None
    value = _in_own_hands(found, own) if own.counted else found.value
    return RuptureRisk(
        of_model=found,
        years=years_of(rebased_to),
        value=value,
        band=(_at(found.value, own, NINE_IN_TEN[0]), _at(found.value, own, NINE_IN_TEN[1])),
        low=_at(found.low, own, NINE_IN_TEN[0]),
        high=_at(found.high, own, NINE_IN_TEN[1]),
        own=own,
        comparisons=_comparisons(found),
        not_in_figure=tuple(
            row["says"]
            for row in table("risk/choices")["not_in_figure"]["rows"]
            if parse(row["when"]).holds(lookup)
        ),
    )


def _in_own_hands(found: ModelRisk, own: OwnBaseline) -> float:
    """Return the mean risk over the surgeon's shift and over what is not known of the eye."""
    each = shifted(probability=found.completions[:, None], shift_logit=own.shift[None, :])
    return float(found.weights @ np.asarray(each) @ own.weight)


def _at(risk: float, own: OwnBaseline, share: float) -> float:
    """Return a risk moved by the shift below which a share of the posterior lies."""
    posterior = Posterior(own.shift, own.weight, np.asarray(own.mean))
    shift = quantile(posterior=posterior, probability=share)
    return float(shifted(probability=risk, shift_logit=shift))


def _comparisons(found: ModelRisk) -> tuple[Comparison, ...]:
    """Return the same eye in the hands of each group, never better than the reference grade."""
    assert found.value is not None
    return tuple(
        _compared(found, level)
        for factor in found.model.factors
        if factor.comparison
        for level in factor.levels
        if level.ratio is not None and not level.reference
    )


def _compared(found: ModelRisk, level: Level) -> Comparison:
    assert level.ratio is not None
    better = level.ratio < 1.0
    log_ratio = 0.0 if better else float(np.log(level.ratio))
    each = shifted(probability=found.completions, shift_logit=log_ratio)
    return Comparison(level, float(np.asarray(each) @ found.weights), better)


def mixed_line(lookup: Lookup, *, rebased_to: str = "") -> float | None:
    """Return the risk with newer odds ratios in place of the older: two fits mixed, no model.

    It is shown as one labelled line and feeds nothing. None where this eye has no such factor,
    or it is not known.
    """
    found = headline_risk(lookup, rebased_to=rebased_to)
    replaces = table("risk/choices")["mixed_line"]["replaces"]
    assert found.value is not None
    moved = 0.0
    for one in found.factors:
        newer = replaces.get(one.factor.name)
        if newer is None:
            continue
        if not one.known:
            return None
        if not one.possible[0].reference:
            moved += float(np.log(newer / (one.possible[0].ratio or 1.0)))
    if moved == 0.0:
        return None
    return float(
        np.asarray(shifted(probability=found.completions, shift_logit=moved)) @ found.weights
    )
