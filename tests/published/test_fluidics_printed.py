"""The physics of the machine against printed and computed values, each used or saying why not."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from zonule.formulas.fluidics import compliance, heat, steady, surge, units
from zonule.library.reading import STATUSES, table

ENTRIES: list[dict[str, Any]] = tomllib.loads(
    Path(__file__).with_name("fluidics.toml").read_text("utf-8")
)["entry"]
BY_ID = {one["id"]: one for one in ENTRIES}
DATA = table("fluidics")
PER_CM = DATA["units"]["mmhg_per_cmh2o"]


def with_part(part: str) -> list[Any]:
    return [pytest.param(one, id=one["id"]) for one in ENTRIES if part in one]


def pressure_of(height_cm: Any) -> Any:
    return units.mmhg_from_cm(height_cm=float(height_cm), mmhg_per_cmh2o=PER_CM)


def test_every_case_is_used_or_says_why_not() -> None:
    numbers = (*range(1, 4), *range(5, 16), 17, 18, 21, 23)
    assert {f"PC-{number:02d}" for number in numbers} <= set(BY_ID)
    assert len(BY_ID) == len(ENTRIES)
    for one in ENTRIES:
        assert one["printed"], one["id"]
        assert one["status"] in STATUSES, one["id"]
        assert one["use"] in ("test", "unused"), one["id"]
        assert bool(one.get("reason")) == (one["use"] == "unused"), one["id"]
    assert sum(one["use"] == "test" for one in ENTRIES) == 15


def test_the_factor_follows_from_the_definitions() -> None:
    exact = units.PASCAL_PER_CMH2O / units.PASCAL_PER_MMHG
    assert pytest.approx(exact, abs=5e-6) == PER_CM


@pytest.mark.parametrize(("case", "height_cm"), [("PC-01", 75.0), ("PC-02", 150.0)])
def test_heights_are_the_printed_pressures(case: str, height_cm: float) -> None:
    one = BY_ID[case]
    assert pressure_of(height_cm) == pytest.approx(float(one["value"]), abs=float(one["tolerance"]))


def test_the_span_of_irrigation_resistance_is_what_the_computed_flow_gives() -> None:
    one, row = BY_ID["PC-03"], DATA["irrigation"]
    found = [(float(pressure_of(100.0)) - float(value)) / 40.0 for value in one["values"]]
    assert found == pytest.approx([float(text) for text in one["hence"]], abs=0.005)
    ends = [row["high_mmhg_per_ml_min"], row["low_mmhg_per_ml_min"]]
    assert found == pytest.approx(ends, abs=float(one["tolerance"]))


def test_the_span_of_aspiration_resistance_is_what_was_shown_on_the_bench() -> None:
    one, row = BY_ID["PC-09"], DATA["aspiration"]
    apparent = float(one["value"]) / float(one["flow"])
    assert apparent == pytest.approx(float(one["hence"]), abs=float(one["tolerance"]))
    assert row["high_mmhg_per_ml_min"] == float(one["hence"])
    assert row["low_mmhg_per_ml_min"] == pytest.approx(115.0 / 58.5, abs=0.05)


def test_surge_has_the_printed_direction() -> None:
    one = BY_ID["PC-07"]
    pressures = np.array([float(text) for text in one["pressures"]])[:, None]
    vacuums = np.array([float(text) for text in one["vacuums"]])
    floors = surge.floor_mmhg(
        height_pressure_mmhg=pressures,
        vacuum_mmhg=vacuums,
        linear_mmhg_per_ml_min=0.25,
        aspiration_mmhg_per_ml_min=3.0,
    )
    volumes = compliance.cube_root_law_volume_ul(
        from_mmhg=floors, to_mmhg=pressures, k_per_ul=DATA["globe"]["cube_root"]["k_per_ul"]
    )
    assert (np.diff(volumes, axis=1) > 0.0).all(), "more vacuum, more surge"
    assert (np.diff(volumes, axis=0) < 0.0).all(), "more pressure, less surge"
    assert volumes.min() == volumes[-1, 0]


def test_nothing_above_what_a_machine_was_seen_to_reach_is_shown_as_a_figure() -> None:
    assert DATA["highest_vacuum"]["shown_up_to_mmhg"] == float(BY_ID["PC-11"]["value"])


@pytest.mark.parametrize("one", with_part("steady"))
def test_steady_pressure(one: dict[str, Any]) -> None:
    case = one["steady"]
    found = steady.chamber_pressure_mmhg(
        height_pressure_mmhg=pressure_of(case["height_cm"]),
        flow_ml_min=float(case["flow"]),
        linear_mmhg_per_ml_min=float(case["irrigation"]),
        leak_ml_min_per_mmhg=float(case["leak"]),
    )
    assert found == pytest.approx(float(one["value"]), abs=float(one["tolerance"]))


@pytest.mark.parametrize("one", with_part("surge"))
def test_start_end_and_floor_of_a_surge(one: dict[str, Any]) -> None:
    case = {name: float(text) for name, text in one["surge"].items()}
    start = float(pressure_of(case["height_cm"]))
    way = {"height_pressure_mmhg": start, "linear_mmhg_per_ml_min": case["irrigation"]}
    settles = float(steady.chamber_pressure_mmhg(flow_ml_min=case["flow"], **way))
    floor = float(
        surge.floor_mmhg(
            vacuum_mmhg=case["vacuum"], aspiration_mmhg_per_ml_min=case["aspiration"], **way
        )
    )
    assert start == pytest.approx(case["start"], abs=case["tolerance"])
    assert floor == pytest.approx(case["floor"], abs=case["tolerance"])
    assert settles == pytest.approx(case.get("settles", settles), abs=case["tolerance"])
    assert floor < case["lowest"] < start, "the true lowest pressure lies above the floor"


def test_the_volume_that_the_globe_gave_up_fits_its_law() -> None:
    case = BY_ID["PC-15"]["surge"]
    found = compliance.cube_root_law_volume_ul(
        from_mmhg=float(case["lowest"]),
        to_mmhg=pressure_of(case["height_cm"]),
        k_per_ul=DATA["globe"]["cube_root"]["k_per_ul"],
    )
    assert found == pytest.approx(float(case["volume_ul"]), abs=0.05)


def test_compliance_by_three_laws() -> None:
    case, laws = BY_ID["PC-21"]["compliance"], DATA["globe"]
    pressure = [float(text) for text in case["pressures"]]
    found = {
        "cube_root": compliance.cube_root_law_ul_per_mmhg(
            pressure_mmhg=pressure, k_per_ul=laws["cube_root"]["k_per_ul"]
        ),
        "logarithmic": compliance.logarithmic_law_ul_per_mmhg(
            pressure_mmhg=pressure,
            rigidity_log10_per_ul=laws["logarithmic"]["rigidity_log10_per_ul"],
        ),
        "living_eye": compliance.living_eye_law_ul_per_mmhg(
            pressure_mmhg=pressure,
            volume_ul=laws["living_eye"]["volume_ul"],
            c0=laws["living_eye"]["c0"],
            c1_per_mmhg=laws["living_eye"]["c1_per_mmhg"],
        ),
    }
    for law, values in found.items():
        printed = [float(text) for text in case[law]]
        assert values == pytest.approx(printed, abs=float(case["tolerance"])), law


def test_a_law_of_the_globe_is_the_slope_of_its_volume() -> None:
    step = 1e-4
    volume = compliance.cube_root_law_volume_ul(
        from_mmhg=30.0 - step, to_mmhg=30.0 + step, k_per_ul=0.03
    )
    slope = compliance.cube_root_law_ul_per_mmhg(pressure_mmhg=30.0, k_per_ul=0.03)
    assert volume / (2.0 * step) == pytest.approx(float(slope), rel=1e-6)


def test_the_known_limit_is_still_one_with_resistance_alone_machines_are_ranked_wrongly() -> None:
    resistances = [float(text) for text in BY_ID["PC-23"]["resistances"]]
    floors = surge.floor_mmhg(
        height_pressure_mmhg=55.0,
        vacuum_mmhg=400.0,
        linear_mmhg_per_ml_min=0.25,
        aspiration_mmhg_per_ml_min=resistances,
    )
    assert floors.argmin() == 0, (
        "the least resistance has the deepest floor; the bench saw the least"
    )


def test_heat_follows_from_density_and_heat_capacity() -> None:
    water = DATA["water"]
    capacity = {"heat_capacity_j_per_g_k": water["heat_capacity_j_per_g_k"]}
    flowing = heat.rise_in_flow_k(
        power_w=1.0, flow_ml_min=1.0, density_g_per_ml=water["density_g_per_ml"], **capacity
    )
    blocked = heat.rise_when_blocked_k_per_s(
        power_w=1.0, mass_g=water["blocked_mass_g"], **capacity
    )
    for name, found in (("heat-14.35", flowing), ("heat-blocked", blocked)):
        one = BY_ID[name]
        assert found == pytest.approx(float(one["value"]), abs=float(one["tolerance"])), name
