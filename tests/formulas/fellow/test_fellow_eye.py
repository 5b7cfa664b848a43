"""The fellow eye: against simulated pairs, and at its edges."""

from typing import Any

import numpy as np
import pytest

from zonule.formulas import fellow_eye, fellow_pairs
from zonule.formulas.uncertainty import law

BAG = fellow_eye.Eye(
    length_d_per_mm=-2.7898,
    cornea_d_per_d=-0.9936,
    position_d_per_mm=1.416,
    power_d_per_d=-0.6993,
    length_sd_mm=0.018,
    cornea_sd_d=0.10,
    refraction_sd_d=0.14,
    label_sd_d=0.15,
    position_sd_mm=0.12,
    position_mean_sd_mm=0.0,
    anatomy_share=1.0,
)
SULCUS = BAG._replace(
    length_d_per_mm=-2.7206,
    position_d_per_mm=1.3467,
    power_d_per_d=-0.7429,
    position_sd_mm=0.45,
    position_mean_sd_mm=0.12,
    anatomy_share=0.0,
)
SHARED = fellow_eye.Shared(
    length_sd_mm=0.035, cornea_sd_d=0.15, refraction_sd_d=0.14, position_sd_mm=0.14
)
NO_TAIL = {"tail_weight": 0.0, "tail_sd_d": 1.36}
SOME_TAIL = {"tail_weight": 0.02, "tail_sd_d": 1.36}


def carry(**changed: Any) -> fellow_eye.CarryOver:
    given: dict[str, Any] = {"first": BAG, "second": BAG, "shared": SHARED, "first_error_d": -0.6}
    return fellow_eye.carry_over(**{**given, **NO_TAIL, **changed})


class Pairs:
    """Pairs of eyes drawn from the latent errors themselves, not from the closed form."""

    def __init__(
        self, first: fellow_eye.Eye, second: fellow_eye.Eye, *, tail_weight: float, count: int
    ) -> None:
        self.rng = np.random.default_rng(1876)
        self.count = count
        patient = [self.normal(sd) for sd in SHARED]
        self.first_d, self.deviation_mm = self.error(first, patient, tail_weight)
        self.second_d, _ = self.error(second, patient, tail_weight)

    def normal(self, sd: Any) -> np.ndarray:
        return self.rng.normal(0.0, float(sd), self.count)

    def error(
        self, eye: fellow_eye.Eye, patient: list[np.ndarray], tail_weight: float
    ) -> tuple[np.ndarray, np.ndarray]:
        length, cornea, refraction, position = patient
        off_mm = eye.anatomy_share * position + self.normal(eye.position_sd_mm)
        off_mm = off_mm + self.normal(eye.position_mean_sd_mm)
        gross = (self.rng.random(self.count) < tail_weight) * self.normal(1.36)
        error = (
            eye.length_d_per_mm * (length + self.normal(eye.length_sd_mm))
            + eye.cornea_d_per_d * (cornea + self.normal(eye.cornea_sd_d))
            + refraction
            + self.normal(eye.refraction_sd_d)
            + eye.power_d_per_d * self.normal(eye.label_sd_d)
            + eye.position_d_per_mm * off_mm
            + gross
        )
        return np.asarray(error), np.asarray(off_mm)


def rms_ratio(pairs: Pairs, carried_d: np.ndarray) -> float:
    left = pairs.second_d - carried_d
    return float(np.sqrt(np.mean(left**2) / np.mean(pairs.second_d**2)))


def test_half_rule_after_a_loose_sulcus_lens_does_harm() -> None:
    """Carrying half raises the second eye's error by about a fifth; the closed form lowers it.

    100,000 pairs without gross errors; the ratio is then known to about 0.004.
    """
    pairs = Pairs(SULCUS, BAG, tail_weight=0.0, count=100_000)
    assert rms_ratio(pairs, 0.5 * pairs.first_d) == pytest.approx(1.20, abs=0.02)
    carried = carry(first=SULCUS, first_error_d=pairs.first_d)
    assert rms_ratio(pairs, carried.mean_d) == pytest.approx(0.983, abs=0.01)
    assert np.std(pairs.second_d - carried.mean_d) == pytest.approx(carried.sd_d[0], rel=0.01)


def test_half_rule_after_a_bag_lens_helps_less_once_there_are_gross_errors() -> None:
    """With 2 % of gross errors in either eye; heavy tails leave the ratio sure to about 0.01."""
    pairs = Pairs(BAG, BAG, tail_weight=0.02, count=400_000)
    assert rms_ratio(pairs, 0.5 * pairs.first_d) == pytest.approx(0.893, abs=0.02)
    carried = carry(first_error_d=pairs.first_d, **SOME_TAIL)
    assert rms_ratio(pairs, carried.mean_d) == pytest.approx(0.873, abs=0.02)
    assert rms_ratio(pairs, carried.mean_d) < rms_ratio(pairs, 0.5 * pairs.first_d)


def test_measuring_a_loose_lens_is_what_lets_it_speak() -> None:
    pairs = Pairs(SULCUS, BAG, tail_weight=0.0, count=100_000)
    measured = pairs.deviation_mm + pairs.normal(0.10)
    carried = carry(
        first=SULCUS,
        first_error_d=pairs.first_d,
        measured_deviation_mm=measured,
        measured_sd_mm=0.10,
    )
    assert 1.0 - rms_ratio(pairs, carried.mean_d) == pytest.approx(0.07, abs=0.015)
    assert carried.gain[0] == pytest.approx(1.0 - rms_ratio(pairs, carried.mean_d), abs=0.01)


