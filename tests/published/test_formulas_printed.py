"""Holds the power formulas to every printed figure about them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest

from published.eyes888 import draw
from published.printed import STATUSES, USES, Computed, Entry, agrees, counts, entries, with_use
from zonule.formulas.optics import thin_lens
from zonule.formulas.power import arguments, constants, from_thin_eye, haigis, keratometry, select
from zonule.formulas.power.srkt import corneal_height_radicand
from zonule.library.reading import reference

LENGTH_WITH_RADIUS = 0.55


def bisect(function: Callable[[float], float], low: float, high: float) -> float:
    for _ in range(100):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if function(middle) > 0.0 else (low, middle)
    return low


def gullstrand_power(front_radius_mm: float, back_radius_mm: float, thickness_mm: float) -> float:
    front = 1000.0 * 0.376 / front_radius_mm
    back = 1000.0 * (1.336 - 1.376) / back_radius_mm
    return front + back - thickness_mm / 1376.0 * front * back


def longest_length(inputs: Mapping[str, Any]) -> float:
    def radicand(axial_length_mm: float) -> float:
        return float(corneal_height_radicand(axial_length_mm=axial_length_mm, **inputs))

    return bisect(radicand, 20.0, 45.0)


def front_surface_factor(inputs: Mapping[str, Any]) -> float:
    front = keratometry.power_from_radius(radius_mm=7.5, index=inputs["corneal_index"])
    read = keratometry.power_from_radius(radius_mm=7.5, index=inputs["keratometer_index"])
    return float(front / read)


def keratometer(inputs: Mapping[str, Any]) -> float:
    return float(keratometry.power_from_radius(**inputs))


def gradient_coefficient(inputs: Mapping[str, Any]) -> float:
    cornea = float(keratometry.power_from_radius(radius_mm=inputs["radius_mm"], index=4.0 / 3.0))
    power = inputs["lens_power_d"]
    slopes = thin_lens.slopes(
        corneal_power_d=cornea,
        length_mm=inputs["axial_length_mm"],
        lens_position_mm=inputs["lens_position_mm"],
        lens_power_d=power,
    )
    return float(slopes.position_d_per_mm / (power**2 + 2.0 * cornea * power))


def surgeon_factor_line(_: Mapping[str, Any]) -> Computed:
    through = constants.pacd_to_surgeon_factor(
        pacd_mm=constants.a_to_pacd(a_constant=np.array([0.0, 1.0]))
    )
    direct = constants.a_to_surgeon_factor(a_constant=np.array([0.0, 1.0]))
    np.testing.assert_allclose(through, direct, atol=0.001)
    return {"slope": float(through[1] - through[0]), "intercept": float(through[0])}


def haigis_intercept(inputs: Mapping[str, Any]) -> float:
    srkt_acd = float(constants.a_to_srkt_acd(a_constant=0.0))
    assert float(constants.a_to_haigis_a0(a_constant=0.0)) == pytest.approx(-72.434, abs=1e-12)
    chamber = inputs["a1"] * inputs["mean_chamber_depth_mm"]
    return float(srkt_acd - chamber - inputs["a2"] * inputs["mean_axial_length_mm"])


def corneal_index(inputs: Mapping[str, Any]) -> float:
    index = float(1.0 + gullstrand_power(**inputs) * inputs["front_radius_mm"] / 1000.0)
    assert index == pytest.approx(haigis.CORNEAL_INDEX, abs=0.00005)
    return index


def keratometer_overestimate(inputs: Mapping[str, Any]) -> float:
    front = inputs["front_radius_mm"]
    true = gullstrand_power(front, front * inputs["radius_ratio"], inputs["thickness_mm"])
    return float(keratometry.power_from_radius(radius_mm=front)) - true


def emmetropic(inputs: Mapping[str, Any], *, longer: float = 0.0, steeper: float = 0.0) -> float:
    return float(
        select("srkt").lens_power(
            axial_length_mm=inputs["axial_length_mm"] + longer,
            corneal_power_d=inputs["corneal_power_d"] + steeper,
            target_refraction_d=0.0,
            a_constant=inputs["a_constant"],
        )
    )


def power_per_mm(inputs: Mapping[str, Any]) -> float:
    return (emmetropic(inputs, longer=-0.5) - emmetropic(inputs, longer=0.5)) / 1.0


def power_per_dioptre(inputs: Mapping[str, Any]) -> float:
    return (emmetropic(inputs, steeper=-0.5) - emmetropic(inputs, steeper=0.5)) / 1.0


def srkt_power(inputs: Mapping[str, Any]) -> float:
    return float(select("srkt").lens_power(**inputs))


def hofferq_power(inputs: Mapping[str, Any]) -> float:
    given = dict(inputs)
    pacd = constants.a_to_pacd(a_constant=given.pop("a_constant"))
    return float(select("hofferq").lens_power(**given, pacd_mm=pacd))


def mean_power(name: str, inputs: Mapping[str, Any], length_with_radius: float) -> float:
    eyes = draw(length_with_radius)
    further = arguments(
        name, anterior_chamber_depth_mm=eyes.anterior_chamber_depth_mm, constants=inputs
    )
    power = select(name).lens_power(
        axial_length_mm=eyes.axial_length_mm,
        corneal_power_d=eyes.corneal_power_d,
        target_refraction_d=eyes.refraction_d,
        **further,
    )
    return float(power.mean())


def mean_power_of(name: str) -> Callable[[Mapping[str, Any]], float]:
    return lambda inputs: mean_power(name, inputs, LENGTH_WITH_RADIUS)


def haigis_with_index(inputs: Mapping[str, Any], index: float) -> float:
    eyes = draw(LENGTH_WITH_RADIUS)
    eye = haigis.thin_eye(
        axial_length_mm=eyes.axial_length_mm,
        corneal_power_d=eyes.corneal_power_d,
        anterior_chamber_depth_mm=eyes.anterior_chamber_depth_mm,
        **{name: inputs[name] for name in ("a0", "a1", "a2")},
    )
    radius = keratometry.radius_mm_from_power(corneal_power_d=eyes.corneal_power_d)
    cornea = keratometry.power_from_radius(radius_mm=radius, index=index)
    power = from_thin_eye.power_for(
        eye._replace(corneal_power_d=cornea), target_refraction_d=eyes.refraction_d
    )
    return float(power.mean())


def only_fitting_index(inputs: Mapping[str, Any]) -> float:
    means = {index: haigis_with_index(inputs, index) for index in inputs["indices"]}
    nearest = min(means, key=lambda index: abs(means[index] - 20.62))
    assert nearest == haigis.CORNEAL_INDEX
    assert [index for index in means if abs(means[index] - 20.62) <= 0.06] == [nearest]
    return means[nearest]


def printed_long_fraction(axial_length_mm: Any, corneal_power_d: Any, target_d: Any) -> Any:
    eye = select("srkt").thin_eye(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d, a_constant=118.4
    )
    index, less_one, vertex = 1.336, 0.333, 12.0
    radius, length, position = 337.5 / corneal_power_d, eye.length_mm, eye.lens_position_mm
    retina = index * radius - less_one * length
    lens = index * radius - less_one * position
    upper = retina - 0.001 * target_d * (vertex * retina + length * radius)
    lower = lens - 0.001 * target_d * (vertex * lens + position * radius)
    return 1000.0 * index * upper / ((length - position) * lower)


def long_fraction_difference(_: Mapping[str, Any]) -> float:
    draws = np.random.default_rng(1990).uniform(size=(3, 2000))
    lengths, corneas, targets = 20 + 13 * draws[0], 36 + 13 * draws[1], -8 + 11 * draws[2]
    power = select("srkt").lens_power(
        axial_length_mm=lengths,
        corneal_power_d=corneas,
        target_refraction_d=targets,
        a_constant=118.4,
    )
    return float(np.abs(power - printed_long_fraction(lengths, corneas, targets)).max())


CALCULATIONS: dict[tuple[str, str], Callable[[Mapping[str, Any]], Computed]] = {
    ("srkt.corneal_height_radicand", "longest_axial_length_mm"): longest_length,
    ("keratometry.power_from_radius", "front_surface_factor"): front_surface_factor,
    ("keratometry.power_from_radius", "corneal_power_d"): keratometer,
    ("keratometry.corneal_index", "index"): corneal_index,
    ("keratometry.overestimate", "difference_d"): keratometer_overestimate,
    ("thin_lens.slopes", "gradient_coefficient"): gradient_coefficient,
    ("constants.pacd_to_surgeon_factor", "surgeon_factor_line"): surgeon_factor_line,
    ("constants.a_to_haigis_a0", "intercept_mm"): haigis_intercept,
    ("srkt", "power_per_mm"): power_per_mm,
    ("srkt", "power_per_dioptre"): power_per_dioptre,
    ("srkt", "lens_power_d"): srkt_power,
    ("hofferq", "lens_power_d"): hofferq_power,
    ("srkt", "lens_power_difference_d"): long_fraction_difference,
    ("haigis", "corneal_index"): only_fitting_index,
    **{
        (name, "mean_lens_power_d"): mean_power_of(name)
        for name in ("srkt", "hofferq", "holladay1", "haigis")
    },
}


def computed(entry: Entry) -> Computed:
    return CALCULATIONS[entry.formula, entry.quantity](entry.inputs)


@pytest.mark.parametrize("entry", with_use("formulas", "test"), ids=lambda entry: entry.id)
def test_printed_figure_is_reproduced(entry: Entry) -> None:
    assert agrees(computed(entry), entry), (computed(entry), entry.printed)


@pytest.mark.parametrize("entry", with_use("formulas", "differs"), ids=lambda entry: entry.id)
def test_documented_difference_is_real(entry: Entry) -> None:
    assert not agrees(computed(entry), entry)
    assert entry.reason


def test_every_entry_is_settled() -> None:
    listed = entries("formulas")
    assert len({entry.id for entry in listed}) == len(listed)
    for entry in listed:
        assert entry.use in USES, entry.id
        assert entry.status in STATUSES, entry.id
        assert entry.reason or entry.use == "test", entry.id
        assert entry.tolerance_reason or not entry.tolerance, entry.id
        assert reference(entry.source).key == entry.source


def test_the_file_holds_what_it_says() -> None:
    assert counts("formulas") == {"test": 22, "differs": 1, "unused": 20}


@pytest.mark.parametrize("length_with_radius", [0.30, 0.45, 0.55, 0.60])
@pytest.mark.parametrize("name", ["srkt", "hofferq", "holladay1", "haigis"])
def test_mean_of_888_eyes_does_not_hang_on_the_assumed_correlation(
    name: str, length_with_radius: float
) -> None:
    entry = next(one for one in entries("formulas") if one.id == f"eyes888-whole-{name}")
    assert agrees(mean_power(name, entry.inputs, length_with_radius), entry)


def test_invented_eyes_have_the_printed_shape() -> None:
    eyes = draw(LENGTH_WITH_RADIUS)
    quantiles = np.quantile(eyes.axial_length_mm, [0.05, 0.5, 0.95])
    np.testing.assert_allclose(quantiles, [22.10, 23.90, 26.78], atol=0.15)
    quantiles = np.quantile(eyes.refraction_d, [0.05, 0.5, 0.95])
    np.testing.assert_allclose(quantiles, [-2.38, -0.25, 0.38], atol=0.25)
    assert eyes.axial_length_mm.mean() == pytest.approx(24.10, abs=1e-9)
    assert eyes.axial_length_mm.std(ddof=1) == pytest.approx(1.41, abs=1e-9)
    assert (337.5 / eyes.corneal_power_d).mean() == pytest.approx(7.77, abs=1e-9)
