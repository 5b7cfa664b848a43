"""What follows over the years: each outcome without rupture, after it, and in this eye."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from zonule.assessment.risk.chance import Chance, mixed
from zonule.assessment.risk.of_a_model import ModelRisk, baseline_from_rate, risk_of
from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.formulas.risk.counts import jeffreys_interval
from zonule.formulas.risk.mixture import reference_risk
from zonule.formulas.risk.odds import from_probability, shifted
from zonule.library.reading import Status, status, table
from zonule.library.risk_models import Level, Model, model

NOTHING: Final = Chance(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Outcome:
    """One outcome: its chance on either branch, and in this eye operated as planned."""

    id: str
    label: str
    window: str
    branch: str
    """rupture, vitreous (rupture with vitreous lost), or none."""
    without: Chance | None
    after: Chance | None
    here: Chance | None
    """Both branches together; None while a figure is missing."""
    how: str
    sources: tuple[str, ...]
    status: Status
    waits_for: tuple[str, ...] = ()
    """Findings."""
    waits_for_rows: tuple[str, ...] = ()
    """Figures that nobody has typed in, or that were not found."""
    not_in_record: tuple[str, ...] = ()
    """Factors that no record of the eye holds; they stand at their reference level."""
    cut_at_one: bool = False
    """Relative risks multiply beyond 1 at the upper end, which is cut there."""


@dataclass(frozen=True, slots=True)
class _Branches:
    without: Chance | None = None
    after: Chance | None = None
    waits_for: tuple[str, ...] = ()
    waits_for_rows: tuple[str, ...] = ()
    not_in_record: tuple[str, ...] = ()
    cut_at_one: bool = False


def outcomes_of(lookup: Lookup, rupture: Chance, *, national_rate: float) -> tuple[Outcome, ...]:
    """Return every outcome of the library for one eye.

    Parameters
    ----------
    lookup
        Every finding of the eye, by the name that rules use.
    rupture
        The chance of rupture in this eye, with its range.
    national_rate
        The rate of rupture behind series that count all operations together.
    """
    ways: Mapping[str, Callable[[Mapping[str, Any]], _Branches]] = {
        "model": lambda row: _by_model(row, lookup),
        "rate": lambda row: _by_model(row, lookup, from_rate=True),
        "factor": lambda row: _by_factor(row, national_rate),
        "given": _given,
        "band": lambda row: _band(row, lookup),
        "cumulative": lambda row: _cumulative(row, lookup),
    }
    return tuple(
        _outcome(row, ways[row["way"]](row), rupture) for row in table("risk/outcomes")["outcome"]
    )


def _outcome(row: Mapping[str, Any], found: _Branches, rupture: Chance) -> Outcome:
    return Outcome(
        id=row["id"],
        label=row["label"],
        window=row["window"],
        branch=row["branch"],
        without=found.without,
        after=found.after if row["branch"] != "none" else None,
        here=_here(row["branch"], found, rupture),
        how=row["how"],
        sources=tuple(row["sources"]),
        status=status(row["status"]),
        waits_for=found.waits_for,
        waits_for_rows=found.waits_for_rows,
        not_in_record=found.not_in_record,
        cut_at_one=found.cut_at_one,
    )


def _here(branch: str, found: _Branches, rupture: Chance) -> Chance | None:
    if branch == "none" or found.without is None or found.after is None:
        return found.without if branch == "none" else None
    lost = float(table("risk/outcomes")["vitreous_in_rupture"]["share"])
    happens = rupture.times(lost) if branch == "vitreous" else rupture
    return mixed(found.after, found.without, happens)


def _by_model(row: Mapping[str, Any], lookup: Lookup, *, from_rate: bool = False) -> _Branches:
    """Return both branches of a model, from its baseline or from the rate of its series."""
    known = model(row["model"])
    base = baseline_from_rate(known) if from_rate else None
    without = risk_of(known, lookup, baseline=base)
    if without.value is None:
        return _Branches(
            waits_for=without.waits_for if not without.waits_for_rows else (),
            waits_for_rows=without.waits_for_rows,
        )
    after = [
        risk_of(
            known,
            lookup,
            set_to={row["factor"]: "yes"},
            baseline=base,
            ratio_of={(row["factor"], "yes"): ratio},
        )
        for ratio in _ratios(_level(known, row["factor"]))
    ]
    return _Branches(
        without=_chance(without),
        after=_spread(after),
        waits_for=without.waits_for,
        not_in_record=tuple(one.factor.label for one in without.factors if one.not_in_record),
        cut_at_one=any(one.cut_at_one for one in (without, *after)),
    )


def _level(known: Model, factor: str) -> Level:
    """Return the row of a factor that says it happened."""
    found = known.factor(factor)
    assert found is not None
    return next(one for one in found.levels if one.level == "yes")


def _ratios(level: Level) -> tuple[float, ...]:
    """Return the ratio as printed, then the ends of its interval, or of what studies give."""
    assert level.ratio is not None
    ends = (*(level.ci or ()), *level.others)
    return (level.ratio, *((min(ends), max(ends)) if ends else ()))


def _chance(found: ModelRisk) -> Chance:
    assert found.value is not None
    assert found.low is not None
    assert found.high is not None
    return Chance(found.value, found.low, found.high)


def _spread(found: list[ModelRisk]) -> Chance:
    """Return the first one's value with the widest ends of all."""
    chances = [_chance(one) for one in found]
    return Chance(
        chances[0].value,
        min(one.low for one in chances),
        max(one.high for one in chances),
    )


