"""The mixture of normals: shapes, unknowns, roots, coverage."""

from itertools import product

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ndtr

from zonule.formulas.optics import thin_lens
from zonule.formulas.uncertainty import law

TAIL = {"tail_weight": 0.113, "tail_sd_d": 1.36}
ORDINARY = law.two_component(median_d=-0.4, core_sd_d=0.41, **TAIL)


def test_two_component_is_what_it_says() -> None:
    assert ORDINARY.weights == pytest.approx([0.887, 0.113])
    assert ORDINARY.means_d == pytest.approx([-0.4, -0.4])
    assert ORDINARY.sds_d == pytest.approx([0.41, np.sqrt(0.41**2 + 1.36**2)])


def test_quantile_agrees_with_an_independent_root_finder() -> None:
    lumpy = law.Law(
        weights=np.array([0.3, 0.6, 0.1]),
        means_d=np.array([-3.0, 0.0, 4.0]),
        sds_d=np.array([0.05, 0.4, 1.3]),
    )
    for given, share in product((ORDINARY, lumpy), (1e-6, 0.05, 0.29, 0.31, 0.5, 0.9, 0.999999)):

        def gap(value: float, given: law.Law = given, share: float = share) -> float:
            scores = (value - given.means_d) / given.sds_d
            return float((given.weights * ndtr(scores)).sum() - share)

        expected = brentq(gap, -30.0, 30.0, xtol=1e-13, rtol=1e-14)
        assert law.quantile(given, probability=share) == pytest.approx(expected, abs=1e-9)


def test_axes_broadcast() -> None:
    by_power = law.two_component(median_d=[-0.6, -0.2, 0.1], core_sd_d=0.4, **TAIL)
    levels = np.array([0.5, 0.8, 0.9])[:, None]
    band = law.band(by_power, level=levels)
    assert band.low_d.shape == band.high_d.shape == (3, 3)
    assert law.within(by_power, centre_d=-0.25, half_width_d=0.5).shape == (3,)
    assert law.sample(by_power, rng=np.random.default_rng(1), count=5).shape == (3, 5)
    one_by_one = law.two_component(median_d=-0.2, core_sd_d=0.4, **TAIL)
    assert band.low_d[2, 1] == pytest.approx(float(law.band(one_by_one, level=0.9).low_d))


@pytest.mark.parametrize(
    "wrong",
    [
        {"median_d": np.nan},
        {"core_sd_d": 0.0},
        {"core_sd_d": -0.4},
        {"tail_weight": 1.2},
        {"tail_weight": -0.1},
        {"tail_sd_d": np.nan},
    ],
)
def test_what_is_unknown_or_impossible_stays_unknown(wrong: dict[str, float]) -> None:
    given = law.two_component(**{"median_d": -0.4, "core_sd_d": 0.41, **TAIL, **wrong})
    assert np.isnan(law.median(given))
    assert np.isnan(law.band(given, level=0.9)).all()
    assert np.isnan(law.within(given, centre_d=0.0, half_width_d=0.5))
    assert np.isnan(law.above(given, threshold_d=0.0))
    assert np.isnan(law.expected_loss(given, aim_d=0.0, hyperopia_weight=2.0))


def test_ends_of_the_law() -> None:
    assert law.quantile(ORDINARY, probability=[0.0, 1.0]).tolist() == [-np.inf, np.inf]
    assert np.isnan(law.quantile(ORDINARY, probability=[-0.1, 1.1, np.nan])).all()


def test_even_nodes_leave_no_ripples() -> None:
    """The worst eye: 20 mm, the lens fixed in the sclera, against two thousand nodes."""
    eye = {"corneal_power_d": 46.0 / 1.0125, "length_mm": 20.0, "lens_power_d": 34.0}
    values = np.linspace(-4.0, 4.0, 401)

    def shares(nodes: law.Nodes) -> np.ndarray:
        at_nodes = thin_lens.refraction(**eye, lens_position_mm=4.8 + 0.56 * nodes.standard_scores)
        given = law.over_positions(
            node_means_d=at_nodes,
            node_weights=nodes.weights,
            core_sd_d=0.33,
            tail_weight=0.02,
            tail_sd_d=1.36,
        )
        return law.cdf(given, value_d=values)

    fine = shares(law.standard_nodes(count=2001, reach=7.0))
    assert np.max(np.abs(shares(law.standard_nodes()) - fine)) < 0.001
    scores, weights = np.polynomial.hermite_e.hermegauss(9)
    coarse = shares(law.Nodes(standard_scores=scores, weights=weights / weights.sum()))
    assert np.max(np.abs(coarse - fine)) > 0.03


def test_nodes_have_the_moments_of_a_unit_normal() -> None:
    nodes = law.standard_nodes()
    moments = [(nodes.weights * nodes.standard_scores**n).sum() for n in range(5)]
    assert moments == pytest.approx([1.0, 0.0, 1.0, 0.0, 3.0], abs=2e-3)


def test_bands_cover_what_they_say() -> None:
    """Tests the coding only: these eyes are drawn from the law itself."""
    leaning = law.over_positions(
        node_means_d=-0.5 + 0.7 * law.standard_nodes().standard_scores - 0.05,
        node_weights=law.standard_nodes().weights,
        core_sd_d=0.35,
        tail_weight=0.02,
        tail_sd_d=1.36,
    )
    for given in (ORDINARY, leaning):
        draws = law.sample(given, rng=np.random.default_rng(20), count=50_000)
        for level in (0.5, 0.8, 0.9):
            band = law.band(given, level=level)
            covered = np.mean((draws >= band.low_d) & (draws <= band.high_d))
            assert covered == pytest.approx(level, abs=0.02)
        assert draws.mean() == pytest.approx(float(law.mean(given)), abs=0.02)
        assert draws.std() == pytest.approx(float(law.standard_deviation(given)), abs=0.02)


def test_expected_loss_is_the_mean_over_draws() -> None:
    draws = law.sample(ORDINARY, rng=np.random.default_rng(4), count=200_000)
    off = draws + 0.25
    mean_loss = np.mean(np.where(off > 0.0, 3.0 * off, -off))
    found = law.expected_loss(ORDINARY, aim_d=-0.25, hyperopia_weight=3.0)
    assert found == pytest.approx(mean_loss, abs=0.01)


def test_a_seed_gives_the_same_draws() -> None:
    first, again = (law.sample(ORDINARY, rng=np.random.default_rng(9), count=10) for _ in range(2))
    assert first.tolist() == again.tolist()


@pytest.mark.parametrize(
    ("core_sd_d", "hyperopia_weight", "below_aim_d"),
    [
        (0.30, 2.0, "0.14"),
        (0.40, 2.0, "0.19"),
        (0.50, 2.0, "0.23"),
        (0.95, 2.0, "0.43"),
        (0.30, 5.0, "0.33"),
        (0.40, 5.0, "0.43"),
        (0.50, 5.0, "0.53"),
        (0.95, 5.0, "0.97"),
    ],
)
def test_how_far_below_the_aim_an_asymmetric_loss_goes(
    core_sd_d: float, hyperopia_weight: float, below_aim_d: str
) -> None:
    given = law.two_component(median_d=0.0, core_sd_d=core_sd_d, **TAIL)
    above_aim = hyperopia_weight / (hyperopia_weight + 1.0)
    found = float(law.quantile(given, probability=above_aim))
    assert found == pytest.approx(float(below_aim_d), abs=0.005)
    near = found + np.array([-0.01, 0.0, 0.01])
    losses = law.expected_loss(given, aim_d=near, hyperopia_weight=hyperopia_weight)
    assert losses.argmin() == 1
