"""What must hold of any set-up: ways there and back, order, and what is not a number."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas.fluidics import cup_test, steady, surge, units

HEIGHTS = st.floats(15.0, 120.0)
LINEAR = st.floats(0.02, 2.0)
SQUARE = st.sampled_from([0.0, 1e-5, 5e-4, 5e-3])
OUT = st.floats(0.5, 8.0)
FLOWS = st.floats(1.0, 60.0)
LEAKS = st.sampled_from([0.0, 0.05, 0.3])


@given(HEIGHTS, FLOWS, LINEAR, SQUARE, LEAKS)
def test_the_height_for_a_pressure_leads_back_to_it(
    pressure: float, flow: float, linear: float, square: float, leak: float
) -> None:
    way = {
        "linear_mmhg_per_ml_min": linear,
        "square_mmhg_per_ml2_min2": square,
        "leak_ml_min_per_mmhg": leak,
    }
    height = steady.height_pressure_for_mmhg(
        chamber_pressure_mmhg=pressure, flow_ml_min=flow, **way
    )
    back = steady.chamber_pressure_mmhg(height_pressure_mmhg=height, flow_ml_min=flow, **way)
    assert float(back) == pytest.approx(pressure, rel=1e-9)
    found = steady.flow_for_pressure_ml_min(
        height_pressure_mmhg=height, chamber_pressure_mmhg=pressure, **way
    )
    assert float(found) == pytest.approx(flow, rel=1e-6, abs=1e-6)


@given(HEIGHTS, FLOWS, LINEAR, LEAKS)
def test_without_an_opening_it_is_the_printed_law(
    pressure: float, flow: float, linear: float, leak: float
) -> None:
    found = steady.chamber_pressure_mmhg(
        height_pressure_mmhg=pressure,
        flow_ml_min=flow,
        linear_mmhg_per_ml_min=linear,
        leak_ml_min_per_mmhg=leak,
    )
    printed = (pressure - linear * flow) / (1.0 + linear * leak)
    assert float(found) == pytest.approx(printed, rel=1e-9, abs=1e-9)


@given(HEIGHTS, st.floats(0.0, 12.0), LINEAR, SQUARE, OUT)
def test_the_highest_vacuum_has_the_allowed_floor(
    pressure: float, allowed: float, linear: float, square: float, out: float
) -> None:
    setup = {
        "height_pressure_mmhg": pressure,
        "linear_mmhg_per_ml_min": linear,
        "square_mmhg_per_ml2_min2": square,
        "aspiration_mmhg_per_ml_min": out,
    }
    vacuum = surge.highest_vacuum_mmhg(allowed_floor_mmhg=allowed, **setup)
    floor = surge.floor_mmhg(vacuum_mmhg=vacuum, **setup)
    assert float(floor) == pytest.approx(allowed, rel=1e-7, abs=1e-7)


@given(HEIGHTS, st.floats(0.0, 700.0), LINEAR, OUT)
def test_the_floor_is_the_printed_divider_and_falls_with_vacuum(
    pressure: float, vacuum: float, linear: float, out: float
) -> None:
    setup = {"linear_mmhg_per_ml_min": linear, "aspiration_mmhg_per_ml_min": out}
    floors = surge.floor_mmhg(
        height_pressure_mmhg=pressure, vacuum_mmhg=[vacuum, vacuum + 10.0], **setup
    )
    ratio = linear / out
    assert float(floors[0]) == pytest.approx((pressure - ratio * vacuum) / (1.0 + ratio), abs=1e-7)
    assert floors[1] < floors[0] <= pressure


@given(HEIGHTS, LINEAR, OUT)
def test_a_higher_infusion_a_wider_way_in_and_a_narrower_way_out_allow_more_vacuum(
    pressure: float, linear: float, out: float
) -> None:
    def limit(height: float, way_in: float, way_out: float) -> float:
        return float(
            surge.highest_vacuum_mmhg(
                height_pressure_mmhg=height,
                allowed_floor_mmhg=10.0,
                linear_mmhg_per_ml_min=way_in,
                aspiration_mmhg_per_ml_min=way_out,
            )
        )

    here = limit(pressure, linear, out)
    assert limit(pressure + 5.0, linear, out) > here
    assert limit(pressure, linear * 0.9, out) > here
    assert limit(pressure, linear, out * 1.1) > here


def test_what_is_not_known_stays_so_and_arrays_broadcast() -> None:
    found = steady.chamber_pressure_mmhg(
        height_pressure_mmhg=[[50.0], [np.nan]],
        flow_ml_min=[10.0, 20.0, 30.0],
        linear_mmhg_per_ml_min=0.3,
    )
    assert found.shape == (2, 3)
    assert np.isnan(found[1]).all()
    assert not np.isnan(found[0]).any()
    low = surge.highest_vacuum_mmhg(
        height_pressure_mmhg=5.0,
        allowed_floor_mmhg=10.0,
        linear_mmhg_per_ml_min=0.3,
        aspiration_mmhg_per_ml_min=3.0,
    )
    assert np.isnan(low), "the height does not reach the floor"


@given(st.floats(20.0, 150.0), st.floats(-50.0, 50.0))
def test_what_is_set_and_what_the_eye_gets_are_each_others_way_back(
    height: float, offset: float
) -> None:
    shown = units.height_to_set(above_the_eye_cm=height, zero_above_the_eye_cm=offset)
    back = units.height_above_the_eye(shown_cm=shown, zero_above_the_eye_cm=offset)
    assert float(back) == pytest.approx(height)


@given(LINEAR, st.sampled_from([0.0, 1e-4, 2e-3]), st.floats(30.0, 60.0), st.floats(1.3, 2.5))
def test_two_readings_without_error_give_both_parts_back(
    linear: float, square: float, height: float, further: float
) -> None:
    pressure = np.array([height, height * further])
    flow = steady.flow_for_drop_ml_min(
        drop_mmhg=pressure, linear_mmhg_per_ml_min=linear, square_mmhg_per_ml2_min2=square
    )
    line = cup_test.resistance_line(
        pressure_mmhg=pressure, flow_ml_min=flow, pressure_sd=0.7, flow_sd=0.02 * flow
    )
    assert float(line.linear_mmhg_per_ml_min) == pytest.approx(linear, rel=1e-6, abs=1e-7)
    assert float(line.square_mmhg_per_ml2_min2) == pytest.approx(square, rel=1e-6, abs=1e-9)


def test_the_closed_form_of_the_spreads_is_what_many_cups_show() -> None:
    chance = np.random.default_rng(20261125)
    pressure, linear, square = np.array([45.0, 75.0, 90.0]), 0.25, 0.0008
    flow = steady.flow_for_drop_ml_min(
        drop_mmhg=pressure, linear_mmhg_per_ml_min=linear, square_mmhg_per_ml2_min2=square
    )
    spreads = {"pressure_sd": np.full(3, 0.5), "flow_sd": 0.015 * flow}
    many = cup_test.resistance_line(
        pressure_mmhg=pressure + chance.normal(0.0, 0.5, (20_000, 3)),
        flow_ml_min=flow + chance.normal(0.0, 0.015 * flow, (20_000, 3)),
        **spreads,
    )
    one = cup_test.resistance_line(pressure_mmhg=pressure, flow_ml_min=flow, **spreads)
    assert np.std(many.linear_mmhg_per_ml_min) == pytest.approx(float(one.linear_sd), rel=0.05)
    assert np.std(many.square_mmhg_per_ml2_min2) == pytest.approx(float(one.square_sd), rel=0.05)
    assert np.mean(many.linear_mmhg_per_ml_min) == pytest.approx(linear, abs=0.01)
    at = {"flow_ml_min": 20.0}
    shown = many.linear_mmhg_per_ml_min + 20.0 * many.square_mmhg_per_ml2_min2
    assert np.std(shown) == pytest.approx(float(cup_test.line_sd(line=one, **at)), rel=0.05)


def test_one_height_cannot_tell_tube_and_opening_apart() -> None:
    line = cup_test.resistance_line(
        pressure_mmhg=[50.0, 50.0], flow_ml_min=[120.0, 120.0], pressure_sd=0.7, flow_sd=3.0
    )
    assert np.isnan(line.square_mmhg_per_ml2_min2)


def test_readings_that_disagree_widen_the_spread_and_one_alone_has_no_scatter() -> None:
    apart = cup_test.weighted_mean(values=[0.30, 0.40], sds=[0.01, 0.01])
    close = cup_test.weighted_mean(values=[0.30, 0.31], sds=[0.01, 0.01])
    alone = cup_test.weighted_mean(values=[0.30], sds=[0.01])
    assert apart.sd > 4.0 * close.sd
    assert np.isnan(alone.scatter)
    assert float(alone.sd) == pytest.approx(0.01)
