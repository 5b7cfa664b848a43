"""The machine of a plan in figures: the printed laws at every stage, and nothing said silently."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan.cases import NAMES, case, example, planned, practice
from zonule.library.reading import table
from zonule.plan.machine_bands import chamber_at, infusion_for_vacuum_cm, vacuum_limit
from zonule.plan.machine_parts import MachinePhysics
from zonule.plan.machine_physics import machine_physics, setup_of
from zonule.plan.records import Plan
from zonule.practice.machine import CupTest, Machine
from zonule.report import machine_words as said

HARD = example("hard-second-eye")
PER_CM = table("fluidics")["units"]["mmhg_per_cmh2o"]
FREE_CUP = CupTest(
    height_cm=75.0,
    collected_ml=100.0,
    seconds=30.0,
    measured_on=date(2026, 11, 16),
    vacuum_shown_mmhg=90.0,
    aspiration_flow_ml_min=30.0,
)


def with_machine(machine: Machine) -> Plan:
    return planned(case("hard-second-eye"), replace(practice(), machine=machine))


def physics(machine: Machine) -> MachinePhysics:
    return machine_physics(HARD.parts.machine, machine)


@pytest.mark.parametrize("name", NAMES)
def test_every_stage_of_a_plan_has_its_figures(name: str) -> None:
    parts = example(name).parts
    assert [one.stage for one in parts.machine_physics.stages] == [
        one.stage for one in parts.machine
    ]
    for one in parts.machine_physics.stages:
        spread = one.chamber_mmhg
        assert spread.nine_in_ten[0] < spread.half[0] < spread.middle
        assert spread.middle < spread.half[1] < spread.nine_in_ten[1]
        low, high = one.chamber_range_mmhg
        assert low < spread.middle < high
        first, last = one.chamber_by_flow_mmhg
        assert last < spread.middle < first, "more flow, less pressure"
        assert high < one.infusion_mmhg[1]


def test_the_middle_is_the_law_of_steady_flow() -> None:
    setup = HARD.parts.machine_physics.setup
    for one in HARD.parts.machine_physics.stages:
        height, flow = sum(one.infusion_cm) / 2.0, sum(one.flow_ml_min) / 2.0
        resistance = setup.irrigation.linear_mmhg_per_ml_min
        assert one.chamber_mmhg.middle == pytest.approx(height * PER_CM - resistance * flow)


def test_the_highest_vacuum_is_the_law_of_the_floor() -> None:
    setup = HARD.parts.machine_physics.setup
    ratio = setup.irrigation.linear_mmhg_per_ml_min / setup.aspiration.mmhg_per_ml_min
    for one in HARD.parts.machine_physics.stages:
        for limit in one.limits:
            floor = setup.allowed_floor_mmhg
            printed = (limit.infusion_cm * PER_CM - floor * (1.0 + ratio)) / ratio
            assert limit.highest_mmhg.middle == pytest.approx(min(printed, 600.0))
        assert tuple(limit.infusion_cm for limit in one.limits) == one.infusion_cm


@given(st.floats(40.0, 120.0), st.floats(0.0, 25.0))
def test_the_infusion_for_a_vacuum_leads_back(height_cm: float, floor_mmhg: float) -> None:
    setup = setup_of(Machine(allowed_floor_mmhg=floor_mmhg, cup_tests=(FREE_CUP,)))
    limit = vacuum_limit(setup, infusion_cm=height_cm).highest_mmhg.middle
    if 0.0 < limit < 600.0:
        back = infusion_for_vacuum_cm(setup, vacuum_mmhg=limit)
        assert back == pytest.approx(height_cm, rel=1e-6)


@given(st.floats(20.0, 40.0), st.floats(5.0, 60.0))
def test_a_band_holds_its_middle_and_half_lies_within_nine_in_ten(
    height_cm: float, flow_ml_min: float
) -> None:
    for machine in (Machine(), Machine(cup_tests=(FREE_CUP,))):
        setup = setup_of(machine)
        for found in (
            chamber_at(setup, infusion_cm=height_cm, flow_ml_min=flow_ml_min),
            vacuum_limit(setup, infusion_cm=height_cm).highest_mmhg,
        ):
            (low, high), (lowest, highest) = found.half, found.nine_in_ten
            assert lowest <= low <= found.middle <= high <= highest
            assert math.isfinite(lowest)
            assert math.isfinite(highest)


def test_what_to_set_counts_the_offset_in_and_both_units_agree() -> None:
    for one in physics(Machine(infusion_offset_cm=-8.0)).stages:
        assert one.set_cm == (one.infusion_cm[0] + 8.0, one.infusion_cm[1] + 8.0)
        assert one.set_mmhg == pytest.approx([PER_CM * height for height in one.set_cm])
    for one in physics(Machine(infusion_offset_cm=10.0)).stages:
        assert one.set_cm == (one.infusion_cm[0] - 10.0, one.infusion_cm[1] - 10.0)


def test_a_zero_that_is_not_recorded_is_never_read_as_none() -> None:
    unknown, none = physics(Machine()), physics(Machine(infusion_offset_cm=0.0))
    assert all(one.set_cm is None and one.set_mmhg is None for one in unknown.stages)
    assert all(one.set_cm == one.infusion_cm for one in none.stages)
    assert "not recorded" in said.zero(unknown.setup)
    assert "not recorded" not in said.zero(none.setup)


def test_the_offset_changes_what_is_set_and_nothing_in_the_eye() -> None:
    here, there = physics(Machine()), physics(Machine(infusion_offset_cm=-20.0))
    for one, other in zip(here.stages, there.stages, strict=True):
        assert replace(one, set_cm=None, set_mmhg=None) == replace(
            other, set_cm=None, set_mmhg=None
        )


def test_without_a_cup_test_the_figures_are_wider_and_say_so() -> None:
    published, own = with_machine(Machine()), with_machine(Machine(cup_tests=(FREE_CUP,)))
    for one, other in zip(
        published.parts.machine_physics.stages, own.parts.machine_physics.stages, strict=True
    ):
        wide = one.chamber_mmhg.nine_in_ten[1] - one.chamber_mmhg.nine_in_ten[0]
        narrow = other.chamber_mmhg.nine_in_ten[1] - other.chamber_mmhg.nine_in_ten[0]
        assert wide > narrow
    assert "published resistances, not your own" in said.in_one_line(published)
    assert "cup test of 16 November 2026" in said.in_one_line(own)
    for plan in (published, own):
        assert said.in_one_line(plan).endswith("Not validated.")


def test_the_vacuum_range_is_held_against_the_limit_at_the_lowest_infusion() -> None:
    stages = {one.stage: one for one in HARD.parts.machine_physics.stages}
    assert stages["chop"].top_vacuum == "exceeds"
    assert stages["polish"].top_vacuum == "within"
    for one in stages.values():
        limit, top = one.limits[0].highest_mmhg.nine_in_ten, one.vacuum_mmhg[1]
        expected = "exceeds" if top > limit[1] else "may_exceed" if top > limit[0] else "within"
        assert one.top_vacuum == expected
        assert bool(said.top_vacuum(one, 10.0)) == (expected != "within")


def test_a_floor_that_the_height_does_not_reach_allows_no_vacuum() -> None:
    limit = vacuum_limit(setup_of(Machine(allowed_floor_mmhg=40.0)), infusion_cm=50.0)
    assert limit.highest_mmhg.nine_in_ten == (0.0, 0.0)
    assert said.limit(limit) == "none"


def test_heat_is_told_for_stages_with_power_only() -> None:
    for setting in HARD.parts.machine:
        one = HARD.parts.machine_physics.of(setting.stage)
        assert one is not None
        assert (one.heat_k_per_w is None) == setting.power.startswith("none")
        if one.heat_k_per_w is not None:
            expected = [14.35 / flow for flow in reversed(one.flow_ml_min)]
            assert one.heat_k_per_w == pytest.approx(expected, rel=1e-3)


def test_an_own_floor_counts_and_the_assumed_one_says_that_it_is() -> None:
    own, assumed = setup_of(Machine(allowed_floor_mmhg=15.0)), setup_of(Machine())
    assert (own.allowed_floor_mmhg, own.own_floor) == (15.0, True)
    assert assumed.allowed_floor_mmhg == table("fluidics")["allowed_floor"]["mmhg"]
    assert "assumed" in said.floor(assumed)
    assert "practice file" in said.floor(own)
