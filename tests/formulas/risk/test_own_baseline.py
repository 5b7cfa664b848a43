"""The surgeon's own baseline: against quadrature, in range, and how often its band is true."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import expit, logit
from scipy.stats import norm

from zonule.formulas.risk import own_baseline
from zonule.formulas.risk.own_baseline import Posterior, posterior, quantile, shown_risk

# A mixed list whose mean expected risk is 1.35%.
RISKS = np.array([0.004, 0.007, 0.010, 0.015, 0.030, 0.070])
SHARES = np.array([0.25, 0.25, 0.20, 0.15, 0.10, 0.05])


def log_density(shift: float, risks: np.ndarray, cases: np.ndarray, events: int) -> float:
    spared = (cases * np.logaddexp(0.0, logit(risks) + shift)).sum()
    return float(events * shift - spared + norm.logpdf(shift, scale=0.5))


@pytest.mark.parametrize(("number", "events"), [(50, 0), (200, 0), (200, 5), (1000, 20), (40, 12)])
def test_the_grid_agrees_with_quadrature(number: int, events: int) -> None:
    cases = number * SHARES
    own = posterior(probability=RISKS, cases=cases, events=events)
    peak = log_density(float(own.mode), RISKS, cases, events)

    def moment(power: int) -> float:
        def inside(shift: float) -> float:
            return float(shift**power * np.exp(log_density(shift, RISKS, cases, events) - peak))

        return float(quad(inside, -6.0, 6.0, limit=400, epsabs=1e-12)[0])

    whole = moment(0)
    mean = moment(1) / whole
    assert float(own.mean) == pytest.approx(mean, abs=1e-6)
    assert float(own.sd) == pytest.approx(np.sqrt(moment(2) / whole - mean**2), abs=1e-6)
    below = quad(
        lambda shift: np.exp(log_density(shift, RISKS, cases, events) - peak),
        -6.0,
        float(quantile(posterior=own, probability=0.05)),
        epsabs=1e-12,
    )[0]
    assert below / whole == pytest.approx(0.05, abs=2e-4)


def test_cases_one_by_one_are_as_cases_by_group() -> None:
    grouped = posterior(probability=[0.01, 0.05], cases=[120, 30], events=4)
    single = posterior(probability=np.repeat([0.01, 0.05], [120, 30]), events=4)
    assert single.mode == pytest.approx(grouped.mode)
    assert single.weight == pytest.approx(grouped.weight)


def test_no_cases_leave_the_prior() -> None:
    own = posterior(probability=[0.01], cases=0, events=0, spread=0.5)
    assert float(own.mean) == pytest.approx(0.0, abs=1e-9)
    assert float(own.sd) == pytest.approx(0.5, abs=1e-3)
    assert float(quantile(posterior=own, probability=0.95)) == pytest.approx(0.822, abs=1e-3)


@given(st.integers(0, 400), st.floats(0.001, 0.3), st.data())
def test_more_events_never_lower_the_risk_and_the_band_holds_its_middle(
    cases: int, risk: float, data: st.DataObject
) -> None:
    events = data.draw(st.integers(0, cases))
    few = posterior(probability=[risk], cases=cases, events=events)
    many = posterior(probability=[risk], cases=cases, events=min(events + 1, cases))
    assert float(many.mean) >= float(few.mean) - 1e-9
    shown = shown_risk(probability=risk, posterior=few)
    middle = expit(logit(risk) + float(quantile(posterior=few, probability=0.5)))
    assert 0.0 < shown.low < middle < shown.high < 1.0
    assert shown.low < shown.mean < shown.high


def test_with_no_event_the_posterior_leans_low() -> None:
    own = posterior(probability=[0.0101], cases=200, events=0)
    low, middle, high = (float(quantile(posterior=own, probability=p)) for p in (0.05, 0.5, 0.95))
    assert middle - low > high - middle


@pytest.mark.parametrize(
    "wrong",
    [
        {"events": 201},
        {"events": -1},
        {"events": np.nan},
        {"probability": [np.nan]},
        {"probability": [0.0]},
        {"spread": 0.0},
        {"cases": -5},
    ],
)
def test_what_cannot_be_stays_unknown(wrong: dict[str, object]) -> None:
    given_: dict[str, object] = {"probability": [0.01], "cases": 200, "events": 2, **wrong}
    own = posterior(**given_)  # type: ignore[arg-type]
    assert np.isnan(own.mode)
    assert np.isnan(own.mean)
    assert np.isnan(quantile(posterior=own, probability=0.5))
    assert np.isnan(shown_risk(probability=0.05, posterior=own)).all()


def band_holds(own: Posterior, truth: np.ndarray, index: np.ndarray) -> np.ndarray:
    """Tell for each surgeon whether the 90% band of the shift holds the true one."""
    low, high = (quantile(posterior=own, probability=p)[index] for p in (0.05, 0.95))
    held: np.ndarray = (low <= truth) & (truth <= high)
    return held


def covered(
    truth: np.ndarray, number: int, rng: np.random.Generator, risks: np.ndarray = RISKS
) -> float:
    """Return how often the band is true over surgeons who each do a list of that many cases."""
    cases = np.round(number * SHARES).astype(int)
    events = rng.binomial(cases, expit(logit(risks) + truth[:, None])).sum(axis=1)
    # The cases are the same for all, so the posterior hangs on the count of events alone.
    seen, index = np.unique(events, return_inverse=True)
    own = posterior(probability=risks, cases=cases, events=seen)
    return float(band_holds(own, truth, index).mean())


@pytest.mark.parametrize("number", [50, 200, 500, 1000, 3000])
def test_the_band_is_true_for_surgeons_as_a_whole(number: int) -> None:
    rng = np.random.default_rng(20_240 + number)
    share = covered(rng.normal(0.0, own_baseline.SPREAD, 20_000), number, rng)
    assert 0.88 <= share <= 0.92


@pytest.mark.parametrize(("number", "said"), [(200, 0.57), (1000, 0.81)])
def test_the_band_fails_a_surgeon_with_three_times_the_odds(number: int, said: float) -> None:
    rng = np.random.default_rng(number)
    share = covered(np.full(20_000, 1.1), number, rng, np.full_like(RISKS, 0.014))
    # Two standard errors of the 1,000 repeats behind the figure said.
    assert share == pytest.approx(said, abs=0.03)


def test_on_a_mixed_list_it_fails_that_surgeon_more_often() -> None:
    rng = np.random.default_rng(7)
    outlier = np.full(20_000, 1.1)
    even = covered(outlier, 200, rng, np.full_like(RISKS, 0.014))
    assert covered(outlier, 200, rng) < even


def test_the_mean_shift_is_about_the_peak_and_half_its_variance_at_small_risk() -> None:
    own = posterior(probability=[0.0101], cases=1000, events=20)
    shown = shown_risk(probability=0.0101, posterior=own)
    near = 0.0101 * np.exp(float(own.mode) + float(own.sd) ** 2 / 2.0)
    assert float(shown.mean) == pytest.approx(near, rel=0.05)