def test_second_eye_law_covers_what_it_says() -> None:
    """Gross errors in either eye, the first lens measured in half of the pairs."""
    pairs = Pairs(SULCUS, BAG, tail_weight=0.05, count=20_000)
    measured = np.where(np.arange(pairs.count) % 2, pairs.deviation_mm, np.nan)
    carried = carry(
        first=SULCUS,
        first_error_d=pairs.first_d,
        measured_deviation_mm=measured,
        measured_sd_mm=0.0,
        tail_weight=0.05,
    )
    after = fellow_eye.second_eye_law(carried, centre_d=0.0, tail_weight=0.05, tail_sd_d=1.36)
    for level in (0.5, 0.8, 0.9):
        band = law.band(after, level=level)
        inside = np.mean((pairs.second_d >= band.low_d) & (pairs.second_d <= band.high_d))
        assert inside == pytest.approx(level, abs=0.015)
    assert law.mean(after) == pytest.approx(carried.mean_d)


def test_without_a_gross_error_the_law_is_the_closed_form() -> None:
    carried = carry()
    after = fellow_eye.second_eye_law(carried, centre_d=-0.25, tail_weight=0.0, tail_sd_d=1.36)
    assert law.standard_deviation(after) == pytest.approx(float(carried.sd_d))
    assert law.mean(after) == pytest.approx(-0.25 + float(carried.mean_d))


def test_not_measured_means_not_measured() -> None:
    plain = carry(first=SULCUS)
    coarse = carry(first=SULCUS, measured_deviation_mm=0.3, measured_sd_mm=1e6)
    assert np.isnan(plain.residual_d)
    assert float(plain.share_of_position_d_per_mm) == 0.0
    assert coarse.share == pytest.approx(float(plain.share))
    assert coarse.sd_d == pytest.approx(float(plain.sd_d))
    forgotten = carry(first=SULCUS, measured_deviation_mm=0.3)
    assert np.isnan(forgotten.mean_d)


def test_an_unknown_first_error_carries_nothing_that_looks_known() -> None:
    assert np.isnan(carry(first_error_d=np.nan).mean_d)
    assert np.isnan(carry(first_error_d=np.nan, **SOME_TAIL).share)


@pytest.mark.parametrize(
    ("unlike", "lost_d2"),
    [
        ("same_length_method", (2.7898 * 0.035) ** 2),
        ("same_keratometer", (0.9936 * 0.15) ** 2),
        ("same_kind_of_refraction", 0.14**2),
    ],
)
def test_what_was_not_measured_alike_is_not_shared(unlike: str, lost_d2: float) -> None:
    alike, apart = carry(), carry(**{unlike: False})
    assert alike.covariance_d2 - apart.covariance_d2 == pytest.approx(lost_d2)
    assert apart.variance_first_d2 == alike.variance_first_d2


def test_the_surgeons_mean_offset_is_shared_in_the_same_placement_only() -> None:
    both = {"first": SULCUS, "second": SULCUS}
    same, other = carry(**both, same_placement=True), carry(**both)
    expected = (1.3467 * 0.12) ** 2
    assert same.covariance_d2 - other.covariance_d2 == pytest.approx(expected)


def test_a_known_bias_is_not_carried_as_a_lesson() -> None:
    """An eye that came out exactly as its formula's bias foretold teaches nothing."""
    carried = carry(first_error_d=0.22, known_bias_first_d=0.22, known_bias_second_d=0.15)
    assert carried.mean_d == pytest.approx(0.15)


def test_many_pairs_at_once() -> None:
    carried = carry(first_error_d=np.array([-0.6, 0.0, 1.2]), **SOME_TAIL)
    assert carried.share.shape == carried.sd_d.shape == (3,)
    assert carried.means_d.shape == carried.sds_d.shape == (3, 2)


def test_gross_errors_for_certain_and_for_certain_not() -> None:
    certain = carry(tail_weight=1.0)
    assert certain.core_probability == 0.0
    variance = float(certain.variance_first_d2) + 1.36**2
    assert certain.share == pytest.approx(float(certain.covariance_d2) / variance)
    assert carry(first_error_d=60.0, **SOME_TAIL).core_probability == pytest.approx(0.0)


def test_own_pairs_are_shrunk_towards_what_was_published() -> None:
    found = fellow_pairs.own_correlation(
        own_correlation=[np.nan, 0.1, 0.1, 0.1],
        own_pairs=[3, 10, 28, 100_000],
        published_correlation=0.55,
        published_sd_z=0.20,
    )
    assert found[0] == pytest.approx(0.55)
    assert np.all(np.diff(found) < 0.0)
    assert found[2] == pytest.approx(np.tanh((np.arctanh(0.55) + np.arctanh(0.1)) / 2.0))
    assert found[3] == pytest.approx(0.1, abs=0.001)


def test_a_fallback_of_the_second_eye_takes_its_own_share() -> None:
    """The patient's own lens depth does not show in a loose sulcus lens, in either eye."""
    carried = carry(second=SULCUS)
    back = carry(first=SULCUS)
    assert carried.covariance_d2 == pytest.approx(float(back.covariance_d2))
    assert carried.share == pytest.approx(0.0511 / 0.1625, abs=0.005)
    assert carried.gain == pytest.approx(0.0166, abs=0.003)
