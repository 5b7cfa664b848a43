"""Charts and spread between units, against published weights and worked examples."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import expit
from scipy.stats import beta

from zonule.formulas.audit.cusum import competence, path, weight
from zonule.formulas.audit.overdispersion import overdispersion
from zonule.formulas.risk.counts import jeffreys_interval

# Ten cases worked out beforehand: risk, event, and both charts after each case.
RISKS = [0.0073, 0.0103, 0.0606, 0.1586, 0.0073, 0.0151, 0.0731, 0.0103, 0.2317, 0.0073]
EVENTS = [0, 0, 0, 1, 0, 0, 1, 0, 0, 0]
UP = [0.0, 0.0, 0.0, 0.5459, 0.5387, 0.5237, 1.1463, 1.1360, 0.9276, 0.9204]
DOWN = [0.0037, 0.0088, 0.0396, 0.0, 0.0037, 0.0112, 0.0, 0.0052, 0.1283, 0.1319]


# Steiner 2000, page 446, quoted: -0.024, 0.67, -0.43, 0.26; five digits worked out.
@pytest.mark.parametrize(
    ("score", "survives", "dies"),
    [(0, -0.02430, 0.66884), (50, -0.43334, 0.25981), (71, -0.61872, 0.07442)],
)
def test_weights_of_the_cardiac_example(score: int, survives: float, dies: float) -> None:
    risk = expit(-3.68 + 0.077 * score)
    found = weight(probability=risk, event=[0, 1], odds_ratio=2.0)
    assert found.tolist() == pytest.approx([survives, dies], abs=5e-6)


# Rigdon and Fricker 2015, pages 225 to 226, quoted: 0.05083.
def test_the_published_weight_for_half_the_odds() -> None:
    risk = expit(-3.67 + 0.077 * 19)
    assert float(weight(probability=risk, event=0, odds_ratio=0.5)) == pytest.approx(
        0.05083, abs=5e-6
    )


def test_the_worked_path_of_ten_cases_in_both_directions() -> None:
    up = path(probability=RISKS, event=EVENTS, odds_ratio=2.0)
    down = path(probability=RISKS, event=EVENTS, odds_ratio=0.5)
    assert up.tolist() == pytest.approx(UP, abs=6e-5)
    assert down.tolist() == pytest.approx(DOWN, abs=6e-5)
    assert sum(RISKS) == pytest.approx(0.5816)


# Rates of Vedana 2017; alpha and beta assumed, the rest worked out.
def test_a_skill_is_shown_by_41_cases_without_a_failure() -> None:
    found = competence(acceptable=0.05, unacceptable=0.10, alpha=0.10, beta=0.10)
    assert found.step == pytest.approx(0.0724, abs=5e-5)
    assert (found.upper, found.lower) == pytest.approx((2.941, 2.941), abs=5e-4)
    assert found.cases_without_failure == 41


def test_ten_units_that_differ_beyond_chance() -> None:
    found = overdispersion(
        observed=[2, 9, 1, 14, 4, 3, 12, 20, 1, 7],
        expected=[4.0, 5.0, 3.0, 8.0, 6.0, 4.5, 7.0, 9.0, 3.5, 10.0],
    )
    assert found.phi_raw == pytest.approx(3.0902, abs=5e-5)
    assert found.phi == pytest.approx(2.2227, abs=5e-5)
    assert found.tau2 == pytest.approx(0.24897, abs=5e-6)
    assert found.z[7] == pytest.approx(3.6667, abs=5e-5)
    assert found.z_multiplied[7] == pytest.approx(2.4594, abs=5e-5)
    assert found.z_added[7] == pytest.approx(2.0368, abs=5e-5)


def test_units_that_differ_by_chance_alone_are_not_widened() -> None:
    found = overdispersion(observed=[5.0, 6.0, 5.0, 4.0], expected=[5.0, 5.0, 5.0, 5.0])
    assert found.tau2 == 0.0
    assert np.array_equal(found.z_multiplied, found.z)


@pytest.mark.parametrize(("events", "cases"), [(2, 25), (0, 579), (1, 579), (3, 141), (24, 25)])
def test_the_interval_of_a_count_is_that_of_the_beta_quantiles(events: int, cases: int) -> None:
    low, high = jeffreys_interval(events=events, cases=cases)
    ends = np.asarray(beta.ppf([0.05, 0.95], events + 0.5, cases - events + 0.5))
    assert float(high) == pytest.approx(ends[1], abs=2e-5)
    assert float(low) == pytest.approx(0.0 if events == 0 else ends[0], abs=2e-5)
