"""What must hold for every law: inverse round trip, nesting, monotony."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas.uncertainty import law

dioptres = st.floats(-4.0, 4.0)
spreads = st.floats(0.02, 2.0)
shares = st.floats(1e-6, 1.0 - 1e-6)


@st.composite
def laws(draw: st.DrawFn) -> law.Law:
    count = draw(st.integers(1, 5))
    weights = np.array(draw(st.lists(st.floats(0.01, 1.0), min_size=count, max_size=count)))
    means = np.array(draw(st.lists(dioptres, min_size=count, max_size=count)))
    sds = np.array(draw(st.lists(spreads, min_size=count, max_size=count)))
    return law.Law(weights=weights / weights.sum(), means_d=means, sds_d=sds)


@given(laws(), shares)
def test_cdf_undoes_quantile(any_law: law.Law, share: float) -> None:
    value = law.quantile(any_law, probability=share)
    assert law.cdf(any_law, value_d=value) == pytest.approx(share, abs=1e-9)


@given(laws(), dioptres)
def test_below_and_above_are_everything(any_law: law.Law, value_d: float) -> None:
    below = law.cdf(any_law, value_d=value_d)
    assert below + law.above(any_law, threshold_d=value_d) == pytest.approx(1.0, abs=1e-12)


@given(laws(), st.tuples(st.floats(0.01, 0.999), st.floats(0.01, 0.999)))
def test_a_wider_band_holds_the_narrower(any_law: law.Law, levels: tuple[float, float]) -> None:
    narrow, wide = (law.band(any_law, level=level) for level in sorted(levels))
    slack = 1e-9
    assert wide.low_d <= narrow.low_d + slack
    assert narrow.low_d <= law.median(any_law) + slack
    assert law.median(any_law) <= narrow.high_d + slack
    assert narrow.high_d <= wide.high_d + slack


@given(laws(), st.floats(0.01, 0.99))
def test_a_band_holds_its_share_with_equal_tails(any_law: law.Law, level: float) -> None:
    band = law.band(any_law, level=level)
    below, above = law.cdf(any_law, value_d=band.low_d), law.above(any_law, threshold_d=band.high_d)
    assert below == pytest.approx(float(above), abs=1e-9)
    assert 1.0 - below - above == pytest.approx(level, abs=1e-9)


@given(laws(), dioptres, st.lists(st.floats(0.0, 3.0), min_size=2, max_size=6))
def test_within_rises_with_the_half_width(
    any_law: law.Law, centre_d: float, half_widths_d: list[float]
) -> None:
    widths = np.sort(half_widths_d)
    found = law.within(any_law, centre_d=centre_d, half_width_d=widths)
    assert np.all(np.diff(found) >= -1e-12)
    assert np.all((found >= 0.0) & (found <= 1.0 + 1e-12))


@given(laws(), dioptres, shares)
def test_a_shift_moves_everything_alike(any_law: law.Law, by_d: float, share: float) -> None:
    moved = law.shift(any_law, by_d=by_d)
    before = law.quantile(any_law, probability=share)
    assert law.quantile(moved, probability=share) == pytest.approx(float(before + by_d), abs=1e-9)
    assert law.standard_deviation(moved) == pytest.approx(float(law.standard_deviation(any_law)))


@given(laws(), shares)
def test_a_mirrored_law_has_mirrored_quantiles(any_law: law.Law, share: float) -> None:
    mirrored = any_law._replace(means_d=-any_law.means_d)
    value = law.quantile(any_law, probability=share)
    other = law.quantile(mirrored, probability=1.0 - share)
    assert law.cdf(any_law, value_d=-other) == pytest.approx(share, abs=1e-9)
    assert law.density(mirrored, value_d=-value) == pytest.approx(
        float(law.density(any_law, value_d=value))
    )


@given(laws(), st.floats(0.2, 8.0), st.floats(0.01, 1.0))
def test_the_least_loss_lies_at_its_quantile(
    any_law: law.Law, hyperopia_weight: float, off_d: float
) -> None:
    best = law.quantile(any_law, probability=hyperopia_weight / (hyperopia_weight + 1.0))
    aims = best + np.array([-off_d, 0.0, off_d])
    losses = law.expected_loss(any_law, aim_d=aims, hyperopia_weight=hyperopia_weight)
    assert losses[1] <= losses[0] + 1e-12
    assert losses[1] <= losses[2] + 1e-12
    assert losses[1] >= 0.0


@given(laws(), dioptres, st.floats(0.2, 8.0))
def test_loss_is_mirrored_by_swapping_what_counts_more(
    any_law: law.Law, aim_d: float, weight: float
) -> None:
    mirrored = any_law._replace(means_d=-any_law.means_d)
    here = law.expected_loss(any_law, aim_d=aim_d, hyperopia_weight=weight)
    there = law.expected_loss(mirrored, aim_d=-aim_d, hyperopia_weight=1.0 / weight)
    assert here == pytest.approx(float(weight * there), abs=1e-9)
