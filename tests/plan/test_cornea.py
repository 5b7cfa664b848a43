"""The endothelium of a plan: what is known, what waits, and what must hold for any count."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan.cases import NAMES, case, example, practice, with_findings, with_status
from zonule.findings.answers import Unknown
from zonule.findings.facts import facts_of
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.cornea import cornea_of, usual_count
from zonule.plan.cornea_parts import Cornea
from zonule.report import cornea_words as said

HARD = case("hard-second-eye")


def read(whole: Case) -> Cornea:
    return cornea_of(whole, facts_of(whole, whole.eye_to_do))


def counted(count: object) -> Cornea:
    return read(with_findings(HARD, ecd=count))


def test_the_hard_eye_by_hand() -> None:
    told = counted(1900)
    assert told.after is not None
    assert told.after.group.key == "1000_to_2000"
    assert told.after.count.middle == pytest.approx(1900 * (1 - 0.289))
    assert told.after.one_sd == pytest.approx((1900 * (1 - 0.381), 1900 * (1 - 0.197)))
    assert told.usual_per_mm2 == pytest.approx(2365, abs=0.5)
    standing = {one.key: one.outlook for one in told.thresholds}
    assert standing == {
        "caution": "below_now",
        "high_risk": "above",
        "may_fail": "above",
        "fails": "above",
    }
    assert said.cornea_line(told) == (
        "1,900 now, 1,350 expected after surgery (nine in ten 1,060 to 1,640 cells/mm²)"
    )


@pytest.mark.parametrize(
    ("count", "group"),
    [
        (999, "below_1000"),
        (1000, "1000_to_2000"),
        (2000, "1000_to_2000"),
        (2001, "above_2000"),
        (4500, "above_2000"),
        (200, "below_1000"),
    ],
)
def test_a_count_falls_in_the_group_that_was_printed(count: int, group: str) -> None:
    told = counted(count)
    assert told.after is not None
    assert told.after.group.key == group


@pytest.mark.parametrize(
    ("count", "beside"),
    [(1900, "above_2000"), (2150, "1000_to_2000"), (1050, "below_1000"), (950, "1000_to_2000")],
)
def test_near_the_edge_of_a_group_the_one_beside_is_shown_too(count: int, beside: str) -> None:
    told = counted(count)
    assert told.beside is not None
    assert told.beside.group.key == beside
    assert "near the edge" in said.beside(told)


@pytest.mark.parametrize("count", [700, 1500, 2600])
def test_far_from_an_edge_there_is_one_group(count: int) -> None:
    assert counted(count).beside is None


@pytest.mark.parametrize("answer", [None, *(one for one in Unknown if one.value != "not_recorded")])
def test_a_count_that_is_not_known_is_never_taken_as_usual(answer: object) -> None:
    told = counted(answer)
    assert told.count_per_mm2 is None
    assert told.waits_for == ("ecd",)
    assert told.after is None
    assert told.course == ()
    assert told.loss_range == (0.15, 0.289)
    assert {one.outlook for one in told.thresholds} == {"not_known"}
    assert all(one.count_per_mm2 is None for one in told.series)
    line = said.cornea_line(told)
    assert "waits for endothelial cell count" in line
    assert "15 to 29 of 100" in line


def test_an_eye_without_its_lens_takes_no_loss_of_phaco() -> None:
    told = example("aphakic-eye").parts.cornea
    assert told.count_per_mm2 == 1640
    assert told.after is None
    assert told.waits_for == ()
    assert told.series == ()
    assert "no lens of its own" in said.cornea_line(told)
    assert {one.outlook for one in told.thresholds} == {"below_now", "above_now"}


def test_without_the_lens_status_no_loss_is_taken_off() -> None:
    told = read(with_status(HARD, Unknown.NOT_RECORDED))
    assert told.after is None
    assert told.waits_for == ("lens_status",)


def test_after_a_rupture_nothing_is_made_up() -> None:
    told = counted(1900)
    assert told.rupture_waits_for
    assert table("endothelium")["after_rupture"]["status"] == "missing"
    assert not any(char.isdigit() for char in told.rupture_says)


def test_only_series_of_this_density_stand_beside_it() -> None:
    soft = read(with_findings(HARD, locs_no=3.0, lens_look="nuclear"))
    unknown = read(with_findings(HARD, locs_no=None, lens_look=None))
    hard = counted(1900)
    assert {one.share for one in soft.series} | {one.share for one in hard.series} == {
        one.share for one in unknown.series
    }
    assert max(one.share for one in soft.series) < max(one.share for one in hard.series)


@given(st.integers(200, 4500))
def test_bands_hold_their_middle_and_years_only_go_down(count: int) -> None:
    told = counted(count)
    assert told.after is not None
    for point in told.course:
        band = point.count
        assert 0 <= band.nine_in_ten[0] <= band.half[0] <= band.middle
        assert band.middle <= band.half[1] <= band.nine_in_ten[1] <= count
    for earlier, later in pairwise(told.course):
        assert later.years > earlier.years
        assert later.count.middle < earlier.count.middle
    for one in told.thresholds:
        if one.years is not None and one.years_middle is not None:
            assert 0 <= one.years[0] <= one.years_middle <= one.years[1]
            assert (one.years_middle == 0) == (one.outlook in ("below_now", "below_expected"))


@given(st.integers(200, 4500))
def test_a_lower_threshold_is_never_reached_before_a_higher_one(count: int) -> None:
    rank = {"below_now": 0, "below_expected": 1, "below_possible": 2, "above": 3}
    standing = [rank[one.outlook] for one in counted(count).thresholds]
    assert standing == sorted(standing)


@given(st.floats(15, 85))
def test_the_usual_count_lies_between_the_printed_ends(age: float) -> None:
    assert 2300 - 1e-6 <= usual_count(age) <= 3400 + 1e-6


@pytest.mark.parametrize("name", NAMES)
def test_every_plan_says_something_of_the_cornea(name: str) -> None:
    told = example(name).parts.cornea
    assert said.cornea_line(told)
    assert said.usual(told)
    assert bool(told.after) or told.waits_for or told.no_loss_because
    assert practice().energy is not None
