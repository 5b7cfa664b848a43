"""Figures: one picture for page and paper, true to its numbers, readable without colour."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest
from hypothesis import given
from hypothesis import strategies as st

import zonule.web
from zonule.report.figures.axis import ROOM, RefractionAxis, axis_over, label
from zonule.report.figures.band import Band, small_band
from zonule.report.figures.expected import (
    NARROW,
    WIDE,
    Layout,
    Row,
    expected_after_surgery,
)
from zonule.report.figures.svg import COLOURS, FACE

SVG = "{http://www.w3.org/2000/svg}"
LAYOUTS = pytest.mark.parametrize("layout", [WIDE, NARROW], ids=lambda one: one.kind)
WIDTHS = {True: 0.6, False: 0.48}
"""Of the size, in the face of the product: a digit or sign; any other character, on average."""
AIM_D = -0.25


def row(
    power: str, middle_d: float, share: float, *, chosen: bool = False, assumed: bool = False
) -> Row:
    return Row(
        power=power,
        band=Band(
            middle_d, (middle_d - 0.3, middle_d + 0.3), (middle_d - 0.8, middle_d + 0.7), assumed
        ),
        share=share,
        share_says=f"{round(100 * share)} of 100",
        chosen=chosen,
        formulas_d=(middle_d - 0.1, middle_d, middle_d + 0.1),
    )


ROWS = (
    row("+21.00", -0.55, 0.65),
    row("+20.50", -0.21, 0.76, chosen=True),
    row("+20.00", 0.1, 0.5),
)


def drawn(layout: Layout = WIDE, rows: tuple[Row, ...] = ROWS) -> Tree.Element:
    text = expected_after_surgery(
        rows, aim_d=AIM_D, title="Expected", described="Three powers", layout=layout
    )
    return Tree.fromstring(text)


def small(*, in_hand: bool = False, assumed: bool = False) -> Tree.Element:
    text = small_band(
        Band(-0.21, (-0.5, 0.1), (-1.0, 0.6), assumed),
        lowest_d=-1.5,
        highest_d=1.0,
        aim_d=AIM_D,
        in_hand=in_hand,
        title="Expected: in the bag",
        described="half …",
    )
    return Tree.fromstring(text)


def of_class(root: Tree.Element, kind: str) -> list[Tree.Element]:
    return [one for one in root.iter() if kind in (one.get("class") or "").split()]


@pytest.mark.parametrize(
    "root", [drawn(WIDE), drawn(NARROW), small()], ids=["wide", "narrow", "small"]
)
def test_a_picture_has_a_name_and_nothing_inline(root: Tree.Element) -> None:
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title")
    assert root.findtext(f"{SVG}desc")
    assert not [one for one in root.iter() if one.get("style") or one.tag.endswith("style")]
    assert not [name for one in root.iter() for name in one.attrib if name.startswith("on")]
    assert {one.tag.removeprefix(SVG) for one in root.iter()} <= {
        "svg",
        "title",
        "desc",
        "line",
        "rect",
        "circle",
        "text",
    }


@pytest.mark.parametrize(
    "root", [drawn(WIDE), drawn(NARROW), small()], ids=["wide", "narrow", "small"]
)
def test_attributes_carry_the_day_and_classes_let_a_page_change_it(root: Tree.Element) -> None:
    sheet = (Path(zonule.web.__file__).parent / "static" / "plan.css").read_text("utf-8")
    coloured = [one for one in root.iter() if one.get("fill") or one.get("stroke")]
    assert coloured
    for one in coloured:
        kind, name = (one.get("class") or "").split("-", 1)
        assert COLOURS[name] in (one.get("fill"), one.get("stroke"))
        assert re.search(rf"\.{kind}-{name} {{", sheet), f"the page recolours {kind}-{name}"


@LAYOUTS
def test_words_are_words_in_the_face_of_the_product(layout: Layout) -> None:
    texts = list(drawn(layout).iter(f"{SVG}text"))
    assert {one.get("font-family") for one in texts} == {FACE}
    said = [one.text for one in texts]
    for one in ROWS:
        assert one.power in said
        assert one.share_says in said
    assert said.count("chosen") == 1


@LAYOUTS
def test_no_word_is_cut_off(layout: Layout) -> None:
    rare = row("+19.50", 2.9, 0.004)
    long = Row(rare.power, rare.band, rare.share, "fewer than 1 of 100", chosen=False)
    root = drawn(layout, (row("+30.00", -3.0, 0.2, assumed=True), *ROWS, long))
    width = float(root.get("width", "0"))
    for one in root.iter(f"{SVG}text"):
        size = float(one.get("font-size", "0"))
        long_as = size * sum(WIDTHS[character in "0123456789+−"] for character in one.text or "")
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor", "start")]
        start = float(one.get("x", "0")) - before * long_as
        assert start >= -2.0, one.text
        assert start + long_as <= width * 1.04, one.text


@LAYOUTS
def test_the_aim_is_shaded_half_a_dioptre_either_side(layout: Layout) -> None:
    root = drawn(layout)
    bands = [one.band.nine_in_ten_d for one in ROWS]
    axis = axis_over(bands, AIM_D, start=layout.axis_start, width=layout.axis_width)
    shaded = of_class(root, "fill-aim-band")
    assert shaded
    for one in shaded:
        assert float(one.get("x", "")) == pytest.approx(axis.at(-0.75), abs=0.01)
        assert float(one.get("width", "")) == pytest.approx(
            axis.at(0.25) - axis.at(-0.75), abs=0.01
        )


@LAYOUTS
def test_thick_is_half_thin_is_nine_in_ten_and_the_dot_is_the_middle(layout: Layout) -> None:
    root = drawn(layout)
    bands = [one.band.nine_in_ten_d for one in ROWS]
    axis = axis_over(bands, AIM_D, start=layout.axis_start, width=layout.axis_width)
    level = [one for one in of_class(root, "line-accent") if one.get("y1") == one.get("y2")]
    thin = [one for one in level if one.get("stroke-width") == "1.75"]
    thick = [one for one in level if one.get("stroke-width") in ("5", "9")]
    dots = list(root.iter(f"{SVG}circle"))
    for found, ends in (
        (thin, [one.band.nine_in_ten_d for one in ROWS]),
        (thick, [one.band.half_d for one in ROWS]),
    ):
        places = [(float(one.get("x1", "")), float(one.get("x2", ""))) for one in found]
        wanted = [(axis.at(low), axis.at(high)) for low, high in ends]
        assert places == [pytest.approx(one, abs=0.01) for one in wanted]
    middles = [axis.at(one.band.middle_d) for one in ROWS]
    assert [float(one.get("cx", "")) for one in dots] == pytest.approx(middles, abs=0.01)


@LAYOUTS
def test_the_chosen_one_is_filled_thicker_and_named_never_by_colour_alone(layout: Layout) -> None:
    root = drawn(layout)
    assert len(of_class(root, "solid-accent")) == 1
    assert len(of_class(root, "hollow-accent")) == len(ROWS) - 1
    power = next(one for one in root.iter(f"{SVG}text") if one.text == "+20.50")
    assert power.get("font-weight") == "700"


@LAYOUTS
def test_formulas_stand_under_the_chosen_row_only(layout: Layout) -> None:
    assert len(of_class(drawn(layout), "line-third")) == 3
    without = tuple(row(one.power, one.band.middle_d, one.share) for one in ROWS)
    nobody = drawn(layout, without)
    assert of_class(nobody, "line-third") == []
    said = " ".join(one.text or "" for one in nobody.iter(f"{SVG}text"))
    assert "per formula" not in said, "no mark is explained that is not there"


@LAYOUTS
def test_a_line_is_dashed_and_explained_exactly_where_the_spread_is_assumed(layout: Layout) -> None:
    for assumed in (False, True):
        root = drawn(layout, (row("+20.50", 0.0, 0.5, chosen=True, assumed=assumed),))
        level = [one for one in of_class(root, "line-accent") if one.get("y1") == one.get("y2")]
        assert [bool(one.get("stroke-dasharray")) for one in level] == [assumed, False]
        said = " ".join(one.text or "" for one in root.iter(f"{SVG}text"))
        assert ("spread assumed" in said) is assumed


@LAYOUTS
def test_the_bar_is_as_long_as_the_share(layout: Layout) -> None:
    root = drawn(layout)
    bars = [one for one in root.iter(f"{SVG}rect") if one.get("height") == "12"]
    rails, filled = bars[0::2], bars[1::2]
    parts = [
        float(bar.get("width", "")) / float(rail.get("width", ""))
        for rail, bar in zip(rails, filled, strict=True)
    ]
    assert parts == pytest.approx([one.share for one in ROWS], abs=0.001)


def test_the_small_band_has_the_same_marks() -> None:
    assert len(of_class(small(in_hand=True), "solid-accent")) == 1
    assert len(of_class(small(), "solid-ink")) == 1
    assert len(of_class(small(), "fill-aim-band")) == 1
    dashed = [
        one for one in of_class(small(assumed=True), "line-ink") if one.get("stroke-dasharray")
    ]
    assert len(dashed) == 1


def test_what_is_written_is_escaped() -> None:
    text = expected_after_surgery(
        [row("<b>&", 0.0, 0.5)], aim_d=0.0, title='a "<script>"', described="&"
    )
    assert "<script>" not in text
    assert "<b>" not in text
    assert Tree.fromstring(text).findtext(f"{SVG}title") == 'a "<script>"'


def test_the_same_record_gives_the_same_picture() -> None:
    assert Tree.tostring(drawn()) == Tree.tostring(drawn())


BANDS = st.tuples(
    st.floats(-12.0, 12.0, allow_nan=False), st.floats(0.1, 6.0, allow_nan=False)
).map(lambda one: (one[0], one[0] + one[1]))


@given(st.lists(BANDS, min_size=1, max_size=5), st.floats(-6.0, 2.0), st.sampled_from([300, 452]))
def test_an_axis_holds_every_band_and_writes_with_room(
    bands: list[tuple[float, float]], aim_d: float, width: int
) -> None:
    axis = axis_over(bands, aim_d, start=20.0, width=float(width))
    assert axis.low_d <= min(low for low, _ in bands)
    assert axis.high_d >= max(high for _, high in bands)
    places = [axis.at(one) for one in axis.written()]
    assert all(later - one >= ROOM for one, later in pairwise(places))
    assert all(20.0 <= one <= 20.0 + width for one in places)


@given(st.floats(-5.0, 5.0), st.floats(-5.0, 5.0))
def test_more_myopic_stands_earlier(one_d: float, other_d: float) -> None:
    axis = RefractionAxis(-3.0, 3.0, 10.0, 100.0)
    low, high = sorted((one_d, other_d))
    assert axis.at(low) <= axis.at(high)


def test_a_written_refraction_has_its_sign_and_a_true_minus() -> None:
    assert [label(one) for one in (-1.0, 0.0, 0.5)] == ["−1.00", "0.00", "+0.50"]
