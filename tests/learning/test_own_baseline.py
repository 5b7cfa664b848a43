"""What a surgeon's own cases teach: one shift, drawn to the model."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import expit, logit

from zonule.assessment.risk.own import surgeons_in_general
from zonule.assessment.risk.rupture import national_rate, rupture_risk
from zonule.findings.answers import Answer, Unknown
from zonule.findings.records import Aim, Case, Eye, Patient
from zonule.learning.own_baseline import EarlierCase, from_cases, from_counts, learnt
from zonule.practice.risk import RiskChoices

EMPTY = Case(
    "right", Patient(""), Aim(0.0), Eye(side="right", lens_status="phakic"), Eye(side="left")
)


def earlier(ruptured: bool, *, age: Answer = 72) -> EarlierCase:
    return EarlierCase(EMPTY, age, ruptured)


def shift_by_quadrature(cases: int, events: int, risk: float, spread: float) -> tuple[float, float]:
    """Mean and SD of the shift, by SciPy's quadrature over the same posterior."""

    def weight(shift: float) -> float:
        chance = expit(logit(risk) + shift)
        log = events * np.log(chance) + (cases - events) * np.log1p(-chance)
        at_risk = events * np.log(risk) + (cases - events) * np.log1p(-risk)
        return float(np.exp(log - at_risk - shift**2 / (2.0 * spread**2)))

    whole = quad(weight, -4, 4, limit=200)[0]
    mean = quad(lambda one: one * weight(one), -4, 4, limit=200)[0] / whole
    var = quad(lambda one: (one - mean) ** 2 * weight(one), -4, 4, limit=200)[0] / whole
    return mean, float(np.sqrt(var))


@pytest.mark.parametrize(("cases", "events"), [(200, 5), (200, 0), (50, 2), (1000, 20)])
def test_counts_teach_what_quadrature_says(cases: int, events: int) -> None:
    found = from_counts(RiskChoices(own_cases=cases, own_ruptures=events))
    mean, sd = shift_by_quadrature(cases, events, national_rate(), 0.5)
    assert found.mean == pytest.approx(mean, abs=2e-3)
    assert found.sd == pytest.approx(sd, abs=2e-3)
    assert found.expected_ruptures == pytest.approx(cases * 0.010123, rel=1e-3)


def test_without_a_case_there_is_the_spread_between_surgeons_and_nothing_else() -> None:
    found = learnt(RiskChoices(own_spread=0.8))
    assert not found.counted
    assert found.mean == pytest.approx(0.0, abs=1e-9)
    assert found.sd == pytest.approx(0.8, rel=1e-3)
    assert found.weight_of_own_data == pytest.approx(0.0, abs=1e-3)


def test_the_more_cases_the_less_the_model_draws() -> None:
    weights = [
        from_counts(RiskChoices(own_cases=many, own_ruptures=many // 100)).weight_of_own_data
        for many in (100, 500, 2000)
    ]
    assert weights == sorted(weights)
    assert weights[-1] > 0.7


def test_cases_one_by_one_expect_what_the_model_gives_each() -> None:
    cases = [earlier(ruptured=at < 3, age=72 if at % 2 else 91) for at in range(300)]
    found = from_cases(RiskChoices(), cases, name="own.csv", set_aside=["line 4: no"])
    assert (found.cases, found.ruptures, found.counted_from) == (300, 3, "own.csv")
    assert found.set_aside == ("line 4: no",)
    assert found.expected_ruptures > 300 * 0.0054
    young = from_cases(RiskChoices(), [earlier(ruptured=False, age=50)], name="own.csv")
    old = from_cases(RiskChoices(), [earlier(ruptured=False, age=91)], name="own.csv")
    assert young.expected_ruptures < old.expected_ruptures


def test_a_file_without_a_usable_row_teaches_nothing() -> None:
    found = from_cases(RiskChoices(), [], name="own.csv", set_aside=["line 2: no"])
    assert not found.counted
    assert found.set_aside == ("line 2: no",)


def test_own_results_move_the_risk_that_is_shown_and_its_band() -> None:
    def lookup(_: str) -> Answer:
        return Unknown.NOT_RECORDED

    many = from_counts(RiskChoices(own_cases=1000, own_ruptures=30))
    few = from_counts(RiskChoices(own_cases=1000, own_ruptures=1))
    general = surgeons_in_general(RiskChoices())
    high, low, plain = (rupture_risk(lookup, own) for own in (many, few, general))
    assert low.value < plain.value < high.value
    assert high.band[1] - high.band[0] < plain.band[1] * np.exp(1.1) - plain.band[0]
    for one in (high, low, plain):
        assert one.low <= one.band[0] <= one.band[1] <= one.high
