"""The incision and hook map: what is there, what is proposed, what waits, what clashes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan.cases import NAMES, case, example, planned, practice, with_biometry
from plan.limbus import (
    EVERY_HOOK,
    PORTS_ONLY,
    edges_apart,
    eye_with,
    hours,
    limbal_eyes,
    map_of,
    mirrored,
)
from zonule.findings.answers import Unknown
from zonule.findings.records import Case
from zonule.plan.clock_map import ClockMap
from zonule.plan.main_wound import hour_of, hours_apart
from zonule.practice.records import Practice

FIRING = st.sampled_from([PORTS_ONLY, PORTS_ONLY | {"D-05"}, PORTS_ONLY | {"D-09"}, EVERY_HOOK])


def superior() -> Practice:
    return replace(practice(), habits=replace(practice().habits, main_wound_site="superior"))


@given(limbal_eyes(), FIRING)
def test_the_other_eye_has_the_map_as_in_a_mirror(eye: Case, firing: frozenset[str]) -> None:
    here = map_of(eye, firing=firing, scleral=True)
    there = map_of(mirrored(eye), firing=firing, scleral=True)
    assert {one.key for one in there.marks} == {one.key for one in here.marks}
    for one in here.marks:
        twin = there.mark(one.key)
        assert twin is not None
        assert hours_apart(twin.hour, 12.0 - one.hour) == pytest.approx(0.0, abs=1e-9), one.key
    assert [(one.first, one.second, one.hard) for one in there.clashes] == [
        (one.first, one.second, one.hard) for one in here.clashes
    ]
    if here.steep_axis is not None and here.steep_axis.off_degrees is not None:
        assert there.steep_axis is not None
        assert there.steep_axis.off_degrees == pytest.approx(here.steep_axis.off_degrees)


@given(limbal_eyes(), FIRING)
def test_nothing_is_proposed_nearer_than_20_degrees_or_into_a_bleb(
    eye: Case, firing: frozenset[str]
) -> None:
    clock = map_of(eye, firing=firing)
    stabs = [
        one
        for one in clock.marks
        if one.kind in ("main_wound", "side_port", "iris_hook", "capsule_hook")
    ]
    for at, one in enumerate(stabs):
        for other in stabs[at + 1 :]:
            shared = {one.kind, other.kind} == {"iris_hook", "capsule_hook"}
            under = {one.key, other.key} == {"main_wound", "iris_hook_1"}
            if under or (shared and one.hour == other.hour):
                continue
            assert edges_apart(one, other) >= 20.0 - 1e-6, (one.key, other.key)
        for bleb in clock.of_kind("bleb"):
            assert edges_apart(one, bleb) >= 10.0 - 1e-6, one.key


@given(limbal_eyes(), st.booleans())
def test_wound_and_ports_lie_where_there_is_room_for_hands(eye: Case, from_above: bool) -> None:
    store = superior() if from_above else practice()
    clock = map_of(eye, store=store)
    temporal = hour_of("temporal", clock.side)
    for one in clock.of_kind("main_wound"):
        assert hours_apart(one.hour, temporal) <= 4.0
        assert hours_apart(one.hour, 6.0) >= 1.5
    for one in clock.of_kind("side_port"):
        assert hours_apart(one.hour, 12.0 - temporal) >= 0.5


@given(limbal_eyes())
def test_the_main_wound_keeps_an_hour_and_a_half_off_a_dialysis(eye: Case) -> None:
    clock = map_of(eye)
    for gap in clock.of_kind("dialysis"):
        for wound in clock.of_kind("main_wound"):
            edge = 30.0 * hours_apart(wound.hour, gap.hour) - gap.half_width_degrees
            assert edge >= 45.0 - 1e-6


@given(limbal_eyes())
def test_scleral_ports_lie_exactly_opposite_each_other(eye: Case) -> None:
    clock = map_of(eye, scleral=True)
    ports = hours(clock, "scleral_port")
    assert len(ports) == (0 if clock.asks else 2)
    if ports:
        assert hours_apart(*ports) == 6.0


def test_one_iris_hook_lies_under_the_wound_wherever_that_is() -> None:
    for gap in (3.0, 12.0, 6.0):
        clock = map_of(eye_with(dialysis_clock_hours=3.0, dialysis_centre_clock=gap))
        assert hours(clock, "iris_hook")[0] == hours(clock, "main_wound")[0]


def test_a_surgeon_who_sits_above_gets_wound_and_seat_above() -> None:
    clock = map_of(eye_with(), store=superior())
    assert hours(clock, "main_wound") == [12.0]
    assert clock.seat == "superior"


def test_the_seat_goes_where_the_wound_had_to_go() -> None:
    clock = map_of(eye_with(dialysis_clock_hours=3.0, dialysis_centre_clock=3.0))
    assert clock.seat == "superior"
    (wound,) = clock.of_kind("main_wound")
    assert wound.moved == "off the dialysis"


def test_hooks_hang_the_bag_across_the_gap_with_the_anchor_between_them() -> None:
    clock = map_of(eye_with(dialysis_clock_hours=5.0, dialysis_centre_clock=8.0))
    assert hours(clock, "segment") == [8.0]
    hooks = hours(clock, "capsule_hook")
    assert len(hooks) == 2
    assert all(hours_apart(hour, 8.0) <= 2.5 for hour in hooks)
    assert min(hooks) < 8.0 < max(hooks)


def test_a_gap_of_more_than_seven_hours_has_two_anchors() -> None:
    clock = map_of(eye_with(dialysis_clock_hours=7.5, dialysis_centre_clock=8.0))
    middle, opposite = hours(clock, "segment")
    assert middle == 8.0
    assert hours_apart(opposite, 2.0) <= 1.5


def test_an_anchor_without_a_gap_has_no_hour_and_says_so() -> None:
    clock = map_of(eye_with())
    assert hours(clock, "segment") == []
    assert any("no gap with a middle" in line for line in clock.notes)


@pytest.mark.parametrize(
    ("there", "finding", "says"),
    [
        (
            {"dialysis_clock_hours": 4.0, "dialysis_centre_clock": Unknown.UNKNOWN},
            "dialysis_centre_clock",
            "where the dialysis of 4 clock hours lies is not known",
        ),
        (
            {"hist_glaucoma_surgery": True},
            "bleb_or_tube_clock_hours",
            "",
        ),
        (
            {"hist_glaucoma_surgery": True, "bleb_or_tube_clock_hours": 2.0},
            "bleb_or_tube_clock",
            "where the bleb or tube of 2 clock hours lies is not known",
        ),
    ],
)
def test_what_is_there_but_not_known_where_keeps_every_hour_back(
    there: dict[str, object], finding: str, says: str
) -> None:
    clock = map_of(eye_with(**there))
    assert clock.asks.startswith(says or "where the bleb or tube lies")
    assert finding in clock.waits_for or "bleb_or_tube_clock" in clock.waits_for
    assert not [one for one in clock.marks if not one.fixed]


@pytest.mark.parametrize(
    ("gone", "finding"),
    [
        ({"hist_glaucoma_surgery": None}, "hist_glaucoma_surgery"),
        ({"dialysis_clock_hours": None}, "dialysis_clock_hours"),
        ({"old_wound_clock_hours": None}, "old_wound_clock_hours"),
        ({"limbal_vessels_clock_hours": Unknown.NOT_EXAMINED}, "limbal_vessels_clock_hours"),
    ],
)
def test_what_was_not_looked_for_is_waited_for_and_never_absent(
    gone: dict[str, object], finding: str
) -> None:
    clock = map_of(eye_with(**gone))
    assert clock.waits_for == (finding,)
    assert hours(clock, "main_wound") == [3.0]


def test_an_eye_looked_at_all_round_waits_for_nothing() -> None:
    assert map_of(eye_with()).waits_for == ()


def test_a_bleb_of_unknown_width_is_taken_as_two_hours_and_says_so() -> None:
    clock = map_of(eye_with(hist_glaucoma_surgery=True, bleb_or_tube_clock=11.0))
    (bleb,) = clock.of_kind("bleb")
    assert (bleb.half_width_degrees, bleb.width_assumed) == (30.0, True)
    assert "bleb_or_tube_clock_hours" in clock.waits_for


def test_a_rule_that_still_waits_is_named_beside_the_map() -> None:
    half = example("half-missing").parts.clock_map
    assert not half.of_kind("iris_hook")
    assert any("still waits" in line for line in half.notes)


def test_where_a_gap_takes_every_hour_the_clash_is_said_and_nothing_proposed() -> None:
    clock = map_of(eye_with(dialysis_clock_hours=8.0, dialysis_centre_clock=1.5))
    (near,) = clock.hard
    assert (near.first, near.second, near.apart_degrees) == ("main_wound", "dialysis", None)
    assert clock.asks


def test_a_limbus_without_room_for_everything_names_what_is_not_drawn() -> None:
    clock = map_of(
        eye_with(hist_glaucoma_surgery=True, bleb_or_tube_clock=8.0, bleb_or_tube_clock_hours=6.0)
    )
    not_drawn = {one.first for one in clock.clashes if one.apart_degrees is None}
    assert not_drawn
    assert not not_drawn & {one.key for one in clock.marks}
    assert all(one.do for one in clock.hard)


def test_a_stab_through_vessels_is_a_warning_not_a_clash() -> None:
    clock = map_of(eye_with(limbal_vessels_clock=6.0, limbal_vessels_clock_hours=6.0))
    assert clock.clashes
    assert not clock.hard
    assert any("cautery" in one.do for one in clock.clashes)


@pytest.mark.parametrize(
    ("axis", "off"), [(0.5, 0.5), (90.0, 90.0), (180.0, 0.0), (135.0, 45.0), (45.0, 45.0)]
)
def test_the_wound_is_measured_off_the_steep_axis(axis: float, off: float) -> None:
    clock = map_of(with_biometry(eye_with(), k_steep_axis=axis))
    assert clock.steep_axis is not None
    assert clock.steep_axis.off_degrees == off


def test_a_steep_axis_that_was_not_recorded_comes_from_the_flat_one_and_says_so() -> None:
    bare = with_biometry(eye_with(), k_steep_axis=Unknown.NOT_RECORDED, k_flat_axis=178.0)
    clock = map_of(bare)
    assert clock.steep_axis is not None
    assert (clock.steep_axis.axis, clock.steep_axis.worked_out) == (88.0, True)
    none = with_biometry(bare, k_flat_axis=Unknown.NOT_RECORDED)
    assert map_of(none).steep_axis is None


@pytest.mark.parametrize("name", NAMES)
def test_steps_say_the_hours_of_the_map_and_no_others(name: str) -> None:
    parts = example(name).parts
    said = sorted(hour for step in parts.steps for _, hour in step.clock_hours)
    kinds = ("main_wound", "side_port", "iris_hook", "capsule_hook", "segment")
    drawn = sorted(one.hour for one in parts.clock_map.marks if one.kind in kinds)
    assert said == drawn


def test_scleral_ports_are_drawn_where_the_sclera_may_have_to_hold_the_lens() -> None:
    assert example("aphakic-eye").parts.clock_map.of_kind("scleral_port")
    assert not example("plain-eye").parts.clock_map.of_kind("scleral_port")


def test_an_eye_without_its_lens_gets_no_capsule_hooks() -> None:
    clock = map_of(case("aphakic-eye"))
    assert not clock.of_kind("capsule_hook")


def test_the_same_eye_gets_the_same_map() -> None:
    eye = eye_with(hist_glaucoma_surgery=True, bleb_or_tube_clock=1.5)
    first: ClockMap = map_of(eye)
    assert first == map_of(eye)


def test_a_moved_wound_is_called_so_at_its_step() -> None:
    eye = eye_with(hist_glaucoma_surgery=True, bleb_or_tube_clock=3.0, bleb_or_tube_clock_hours=1.0)
    step = next(one for one in planned(eye).parts.steps if one.key == "main_wound")
    assert step.clock_hours[0][0] == "Main wound 2.4 mm (moved off the bleb or tube)"
