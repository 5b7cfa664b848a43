"""The drawing of a band: it fits, its dot is at the middle, and it needs no special characters."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.report.terminal.axis import LINES, PLAIN, Axis, Marks, axis_for

PLACES = st.floats(-30.0, 30.0)


@st.composite
def bands(draw: st.DrawFn) -> tuple[list[float], float]:
    """Draw the five figures of a band in order, and an aim."""
    return sorted(draw(st.lists(PLACES, min_size=5, max_size=5))), draw(st.floats(-6.0, 3.0))


def _drawn(axis: Axis, five: list[float], aim_d: float, marks: Marks, *, assumed: bool) -> str:
    return axis.draw(
        half=(five[1], five[3]),
        nine_in_ten=(five[0], five[4]),
        middle_d=five[2],
        aim_d=aim_d,
        assumed=assumed,
        marks=marks,
    )


@given(bands(), st.integers(1, 120), st.booleans(), st.sampled_from([LINES, PLAIN]))
def test_a_drawing_is_as_wide_as_its_axis(
    drawn: tuple[list[float], float], characters: int, assumed: bool, marks: Marks
) -> None:
    five, aim_d = drawn
    axis = axis_for([(five[0], five[4])], aim_d, characters)
    line = _drawn(axis, five, aim_d, marks, assumed=assumed)
    assert len(line) == axis.characters == max(characters, 16)
    assert line[axis.at(five[2])] == marks.middle
    assert line.count(marks.middle) == 1
    assert line[axis.at(aim_d)] in (marks.aim, marks.middle)


@given(bands(), st.integers(16, 120))
def test_the_axis_holds_the_band_and_half_a_dioptre_about_the_aim(
    drawn: tuple[list[float], float], characters: int
) -> None:
    five, aim_d = drawn
    axis = axis_for([(five[0], five[4])], aim_d, characters)
    assert axis.low_d <= min(five[0], aim_d - 0.5)
    assert axis.high_d >= max(five[4], aim_d + 0.5)
    assert axis.at(axis.low_d) == 0
    assert axis.at(axis.high_d) == axis.characters - 1


@given(bands(), st.integers(16, 120), PLACES, PLACES)
def test_a_stronger_refraction_is_never_drawn_on_the_wrong_side(
    drawn: tuple[list[float], float], characters: int, one: float, other: float
) -> None:
    five, aim_d = drawn
    axis = axis_for([(five[0], five[4])], aim_d, characters)
    assert axis.at(min(one, other)) <= axis.at(max(one, other))


@given(bands(), st.integers(16, 120))
def test_nine_in_ten_reaches_from_end_to_end_and_half_lies_within(
    drawn: tuple[list[float], float], characters: int
) -> None:
    five, aim_d = drawn
    axis = axis_for([(five[0], five[4])], aim_d, characters)
    line = _drawn(axis, five, aim_d, PLAIN, assumed=False)
    inked = [at for at, mark in enumerate(line) if mark in "-=o"]
    aim_at = axis.at(aim_d)
    ends = {axis.at(five[0]), axis.at(five[4])} - {aim_at}
    assert ends <= set(inked)
    assert all(axis.at(five[0]) <= at <= axis.at(five[4]) for at in inked)
    thick = [at for at, mark in enumerate(line) if mark == "="]
    assert all(axis.at(five[1]) <= at <= axis.at(five[3]) for at in thick)


@given(bands(), st.integers(16, 120))
def test_an_assumed_spread_is_dashed(drawn: tuple[list[float], float], characters: int) -> None:
    five, aim_d = drawn
    axis = axis_for([(five[0], five[4])], aim_d, characters)
    assert "." not in _drawn(axis, five, aim_d, PLAIN, assumed=False)
    assert "-" not in _drawn(axis, five, aim_d, PLAIN, assumed=True)


def test_plain_marks_are_plain_and_told_apart() -> None:
    marks = [PLAIN.thin, PLAIN.dashed, PLAIN.thick, PLAIN.middle, PLAIN.aim]
    assert "".join(marks).isascii()
    assert len(set(marks)) == 5
    lines = [LINES.thin, LINES.dashed, LINES.thick, LINES.middle, LINES.aim]
    assert len(set(lines)) == 5


@given(st.integers(-40, 10), st.integers(1, 60), st.integers(16, 120))
def test_figures_of_the_scale_never_run_into_each_other(
    low: int, width: int, characters: int
) -> None:
    axis = Axis(low_d=low, high_d=low + width, characters=characters)
    scale = axis.scale()
    assert len(scale) <= characters + 3
    figures = scale.split()
    read = [int(one.replace("−", "-")) for one in figures]
    assert read == sorted(read)
    assert all(low <= one <= low + width for one in read)
    gaps = {b - a for a, b in pairwise(read)}
    assert len(gaps) <= 1, "figures in equal steps"


@pytest.mark.parametrize("whole", range(-2, 3))
def test_a_figure_stands_over_its_column(whole: int) -> None:
    axis = Axis(low_d=-2, high_d=2, characters=41)
    scale = axis.scale().ljust(44)
    figure = {-2: "−2", -1: "−1", 0: "0", 1: "+1", 2: "+2"}[whole]
    at = scale.index(figure)
    assert at <= axis.at(whole) < at + len(figure) + 1
