"""The invented eyes are what their figures say."""

from __future__ import annotations

import numpy as np
import pytest

from population.cohort import draw, figures, length_quantile_mm
from published.printed import half_unit


def test_lengths_have_the_printed_shape() -> None:
    count = 400_000
    lengths = length_quantile_mm((np.arange(count) + 0.5) / count)
    found = {
        "mean_mm": lengths.mean(),
        "sd_mm": lengths.std(),
        "percent_below_20": 100.0 * np.mean(lengths < 20.0),
        "percent_below_22": 100.0 * np.mean(lengths < 22.0),
        "percent_above_26": 100.0 * np.mean(lengths > 26.0),
        "percent_above_30": 100.0 * np.mean(lengths > 30.0),
    }
    printed = {name: text for name, text in figures()["length"]["gives"].items() if name in found}
    assert set(printed) == set(found)
    for name, text in printed.items():
        assert found[name] == pytest.approx(float(text), abs=half_unit(text)), name


def test_eyes_hang_together() -> None:
    eyes = draw(eyes=200_000, seed=74)
    together = np.corrcoef(eyes[:3])
    assert together[0, 2] == pytest.approx(0.51, abs=0.01)
    assert together[0, 1] == pytest.approx(-0.23, abs=0.01)
    assert 100.0 * np.mean(eyes.chamber_depth_mm < 2.5) == pytest.approx(7.9, abs=0.2)
    assert eyes.contact_ultrasound.mean() == pytest.approx(0.03, abs=0.001)


def test_a_seed_gives_the_same_eyes() -> None:
    first, again = (draw(eyes=50, seed=3) for _ in range(2))
    assert all(np.array_equal(a, b) for a, b in zip(first, again, strict=True))
