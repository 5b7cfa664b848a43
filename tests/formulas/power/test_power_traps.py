"""The places where an implementation of these formulas goes wrong without anyone noticing."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from zonule.errors import NoSuchName
from zonule.formulas.power import constants, haigis, hofferq, holladay1, keratometry, srkt, t2

A_CONSTANT = 118.4
HOFFER: dict[str, Any] = {"corneal_power_d": 43.5, "pacd_mm": 5.2}


def test_hofferq_takes_its_tangents_in_degrees() -> None:
    """tan²(44.88°) is the 0.99166 that the formula subtracts."""
    depth = hofferq.chamber_depth(axial_length_mm=23.5, corneal_power_d=44.88, pacd_mm=5.2)
    assert float(depth) == pytest.approx(5.2, abs=0.0001)


@pytest.mark.parametrize(("beyond", "limit"), [(32.0, 31.0), (17.5, 18.5)])
def test_hofferq_limits_the_length_inside_the_chamber_depth_only(
    beyond: float, limit: float
) -> None:
    outside = hofferq.thin_eye(axial_length_mm=beyond, **HOFFER)
    at_limit = hofferq.thin_eye(axial_length_mm=limit, **HOFFER)
    assert outside.lens_position_mm == at_limit.lens_position_mm
    assert outside.length_mm == beyond
    powers = hofferq.lens_power(axial_length_mm=[beyond, limit], target_refraction_d=0.0, **HOFFER)
    assert abs(powers[0] - powers[1]) > 2.0


def test_hofferq_has_no_limit_on_chamber_depth_unless_asked() -> None:
    steep: dict[str, Any] = {"axial_length_mm": 30.0, "corneal_power_d": 48.0, "pacd_mm": 5.2}
    free = hofferq.chamber_depth(**steep)
    limited = hofferq.chamber_depth(**steep, chamber_depth_limits_mm=(2.5, 6.5))
    assert float(free) > 7.0
    assert float(limited) == 6.5
    powers = [
        float(hofferq.lens_power(**steep, target_refraction_d=0.0, **variant))
        for variant in ({}, {"chamber_depth_limits_mm": (2.5, 6.5)})
    ]
    assert 0.2 < abs(powers[0] - powers[1]) < 0.35


def test_each_formula_has_its_own_cornea() -> None:
    """7.5 mm reads 45 D on a keratometer and counts as less in three of the formulas."""
    measured: dict[str, Any] = {"axial_length_mm": 23.5, "corneal_power_d": 45.0}
    assert float(srkt.thin_eye(**measured, a_constant=A_CONSTANT).corneal_power_d) == pytest.approx(
        333.0 / 7.5
    )
    assert float(t2.thin_eye(**measured, a_constant=A_CONSTANT).corneal_power_d) == pytest.approx(
        333.0 / 7.5
    )
    assert float(
        holladay1.thin_eye(**measured, surgeon_factor=1.45).corneal_power_d
    ) == pytest.approx(1000.0 / 3.0 / 7.5)
    assert float(hofferq.thin_eye(**measured, pacd_mm=5.2).corneal_power_d) == 45.0
    eye = haigis.thin_eye(**measured, anterior_chamber_depth_mm=3.1, a0=0.0, a1=0.4, a2=0.1)
    assert float(eye.corneal_power_d) == pytest.approx(331.5 / 7.5)


def test_each_formula_has_its_own_length() -> None:
    measured: dict[str, Any] = {"axial_length_mm": 24.0, "corneal_power_d": 44.0}
    lengthened = 24.0 + 0.65696 - 0.02029 * 24.0
    assert float(srkt.thin_eye(**measured, a_constant=A_CONSTANT).length_mm) == lengthened
    assert float(t2.thin_eye(**measured, a_constant=A_CONSTANT).length_mm) == lengthened
    assert float(holladay1.thin_eye(**measured, surgeon_factor=1.45).length_mm) == 24.2
    assert float(hofferq.thin_eye(**measured, pacd_mm=5.2).length_mm) == 24.0


def test_a_reading_of_another_index_left_alone_is_off_by_0_7_dioptres() -> None:
    entered = keratometry.power_from_radius(radius_mm=7.7, index=1.332)
    carried = keratometry.to_index_1_3375(power_d=entered, index=1.332)
    assert float(carried) == pytest.approx(337.5 / 7.7)
    assert float(carried - entered) == pytest.approx(0.7, abs=0.05)


def test_srkt_corrected_length_steps_up_where_it_is_printed_to() -> None:
    """At 24.2 mm the corrected length jumps by 0.0015 mm and its slope falls to 0.57."""
    lengths = np.array([24.19, 24.2, 24.2 + 1e-9, 24.21])
    radicand = srkt.corneal_height_radicand(axial_length_mm=lengths, corneal_power_d=44.0)
    corrected = 2.0 * np.sqrt((337.5 / 44.0) ** 2 - radicand) / 0.58412
    assert corrected[2] - corrected[1] == pytest.approx(0.0015, abs=0.00005)
    assert (corrected[1] - corrected[0]) / 0.01 == pytest.approx(1.0, abs=1e-6)
    assert (corrected[3] - corrected[2]) / 0.01 == pytest.approx(0.57, abs=0.005)


def test_srkt_sets_a_negative_radicand_to_zero_unless_asked() -> None:
    failing: dict[str, Any] = {"axial_length_mm": 30.0, "corneal_power_d": 47.0}
    radicand = float(srkt.corneal_height_radicand(**failing))
    assert radicand < 0.0
    zero = srkt.lens_position(**failing, a_constant=A_CONSTANT)
    absolute = srkt.lens_position(**failing, a_constant=A_CONSTANT, negative_radicand="absolute")
    assert float(zero) == pytest.approx(337.5 / 47.0 + 0.62467 * A_CONSTANT - 68.747 - 3.336)
    assert float(zero - absolute) == pytest.approx((-radicand) ** 0.5)


@pytest.mark.parametrize(
    "ask",
    [
        srkt.lens_position,
        srkt.thin_eye,
        lambda **asked: srkt.lens_power(**asked, target_refraction_d=0.0),
        lambda **asked: srkt.refraction(**asked, lens_power_d=20.0),
    ],
    ids=["lens_position", "thin_eye", "lens_power", "refraction"],
)
def test_a_wrong_way_with_the_radicand_is_answered_with_the_right_ones(ask: Any) -> None:
    with pytest.raises(NoSuchName) as told:
        ask(
            axial_length_mm=23.5,
            corneal_power_d=44.0,
            a_constant=A_CONSTANT,
            negative_radicand="zeros",
        )
    assert str(told.value) == (
        "There is no way with a negative radicand 'zeros'. Nearest: zero. All: zero, absolute."
    )


def test_holladay1_stops_at_a_radius_of_7_mm() -> None:
    depths = holladay1.anatomical_chamber_depth(
        axial_length_mm=23.5, corneal_power_d=[48.0, 337.5 / 7.0, 49.0, 55.0]
    )
    assert depths[0] < depths[1]
    assert depths[1] == pytest.approx(depths[2], abs=1e-12)
    assert depths[2] == depths[3]


def test_holladay1_stops_at_a_width_of_13_5_mm() -> None:
    longest = 13.5 * 23.45 / 12.5
    assert longest == pytest.approx(25.326)
    depths = holladay1.anatomical_chamber_depth(
        axial_length_mm=[25.2, longest, 25.4, 30.0], corneal_power_d=43.0
    )
    assert depths[0] < depths[1]
    assert depths[1] == pytest.approx(depths[2], abs=1e-12)
    assert depths[2] == depths[3]


def test_the_converted_haigis_constant_asks_for_0_84_dioptres_more_than_srkt() -> None:
    measured: dict[str, Any] = {"axial_length_mm": 23.5, "corneal_power_d": 44.0}
    by_srkt = srkt.lens_power(**measured, target_refraction_d=0.0, a_constant=A_CONSTANT)
    converted: dict[str, Any] = {
        "anterior_chamber_depth_mm": 3.1,
        "a0": constants.a_to_haigis_a0(a_constant=A_CONSTANT),
        "a1": 0.4,
        "a2": 0.1,
    }
    by_haigis = haigis.lens_power(**measured, target_refraction_d=0.0, **converted)
    assert float(by_haigis - by_srkt) == pytest.approx(0.84, abs=0.005)
    left_over = haigis.refraction(**measured, lens_power_d=by_srkt, **converted)
    assert float(left_over) == pytest.approx(0.58, abs=0.005)


def test_haigis_position_does_not_look_at_keratometry() -> None:
    eye = haigis.thin_eye(
        axial_length_mm=24.0,
        corneal_power_d=[40.0, 48.0],
        anterior_chamber_depth_mm=3.1,
        a0=-0.5914,
        a1=0.357,
        a2=0.197,
    )
    assert np.ndim(eye.lens_position_mm) == 0


def test_the_cusp_threshold_is_the_callers() -> None:
    eye: dict[str, Any] = {"axial_length_mm": 26.0, "corneal_power_d": 46.0, "a_constant": 118.4}
    assert srkt.corneal_height_radicand(axial_length_mm=26.0, corneal_power_d=46.0) > 0.0
    assert srkt.cusp_flag(**eye, difference_d=0.01)
    assert not srkt.cusp_flag(**eye, difference_d=5.0)
