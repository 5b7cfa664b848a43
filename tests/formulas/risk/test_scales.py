"""Odds, relative risks and hazards: in range, rising, there and back, unknown kept unknown."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import expit, logit

from zonule.errors import NoSuchName
from zonule.formulas.risk import mixture, odds
from zonule.formulas.risk.hazard import risk_from_hazard
from zonule.formulas.risk.relative import risk_from_relative

probabilities = st.floats(1e-6, 1.0 - 1e-6)
some_ratios = st.lists(st.floats(0.05, 20.0), min_size=1, max_size=8)
SCALES = ("odds", "relative_risk", "hazard")


@given(probabilities)
def test_odds_and_logits_go_there_and_back(probability: float) -> None:
    there = odds.from_probability(probability=probability)
    assert odds.to_probability(odds=there) == pytest.approx(probability, rel=1e-12)
    assert odds.logit(probability=probability) == pytest.approx(logit(probability), rel=1e-9)
    assert odds.expit(logit=logit(probability)) == pytest.approx(probability, rel=1e-12)


@given(st.floats(-700.0, 700.0))
def test_expit_agrees_with_scipy_far_out(value: float) -> None:
    assert odds.expit(logit=value) == pytest.approx(expit(value), rel=1e-12)


@given(probabilities, some_ratios, st.floats(1.001, 10.0), st.integers(0, 7))
def test_risk_lies_within_0_and_1_and_rises_with_every_ratio(
    probability: float, ratios: list[float], more: float, which: int
) -> None:
    base = odds.from_probability(probability=probability)
    higher = list(ratios)
    higher[which % len(ratios)] *= more
    risk = odds.risk_from_odds(baseline_odds=base, ratios=[ratios, higher])
    assert (risk > 0.0).all()
    assert (risk <= 1.0).all()
    assert risk[1] >= risk[0]
    hazard = risk_from_hazard(cumulative_risk=probability, ratios=[ratios, higher])
    assert (hazard > 0.0).all()
    assert (hazard <= 1.0).all()
    assert hazard[1] >= hazard[0]


@given(probabilities, probabilities)
def test_a_shift_to_a_rate_reaches_it(rate: float, old: float) -> None:
    shift = odds.shift_to_rate(rate=rate, from_rate=old)
    assert odds.shifted(probability=old, shift_logit=shift) == pytest.approx(rate, rel=1e-9)


@given(st.floats(1e-5, 0.05), some_ratios)
def test_the_three_scales_agree_where_all_risks_are_small(base: float, ratios: list[float]) -> None:
    small = base * 1e-9 / np.prod(np.maximum(ratios, 1.0))
    relative = float(risk_from_relative(baseline_risk=small, ratios=ratios))
    assert risk_from_hazard(cumulative_risk=small, ratios=ratios) == pytest.approx(
        relative, rel=1e-5
    )
    assert odds.risk_from_odds(baseline_odds=small, ratios=ratios) == pytest.approx(
        relative, rel=1e-5
    )


@pytest.mark.parametrize("wrong", [[np.nan], [1.5, np.nan], [0.0], [-2.0]])
def test_a_ratio_that_is_not_known_is_never_read_as_1(wrong: list[float]) -> None:
    assert np.isnan(odds.risk_from_odds(baseline_odds=0.01, ratios=wrong))
    assert np.isnan(risk_from_relative(baseline_risk=0.01, ratios=wrong))
    assert np.isnan(risk_from_hazard(cumulative_risk=0.01, ratios=wrong))


@pytest.mark.parametrize("base", [np.nan, -0.1, 1.1])
def test_a_base_out_of_range_gives_nothing(base: float) -> None:
    assert np.isnan(odds.logit(probability=base))
    assert np.isnan(odds.from_probability(probability=base))
    assert np.isnan(risk_from_relative(baseline_risk=base, ratios=[1.0]))
    assert np.isnan(risk_from_hazard(cumulative_risk=base, ratios=[1.0]))


def test_a_relative_risk_above_1_is_refused_with_its_figure() -> None:
    with pytest.raises(ValueError, match=r"risk of 1\.2; it must be 1 or less"):
        risk_from_relative(baseline_risk=[0.01, 0.3], ratios=[4.0])


def test_many_eyes_at_once_are_each_as_alone() -> None:
    bases, ratios = np.array([0.005, 0.02, 0.3]), np.array([[1.0, 2.0], [3.0, 1.5], [0.5, 4.0]])
    together = odds.risk_from_odds(baseline_odds=bases, ratios=ratios)
    alone = [
        float(odds.risk_from_odds(baseline_odds=b, ratios=r))
        for b, r in zip(bases, ratios, strict=True)
    ]
    assert together.tolist() == alone


def with_factor(risk: float, ratio: float, scale: str) -> float:
    if scale == "odds":
        base = odds.from_probability(probability=risk)
        return float(odds.risk_from_odds(baseline_odds=base, ratios=[ratio]))
    return risk * ratio if scale == "relative_risk" else float(1.0 - (1.0 - risk) ** ratio)


@pytest.mark.parametrize("scale", SCALES)
@given(st.floats(1e-5, 0.04), st.floats(0.05, 20.0), st.floats(0.0, 1.0))
def test_the_mix_has_the_rate_it_was_solved_for(
    scale: Any, overall: float, ratio: float, share: float
) -> None:
    if scale == "relative_risk":  # a rare outcome: else eyes with the factor would go above 1
        overall *= 0.02
    risk = float(mixture.reference_risk(overall=overall, ratio=ratio, share=share, scale=scale))
    mixed = (1.0 - share) * risk + share * with_factor(risk, ratio, scale)
    assert mixed == pytest.approx(overall, rel=1e-9)


@given(st.floats(1e-4, 0.9), st.lists(st.floats(0.1, 30.0), min_size=2, max_size=6))
def test_a_mix_of_many_agrees_with_an_independent_root_finder(
    overall: float, ratios: list[float]
) -> None:
    shares = np.full(len(ratios), 1.0 / len(ratios))
    found = mixture.reference_risk_of_mix(
        overall=overall, ratios=ratios, shares=shares, scale="odds"
    )

    def gap(value: float) -> float:
        return float((expit(value + np.log(ratios)) * shares).sum() - overall)

    assert float(found) == pytest.approx(expit(brentq(gap, -40.0, 40.0, xtol=1e-13)), rel=1e-8)


def test_a_mix_broadcasts_and_keeps_what_is_not_known() -> None:
    found = mixture.reference_risk(
        overall=[0.01, np.nan, 0.02], ratio=[2.0, 2.0, np.nan], share=0.1, scale="odds"
    )
    assert found.shape == (3,)
    assert np.isnan(found).tolist() == [False, True, True]
    unequal = mixture.reference_risk_of_mix(
        overall=0.01, ratios=[1.0, 2.0], shares=[0.5, 0.4], scale="hazard"
    )
    assert np.isnan(unequal)


def test_a_scale_that_is_none_is_refused() -> None:
    wrong: Any = "hazards"
    with pytest.raises(NoSuchName, match="Nearest: hazard"):
        mixture.reference_risk(overall=0.01, ratio=2.0, share=0.1, scale=wrong)


def test_a_mix_of_relative_risks_above_1_is_refused() -> None:
    with pytest.raises(ValueError, match="must be 1 or less"):
        mixture.reference_risk(overall=0.5, ratio=10.0, share=0.1, scale="relative_risk")