def _by_factor(row: Mapping[str, Any], national_rate: float) -> _Branches:
    """Return the rate of a series parted by one odds ratio, at its share of ruptures."""
    known = model(row["model"])
    overall = known.rate.value
    assert overall is not None
    ratios = np.array(_ratios(_level(known, row["factor"])))
    without = reference_risk(overall=overall, ratio=ratios, share=national_rate, scale="odds")
    after = shifted(probability=without, shift_logit=np.log(ratios))
    return _Branches(
        without=Chance(float(without[0]), float(without.min()), float(without.max())),
        after=Chance(float(after[0]), float(after.min()), float(after.max())),
    )


def _given(row: Mapping[str, Any]) -> _Branches:
    return _Branches(NOTHING, Chance(row["value"], row["value"], row["high"]))


def _band(row: Mapping[str, Any], lookup: Lookup) -> _Branches:
    """Return a share counted in one group of eyes; elsewhere no figure was found."""
    value = number(lookup(row["finding"]))
    if value is None:
        return _Branches(waits_for=(row["finding"],))
    if value >= row["below"]:
        return _Branches(waits_for_rows=(f"a figure for {row['below']:,} and more",))
    low, high = jeffreys_interval(events=row["events"], cases=row["cases"])
    found = Chance(row["events"] / row["cases"], float(low), float(high))
    return _Branches(without=found, after=found)


def _cumulative(row: Mapping[str, Any], lookup: Lookup) -> _Branches:
    """Return shares by years since surgery, moved by the one factor there is a figure for."""
    known, share = model(row["model"]), float(row["share"])
    ratio, *interval = _ratios(_level(known, row["factor"]))
    ends = [(row["overall"], ratio)]
    ends += [(row[end], one) for end in ("overall_low", "overall_high") for one in interval]
    found = [
        risk_of(
            known,
            lookup,
            baseline=_odds_without(overall, one, share),
            ratio_of={(row["factor"], "yes"): one},
        )
        for overall, one in ends
    ]
    return _Branches(without=_spread(found), waits_for=found[0].waits_for)


def _odds_without(overall: float, ratio: float, share: float) -> float:
    """Return the odds of an eye without the factor, where only those of all eyes are printed."""
    risk = reference_risk(overall=overall, ratio=ratio, share=share, scale="odds")
    return float(from_probability(probability=risk))
