"""A cup test against the set-up it was simulated from, and what is said where there is none."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas.fluidics.steady import flow_for_drop_ml_min
from zonule.library.reading import table
from zonule.plan.cup_test import aspiration_of, irrigation_of, mmhg_per_cmh2o
from zonule.practice.machine import CupTest

DAY = date(2026, 11, 16)
DATA = table("fluidics")
LINEAR, OUT = st.floats(0.15, 0.8), st.floats(1.5, 5.0)


def reading(
    height_cm: float, linear: float, square: float = 0.0, out: float | None = None
) -> CupTest:
    """Return the reading of a set-up, without error."""
    flow = float(
        flow_for_drop_ml_min(
            drop_mmhg=height_cm * mmhg_per_cmh2o(),
            linear_mmhg_per_ml_min=linear,
            square_mmhg_per_ml2_min2=square,
        )
    )
    return CupTest(
        height_cm=height_cm,
        collected_ml=flow,
        seconds=60.0,
        measured_on=DAY,
        vacuum_shown_mmhg=None if out is None else out * 30.0,
        aspiration_flow_ml_min=None if out is None else 30.0,
    )


@given(LINEAR, OUT)
def test_one_resistance_comes_back_from_one_height_or_two(linear: float, out: float) -> None:
    one = irrigation_of([reading(75.0, linear, out=out)])
    two = irrigation_of([reading(60.0, linear), reading(100.0, linear)])
    assert (one.verdict, two.verdict) == ("one_height", "agree")
    for found in (one, two):
        assert found.linear_mmhg_per_ml_min == pytest.approx(linear, rel=1e-6)
        assert found.square_mmhg_per_ml2_min2 == 0.0
        assert found.linear_sd > 0.0
    way_out = aspiration_of([reading(75.0, linear, out=out)])
    assert way_out.mmhg_per_ml_min == pytest.approx(out, rel=1e-6)


def test_two_heights_that_one_resistance_cannot_serve_say_so_and_give_both_parts() -> None:
    tests = [reading(40.0, 0.15, 0.002), reading(110.0, 0.15, 0.002)]
    sure = [replace(one, collected_sd_ml=0.5, height_sd_cm=0.2) for one in tests]
    found = irrigation_of(sure)
    assert found.verdict == "differ"
    assert found.linear_mmhg_per_ml_min == pytest.approx(0.15, abs=1e-6)
    assert found.square_mmhg_per_ml2_min2 == pytest.approx(0.002, abs=1e-8)
    unsure = [replace(one, collected_sd_ml=20.0) for one in tests]
    assert irrigation_of(unsure).verdict == "agree", "read so badly, nothing speaks against it"


def test_of_heights_that_contradict_each_other_the_safer_one_is_used() -> None:
    found = irrigation_of([reading(60.0, 0.40), reading(100.0, 0.25)])
    alone = irrigation_of([reading(60.0, 0.40)])
    assert found.verdict == "contradict"
    assert found.linear_sd > 3.0 * alone.linear_sd
    assert found.linear_mmhg_per_ml_min == pytest.approx(0.40, rel=1e-6)


def test_without_a_cup_test_the_published_span_holds_nine_of_ten() -> None:
    for found, row, spread in (
        (
            irrigation_of(()).linear_mmhg_per_ml_min,
            DATA["irrigation"],
            np.sqrt(
                np.log1p(
                    (irrigation_of(()).linear_sd / irrigation_of(()).linear_mmhg_per_ml_min) ** 2
                )
            ),
        ),
        (aspiration_of(()).mmhg_per_ml_min, DATA["aspiration"], aspiration_of(()).log_sd),
    ):
        low, high = row["low_mmhg_per_ml_min"], row["high_mmhg_per_ml_min"]
        assert found * np.exp(-1.6449 * spread) == pytest.approx(low, rel=1e-3)
        assert found * np.exp(1.6449 * spread) == pytest.approx(high, rel=1e-3)
    assert not irrigation_of(()).own
    assert not aspiration_of(()).own


def test_a_height_alone_says_nothing_of_the_way_out() -> None:
    assert not aspiration_of([reading(75.0, 0.3)]).own


def test_vacuums_that_disagree_are_told() -> None:
    tests = [reading(75.0, 0.3, out=2.0), reading(75.0, 0.3, out=4.0)]
    assert not aspiration_of(tests).agree
    assert aspiration_of(tests[:1]).agree


def test_the_band_of_a_cup_test_covers_the_set_up_as_often_as_it_says() -> None:
    chance, usual = np.random.default_rng(7), DATA["reading"]
    truth, inside, draws = 0.35, 0, 400
    for _ in range(draws):
        tests = [
            replace(
                true,
                height_cm=true.height_cm + chance.normal(0.0, usual["height_sd_cm"]),
                collected_ml=true.collected_ml + chance.normal(0.0, usual["collected_sd_ml"]),
                seconds=true.seconds + chance.normal(0.0, usual["seconds_sd"]),
            )
            for true in (reading(height, truth) for height in (60.0, 70.0))
        ]
        found = irrigation_of(tests)
        off = abs(found.linear_mmhg_per_ml_min - truth)
        inside += found.square_mmhg_per_ml2_min2 == 0.0 and off < 1.6449 * found.linear_sd
    assert 0.83 < inside / draws < 0.96
