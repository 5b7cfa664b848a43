"""A second, separate reckoning of the same equations: it tests the coding, not the world.

Values worked out apart from this program, to the digits given. A constant 118.4 and what
converts from it, emmetropia, 44 D and a chamber of 3.1 mm unless said.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from published.printed import half_unit
from zonule.formulas.power import arguments, constants, select, srkt, t2

A_CONSTANT = 118.4
CONVERTED = {
    "a_constant": A_CONSTANT,
    "surgeon_factor": float(constants.a_to_surgeon_factor(a_constant=A_CONSTANT)),
    "pacd_mm": 5.2,
    "a0": float(constants.a_to_haigis_a0(a_constant=A_CONSTANT)),
    "a1": 0.4,
    "a2": 0.1,
}

CONVERSIONS = {  # A: pACD, surgeon factor, SRK/T depth, Haigis a0
    117.0: "4.382 0.657 4.339 0.652",
    118.0: "4.965 1.223 4.964 1.277",
    118.4: "5.199 1.450 5.214 1.527",
    119.0: "5.549 1.790 5.589 1.902",
    119.3: "5.724 1.960 5.776 2.089",
}
PARTIALS = {  # name: at 20, 23.5, 26 and 30 mm, refraction by length, keratometry and power
    "srkt": "-3.08 -0.71 -0.76 -2.10 -0.72 -0.69 -1.90 -0.77 -0.65 -1.45 -0.94 -0.59",
    "t2": "-2.97 -0.66 -0.76 -2.22 -0.81 -0.69 -1.86 -0.89 -0.65 -1.44 -0.97 -0.58",
    "holladay1": "-3.25 -0.82 -0.75 -2.21 -0.82 -0.69 -2.12 -0.85 -0.65 -1.48 -0.98 -0.65",
    "hofferq": "-3.51 -0.83 -0.74 -2.35 -0.92 -0.69 -1.95 -0.95 -0.65 -1.49 -1.00 -0.60",
    "haigis": "-3.85 -0.98 -0.72 -2.62 -0.98 -0.70 -2.07 -0.98 -0.68 -1.49 -0.98 -0.66",
}
GRADIENTS = {  # constant: refraction by constant at 20, 22, 23.5, 25, 27 and 30 mm
    ("srkt", "a_constant"): "1.51 1.07 0.81 0.58 0.34 0.06",
    ("holladay1", "surgeon_factor"): "2.47 1.72 1.29 0.93 0.51 0.06",
    ("hofferq", "pacd_mm"): "2.54 1.75 1.29 0.91 0.51 0.05",
    ("haigis", "a0"): "2.72 1.85 1.36 0.96 0.55 0.11",
}
STEP = 0.001


def test_conversions_of_constants() -> None:
    for a_constant, row in CONVERSIONS.items():
        found = (
            constants.a_to_pacd(a_constant=a_constant),
            constants.a_to_surgeon_factor(a_constant=a_constant),
            constants.a_to_srkt_acd(a_constant=a_constant),
            constants.a_to_haigis_a0(a_constant=a_constant),
        )
        for one, printed in zip(found, row.split(), strict=True):
            assert float(one) == pytest.approx(float(printed), abs=half_unit(printed) + 1e-9)


def refraction_of(name: str, length: float, cornea: float, lens: float, **changed: float) -> float:
    further = arguments(name, anterior_chamber_depth_mm=3.1, constants={**CONVERTED, **changed})
    return float(
        select(name).refraction(
            axial_length_mm=length, corneal_power_d=cornea, lens_power_d=lens, **further
        )
    )


def emmetropic(name: str, length: float) -> float:
    further = arguments(name, anterior_chamber_depth_mm=3.1, constants=CONVERTED)
    power = select(name).lens_power(
        axial_length_mm=length, corneal_power_d=44.0, target_refraction_d=0.0, **further
    )
    return float(power)


@pytest.mark.parametrize("name", PARTIALS)
def test_slopes_of_refraction_at_emmetropia(name: str) -> None:
    expected = np.array(PARTIALS[name].split(), dtype=float).reshape(4, 3)
    for length, row in zip((20.0, 23.5, 26.0, 30.0), expected, strict=True):
        lens = emmetropic(name, length)
        at = np.array([length, 44.0, lens])
        for place, slope in enumerate(row):
            step = STEP * np.eye(3)[place]
            rise = refraction_of(name, *(at + step)) - refraction_of(name, *(at - step))
            assert rise / (2.0 * STEP) == pytest.approx(slope, abs=0.0051), (length, place)


@pytest.mark.parametrize(("name", "constant"), GRADIENTS)
def test_slopes_of_refraction_by_constant(name: str, constant: str) -> None:
    lengths = (20.0, 22.0, 23.5, 25.0, 27.0, 30.0)
    for length, printed in zip(lengths, GRADIENTS[name, constant].split(), strict=True):
        lens = emmetropic(name, length)
        ends = [
            refraction_of(name, length, 44.0, lens, **{constant: CONVERTED[constant] + step})
            for step in (STEP, -STEP)
        ]
        slope = (ends[0] - ends[1]) / (2.0 * STEP)
        assert slope == pytest.approx(float(printed), abs=half_unit(printed) + 0.0001)


def test_positions_across_the_cusp() -> None:
    corneas = np.array([43.0, 45.0, 46.0, 47.0, 48.0, 49.0, 50.0])
    eyes: dict[str, Any] = {
        "axial_length_mm": 28.0,
        "corneal_power_d": corneas,
        "a_constant": A_CONSTANT,
    }
    zero = srkt.lens_position(**eyes)
    absolute = srkt.lens_position(**eyes, negative_radicand="absolute")
    np.testing.assert_allclose(zero, [6.18, 6.96, 7.56, 9.06, 8.91, 8.77, 8.63], atol=0.005)
    np.testing.assert_allclose(absolute[3:], [8.56, 7.15, 6.36, 5.73], atol=0.005)
    np.testing.assert_allclose(
        t2.lens_position(**eyes)[:5], [6.51, 6.78, 6.91, 7.05, 7.18], atol=0.005
    )


@pytest.mark.parametrize(
    ("length", "cornea", "expected"),
    [
        (26.0, 48.0, "7.72 7.72 6.54"),
        (27.0, 48.0, "4.18 3.71 3.40"),
        (28.0, 47.0, "2.56 2.44 2.10"),
    ],
)
def test_powers_across_the_cusp(length: float, cornea: float, expected: str) -> None:
    eye: dict[str, Any] = {
        "axial_length_mm": length,
        "corneal_power_d": cornea,
        "target_refraction_d": 0.0,
        "a_constant": A_CONSTANT,
    }
    found = (
        srkt.lens_power(**eye),
        srkt.lens_power(**eye, negative_radicand="absolute"),
        t2.lens_power(**eye),
    )
    np.testing.assert_allclose(found, np.array(expected.split(), dtype=float), atol=0.005)


@pytest.mark.parametrize(
    ("name", "lowest", "highest"),
    [
        ("srkt", "-11.4", "37.9"),
        ("t2", "-10.9", "37.2"),
        ("holladay1", "-10.1", "39.4"),
        ("hofferq", "-10.9", "40.5"),
    ],
)
def test_range_of_power_over_the_grid(name: str, lowest: str, highest: str) -> None:
    power = select(name).lens_power(
        axial_length_mm=np.arange(2000, 3201)[:, None] / 100.0,
        corneal_power_d=np.arange(152, 193) / 4.0,
        target_refraction_d=0.0,
        **arguments(name, anterior_chamber_depth_mm=None, constants=CONVERTED),
    )
    assert power.min() == pytest.approx(float(lowest), abs=half_unit(lowest))
    assert power.max() == pytest.approx(float(highest), abs=half_unit(highest))


@pytest.mark.parametrize(
    ("cornea", "longest"),
    [(45.0, "33.12"), (46.0, "29.87"), (47.0, "27.85"), (48.0, "26.28"), (49.0, "24.97")],
)
def test_length_at_which_the_radicand_fails(cornea: float, longest: str) -> None:
    at = float(longest)
    around = np.array([at - half_unit(longest) - 0.001, at + half_unit(longest) + 0.001])
    radicand = srkt.corneal_height_radicand(axial_length_mm=around, corneal_power_d=cornea)
    assert (radicand > 0.0).tolist() == [True, False]


def test_the_radicand_holds_up_to_44_dioptres() -> None:
    radicand = srkt.corneal_height_radicand(axial_length_mm=40.0, corneal_power_d=44.0)
    assert radicand > 0.0
