"""Holds the risk models, scores and formulas to printed figures and to our own arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal

import numpy as np
import pytest
from scipy.stats import binom, binomtest

from published.printed import STATUSES, USES, Entry, agrees, counts, entries, with_use
from zonule.formulas.risk import mixture, odds, own_baseline, points, second_eye
from zonule.formulas.risk.hazard import risk_from_hazard
from zonule.formulas.risk.relative import risk_from_relative
from zonule.formulas.uncertainty import law
from zonule.library.reading import reference
from zonule.library.risk_models import Rate, incidences, models, recalibrations, scores


def ratios(model: str, levels: Mapping[str, str], swapped: Mapping[str, float]) -> list[float]:
    """Return the ratio of each named level; a name that is no factor or level is an error."""
    found = []
    for name, word in levels.items():
        factor = models()[model].factor(name)
        assert factor is not None, name
        level = next(one for one in factor.levels if one.level == word)
        assert level.ratio is not None, (name, word)
        found.append(swapped.get(name, level.ratio))
    return found or [1.0]


def ratio_product(*, model: str, levels: Mapping[str, str]) -> float:
    return float(np.prod(ratios(model, levels, {})))


def shift_logit(*, model: str, to: str) -> float:
    old, new = models()[model].rate.value, recalibrations(model)[to].rate.value
    assert old is not None
    assert new is not None
    return float(odds.shift_to_rate(rate=new, from_rate=old))


def baseline_odds(*, model: str, to: str) -> float:
    base = models()[model].baseline.value
    assert base is not None
    moved = odds.shifted(
        probability=odds.to_probability(odds=base), shift_logit=shift_logit(model=model, to=to)
    )
    return float(odds.from_probability(probability=moved))


def model_risk_percent(
    *,
    model: str,
    levels: Mapping[str, str],
    to: str = "",
    swapped: Mapping[str, float] | None = None,
    baseline: float | None = None,
) -> float:
    one = models()[model]
    every = ratios(model, levels, swapped or {})
    base = baseline_odds(model=model, to=to) if to else (baseline or one.baseline.value)
    assert base is not None
    if one.kind == "odds":
        return 100.0 * float(odds.risk_from_odds(baseline_odds=base, ratios=every))
    if one.kind == "relative_risk":
        return 100.0 * float(risk_from_relative(baseline_risk=base, ratios=every))
    return 100.0 * float(risk_from_hazard(cumulative_risk=base, ratios=every))


def ratio_over_units(*, model: str, factor: str, units: float) -> float:
    found = models()[model].factor(factor)
    assert found is not None
    assert found.per_unit
    assert found.levels[0].ratio is not None
    return float(found.levels[0].ratio ** units)


def percent_higher_over_units(**inputs: Any) -> float:
    return 100.0 * (ratio_over_units(**inputs) - 1.0)


def risk_without_percent(*, overall: float, ratio: float, share: float) -> float:
    found = mixture.reference_risk(overall=overall, ratio=ratio, share=share, scale="odds")
    return 100.0 * float(found)


def both(incidence: str) -> tuple[float, float]:
    """Return the rates of a group and of what it is compared with."""

    def exact(rate: Rate | None) -> float:
        assert rate is not None
        assert rate.value is not None
        return rate.events / rate.n if rate.events and rate.n else rate.value

    row = incidences()[incidence]
    return exact(row.rate), exact(row.comparator)


def crude_odds_ratio(*, incidence: str) -> float:
    group, other = odds.from_probability(probability=both(incidence))
    return float(group / other)


def relative_risk_of(*, incidence: str) -> float:
    group, other = both(incidence)
    return group / other


def share_of_percent(*, incidence: str, of: float) -> float:
    value = incidences()[incidence].rate.value
    assert value is not None
    return 100.0 * value / of


def own_shift(*, cases: int, events: int, rate: float, spread: float) -> dict[str, float]:
    own = own_baseline.posterior(probability=[rate], cases=cases, events=events, spread=spread)
    mode = float(own.mode)
    at_mode = float(odds.shifted(probability=rate, shift_logit=mode))
    held = cases * at_mode * (1.0 - at_mode) + 1.0 / spread**2
    return {"mode": mode, "curvature_sd": held**-0.5, "percent_at_mode": 100.0 * at_mode}


def own_weight(*, cases: int, rate: float, spread: float) -> float:
    return float(own_baseline.own_weight(probability=[rate], cases=cases, spread=spread))


def second_eye_percent(*, probability: float, spread: float) -> float:
    return 100.0 * float(second_eye.risk_given_first(probability=probability, spread=spread))


def second_eye_odds_ratio(*, probability: float, spread: float) -> float:
    """Return the odds after a first eye that ruptured over those after one that did not."""
    after = second_eye.risk_given_first(probability=probability, spread=spread)
    spared = second_eye.risk_given_first(probability=probability, spread=spread, ruptured=False)
    high, low = odds.from_probability(probability=[float(after), float(spared)])
    return float(high / low)


def score_rate_percent(*, score: str, band: int, event: str) -> float:
    return 100.0 * scores()[score].bands[band].rate(event)


def score_points(*, score: str, present: list[str]) -> float:
    items = scores()[score].items
    assert set(present) <= {item.name for item in items}
    return float(
        points.total(
            points=[item.points for item in items],
            present=[item.name in present for item in items],
        )
    )


def score_group(*, score: str, points: float) -> float:
    bands = scores()[score].bands
    return float(bands[int(band_of(points, [band.low for band in bands]))].group)


def band_of(total: float, lows: list[int]) -> int:
    return int(points.band(points=total, lows=lows))


def proportion_interval(
    *, events: int, cases: int, method: Literal["wilson", "exact"]
) -> dict[str, float]:
    found = binomtest(events, cases).proportion_ci(0.95, method)
    return {"low": float(found.low), "high": float(found.high)}


def normal_spread(*, sd_d: float) -> dict[str, float]:
    error = law.two_component(median_d=0.0, core_sd_d=sd_d, tail_weight=0.0, tail_sd_d=1.0)
    within = law.within(error, centre_d=0.0, half_width_d=np.array([0.25, 0.5, 0.75, 1.0]))
    keys = ("within_025", "within_050", "within_075", "within_100")
    return {
        "mean_absolute_d": sd_d * float(np.sqrt(2.0 / np.pi)),
        "median_absolute_d": float(law.quantile(error, probability=0.75)),
        **dict(zip(keys, (100.0 * within).tolist(), strict=True)),
    }


def observed_over_expected(*, events: int, cases: int, rate: float) -> float:
    return events / (cases * rate)


def binomial_tail(*, events: int, cases: int, rate: float) -> float:
    return float(binom.cdf(events, cases, rate))


CALCULATIONS: dict[str, Callable[..., Any]] = {
    one.__name__: one
    for one in (
        ratio_product,
        shift_logit,
        baseline_odds,
        model_risk_percent,
        ratio_over_units,
        percent_higher_over_units,
        risk_without_percent,
        crude_odds_ratio,
        relative_risk_of,
        share_of_percent,
        own_shift,
        own_weight,
        second_eye_percent,
        second_eye_odds_ratio,
        score_rate_percent,
        score_points,
        score_group,
        proportion_interval,
        normal_spread,
        observed_over_expected,
        binomial_tail,
    )
}


@pytest.mark.parametrize("entry", with_use("risk", "test"), ids=lambda entry: entry.id)
def test_printed_figure_is_reproduced(entry: Entry) -> None:
    found = CALCULATIONS[entry.quantity](**entry.inputs)
    assert agrees(found, entry), (found, entry.printed)


@pytest.mark.parametrize("entry", with_use("risk", "differs"), ids=lambda entry: entry.id)
def test_documented_difference_is_real(entry: Entry) -> None:
    assert not agrees(CALCULATIONS[entry.quantity](**entry.inputs), entry)


@pytest.mark.parametrize("printed", ["interval-detachment-singapore", "interval-floppy-iris"])
def test_neither_usual_method_gives_the_odd_intervals(printed: str) -> None:
    entry = next(one for one in entries("risk") if one.id == printed)
    for method in ("wilson", "exact"):
        found = proportion_interval(**{**entry.inputs, "method": method})
        assert not agrees(found, entry)


def test_every_entry_is_settled() -> None:
    listed = entries("risk")
    assert len({entry.id for entry in listed}) == len(listed)
    for entry in listed:
        assert entry.use in USES, entry.id
        assert entry.status in STATUSES, entry.id
        assert bool(entry.reason) == (entry.use != "test"), entry.id
        assert bool(entry.tolerance) == bool(entry.tolerance_reason), entry.id
        assert reference(entry.source).key == entry.source


def test_the_file_holds_what_it_says() -> None:
    assert counts("risk") == {"test": 110, "differs": 3, "unused": 7}
