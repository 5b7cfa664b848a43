"""The surgeon's own baseline: one shift of the rupture model, learnt from earlier cases.

A few hundred cases hold a handful of ruptures: the odds ratios are never refitted, one number is
moved, and it is drawn to the model by a stated spread between surgeons.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from zonule.assessment.risk.own import own_spread, surgeons_in_general
from zonule.assessment.risk.rupture import expected_rupture, national_rate
from zonule.findings.answers import Answer
from zonule.findings.facts import facts_of
from zonule.findings.records import Case
from zonule.formulas.risk.own_baseline import posterior
from zonule.practice.risk import OwnBaseline, RiskChoices


@dataclass(frozen=True, slots=True)
class EarlierCase:
    """One earlier case of this surgeon: what was found before, and whether the capsule tore."""

    case: Case
    age: Answer
    """At surgery; a row has no date of birth."""
    ruptured: bool


def learnt(choices: RiskChoices) -> OwnBaseline:
    """Return the baseline from what a practice file counts, or that of surgeons in general."""
    return from_counts(choices) if choices.own_cases else surgeons_in_general(choices)


def from_counts(choices: RiskChoices) -> OwnBaseline:
    """Return the baseline learnt from the counts of a practice file.

    Examples
    --------
    >>> found = from_counts(RiskChoices(own_cases=200, own_ruptures=5))
    >>> found.cases, round(found.expected_ruptures, 2), found.mean > 0
    (200, 2.02, True)
    """
    cases, ruptures = choices.own_cases or 0, choices.own_ruptures or 0
    expected = choices.own_expected_ruptures
    expected = national_rate(choices.rebased_to) * cases if expected is None else expected
    spread = own_spread(choices)
    found = posterior(probability=[expected / cases], cases=cases, events=ruptures, spread=spread)
    return OwnBaseline(
        shift=found.shift,
        weight=found.weight,
        spread=spread,
        cases=cases,
        ruptures=ruptures,
        expected_ruptures=expected,
        counted_from="counts at the national rate"
        if choices.own_expected_ruptures is None
        else "counts",
    )


def from_cases(
    choices: RiskChoices,
    cases: Sequence[EarlierCase],
    *,
    name: str,
    set_aside: Sequence[str] = (),
) -> OwnBaseline:
    """Return the baseline learnt from earlier cases, each with the risk that the model gave it."""
    if not cases:
        return replace(surgeons_in_general(choices), set_aside=tuple(set_aside))
    risks = np.array([_expected(one, choices) for one in cases])
    ruptures = sum(one.ruptured for one in cases)
    spread = own_spread(choices)
    found = posterior(probability=risks, events=ruptures, spread=spread)
    return OwnBaseline(
        shift=found.shift,
        weight=found.weight,
        spread=spread,
        cases=len(cases),
        ruptures=ruptures,
        expected_ruptures=float(risks.sum()),
        counted_from=name,
        set_aside=tuple(set_aside),
    )


def _expected(one: EarlierCase, choices: RiskChoices) -> float:
    findings = facts_of(one.case, one.case.eye_to_do)

    def lookup(name: str) -> Answer:
        return one.age if name == "age" else findings(name)

    return expected_rupture(lookup, rebased_to=choices.rebased_to)
