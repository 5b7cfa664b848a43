"""Points: unknown rows keep the sum open, and the band follows the sum."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas.risk import points

answers = st.sampled_from([0.0, 1.0, float("nan")])
rows = st.lists(st.tuples(st.integers(0, 3), answers), min_size=1, max_size=16)


@given(rows)
def test_the_sum_lies_between_fewest_and_most_or_is_open(listed: list[tuple[int, float]]) -> None:
    worth, present = zip(*listed, strict=True)
    few, many = points.least_and_most(points=worth, present=present)
    total = points.total(points=worth, present=present)
    assert few <= many
    if np.isnan(present).any():
        assert np.isnan(total)
    else:
        assert few == total == many


def test_a_row_that_is_not_known_is_not_absent() -> None:
    few, many = points.least_and_most(points=[3, 3, 1], present=[1.0, np.nan, 0.0])
    assert (float(few), float(many)) == (3.0, 6.0)


@given(st.integers(0, 30))
def test_the_band_is_the_last_one_whose_lowest_points_are_reached(total: int) -> None:
    lows = [0, 1, 3, 6]
    found = int(points.band(points=total, lows=lows))
    assert lows[found] <= total
    assert found == len(lows) - 1 or total < lows[found + 1]


def test_many_eyes_at_once() -> None:
    present = np.array([[1, 1, 0], [0, 0, 0], [1, np.nan, 1]])
    total = points.total(points=[3, 3, 1], present=present)
    assert points.band(points=total, lows=[0, 1, 3, 6]).tolist() == [3, 0, -1]
