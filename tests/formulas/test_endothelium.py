"""The endothelium: what must hold whatever the count, the loss and the rate."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas import endothelium

COUNTS = st.floats(200.0, 4500.0)
LOSSES = st.floats(0.0, 0.6)
RATES = st.floats(0.001, 0.1)


@given(COUNTS, LOSSES, RATES, st.sampled_from([500.0, 700.0, 1000.0]))
def test_after_the_years_to_a_threshold_the_count_is_the_threshold(
    before: float, loss: float, rate: float, threshold: float
) -> None:
    after = endothelium.count_after(before_per_mm2=before, loss_share=loss)
    years = endothelium.years_to(count_per_mm2=after, threshold_per_mm2=threshold, yearly_rate=rate)
    then = endothelium.count_later(count_per_mm2=after, years=years, yearly_rate=rate)
    assert float(then) == pytest.approx(min(float(after), threshold), rel=1e-9)
    assert (float(years) == 0.0) == (float(after) <= threshold)


@given(COUNTS, COUNTS, LOSSES)
def test_more_cells_before_are_more_cells_after(one: float, other: float, loss: float) -> None:
    low, high = sorted((one, other))
    after = endothelium.count_after(before_per_mm2=[low, high], loss_share=loss)
    assert after[0] <= after[1]


@given(st.floats(0.0, 0.5), st.floats(0.01, 0.3), st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_a_loss_is_a_share_and_rises_with_its_probability(
    mean: float, sd: float, one: float, other: float
) -> None:
    low, high = endothelium.loss_quantile(
        mean_share=mean, sd_share=sd, probability=sorted((one, other))
    )
    assert 0.0 <= low <= high <= 1.0


@given(COUNTS, RATES, st.floats(0.1, 60.0))
def test_the_rate_between_two_counts_leads_from_one_to_the_other(
    before: float, rate: float, years: float
) -> None:
    after = endothelium.count_later(count_per_mm2=before, years=years, yearly_rate=rate)
    found = endothelium.yearly_rate(before_per_mm2=before, after_per_mm2=after, years=years)
    assert float(found) == pytest.approx(rate, rel=1e-6)


def test_what_is_not_known_stays_so_and_arrays_broadcast() -> None:
    after = endothelium.count_after(before_per_mm2=[np.nan, 2000.0], loss_share=0.2)
    assert np.isnan(after[0])
    years = endothelium.years_to(
        count_per_mm2=after[:, None], threshold_per_mm2=[500.0, 700.0], yearly_rate=0.025
    )
    assert years.shape == (2, 2)
    assert np.isnan(years[0]).all()
    assert np.isfinite(years[1]).all()
