"""The pictures of count and energy: true to their numbers, readable without colour."""

from __future__ import annotations

import math
import re
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest
from hypothesis import given
from hypothesis import strategies as st

import zonule.web
from zonule.report.figures import endothelium as cells
from zonule.report.figures import energy as drawing
from zonule.report.figures.svg import COLOURS

SVG = "{http://www.w3.org/2000/svg}"
POINTS = [
    cells.Point(0.0, 1350.0, (1230.0, 1470.0), (1060.0, 1640.0)),
    cells.Point(5.0, 1190.0, (1090.0, 1300.0), (940.0, 1450.0)),
    cells.Point(10.0, 1050.0, (960.0, 1140.0), (830.0, 1280.0)),
]
THRESHOLDS = [cells.Line("caution 2,000", 2000.0), cells.Line("may fail 700", 700.0)]
OWN = ((2.0, 5.0), (3.5, 9.0), (4.4, 30.0), (6.0, 44.0))
LINE = (
    drawing.At(2.0, 5.0, (4.0, 6.2), (2.6, 9.0)),
    drawing.At(6.0, 45.0, (36.0, 57.0), (25.0, 81.0)),
)
THIS_EYE = drawing.At(5.9, 42.0, (33.0, 54.0), (23.0, 77.0))


def count(layout: cells.Layout = cells.WIDE, now: float = 1900.0) -> Tree.Element:
    return Tree.fromstring(
        cells.count_over_years(
            now=now,
            points=POINTS,
            thresholds=THRESHOLDS,
            title="Count",
            described="Over years",
            layout=layout,
        )
    )


def energy(
    layout: drawing.Layout = drawing.WIDE, *, this_eye: drawing.At | None = THIS_EYE
) -> Tree.Element:
    limit = None if this_eye is None else 68.0
    drawn = drawing.Drawn("energy, s", OWN, LINE, this_eye, limit, "stop and ask: 68")
    return Tree.fromstring(
        drawing.energy_by_density(drawn, title="Energy", described="By density", layout=layout)
    )


EVERY = {
    "count wide": count(),
    "count narrow": count(cells.NARROW),
    "energy wide": energy(),
    "energy narrow": energy(drawing.NARROW),
}
ROOTS = pytest.mark.parametrize("root", EVERY.values(), ids=list(EVERY))


@ROOTS
def test_a_picture_has_a_name_and_nothing_inline(root: Tree.Element) -> None:
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title")
    assert root.findtext(f"{SVG}desc")
    assert not [one for one in root.iter() if one.get("style") or one.tag.endswith("style")]


@ROOTS
def test_the_page_recolours_everything_that_paper_colours(root: Tree.Element) -> None:
    sheet = (Path(zonule.web.__file__).parent / "static" / "plan.css").read_text("utf-8")
    for one in root.iter():
        if one.get("fill") or one.get("stroke"):
            kind, name = (one.get("class") or "").split("-", 1)
            assert COLOURS[name] in (one.get("fill"), one.get("stroke"))
            assert re.search(rf"\.{kind}-{name} {{", sheet), f"{kind}-{name}"


@ROOTS
def test_no_word_is_cut_off(root: Tree.Element) -> None:
    width = float(root.get("width", "0"))
    for one in root.iter(f"{SVG}text"):
        size, text = float(one.get("font-size", "0")), one.text or ""
        long_as = size * 0.5 * len(text)
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor", "start")]
        start = float(one.get("x", "0")) - before * long_as
        assert start >= -2.0, text
        assert start + long_as <= width * 1.04, text


@ROOTS
def test_no_number_of_the_drawing_is_missing(root: Tree.Element) -> None:
    assert "nan" not in Tree.tostring(root, encoding="unicode").lower()


def _thick(root: Tree.Element) -> list[Tree.Element]:
    return [one for one in root.iter(f"{SVG}line") if one.get("stroke-linecap") == "round"]


def test_thick_is_half_and_the_dot_is_the_middle_of_each_year() -> None:
    root, plane = count(), cells.plane_of(1900.0, POINTS, cells.WIDE)
    thick = _thick(root)
    assert len(thick) == len(POINTS)
    for mark, point in zip(thick, POINTS, strict=True):
        ends = sorted((float(mark.get("y1", "")), float(mark.get("y2", ""))))
        assert ends == pytest.approx([plane.y(point.half[1]), plane.y(point.half[0])], abs=0.01)
        assert float(mark.get("x1", "")) == pytest.approx(plane.x(point.years), abs=0.01)
    dots = [float(one.get("cy", "")) for one in root.iter(f"{SVG}circle")]
    middles = [plane.y(1900.0), *(plane.y(one.middle) for one in POINTS)]
    assert dots == pytest.approx(middles, abs=0.01)


def test_thresholds_are_dashed_and_named() -> None:
    root = count()
    dashed = [one for one in root.iter(f"{SVG}line") if one.get("stroke-dasharray")]
    assert len(dashed) == len(THRESHOLDS)
    said = [one.text for one in root.iter(f"{SVG}text")]
    assert {one.says for one in THRESHOLDS} <= set(said)


@given(st.floats(200.0, 4500.0))
def test_every_count_is_drawn_within_the_picture(now: float) -> None:
    plane = cells.plane_of(now, POINTS, cells.WIDE)
    assert cells.WIDE.top <= plane.y(now) <= cells.WIDE.top + cells.WIDE.height
    assert plane.y(now) < plane.y(now / 2.0)


def test_every_own_case_has_its_ring_at_its_own_place() -> None:
    root = energy()
    plane = drawing.plane_of(drawing.Drawn("s", OWN, LINE, THIS_EYE), drawing.WIDE)
    rings = [one for one in root.iter(f"{SVG}circle") if one.get("class") == "hollow-edge"]
    found = [(float(one.get("cx", "")), float(one.get("cy", ""))) for one in rings]
    wanted = [(plane.x(colour), plane.y(value)) for colour, value in OWN]
    assert found == [pytest.approx(one, abs=0.01) for one in wanted]


def test_the_limit_stands_at_this_eyes_density_only() -> None:
    root, plane = energy(), drawing.plane_of(drawing.Drawn("s", OWN, LINE, THIS_EYE), drawing.WIDE)
    (mark,) = [one for one in root.iter(f"{SVG}line") if one.get("stroke-dasharray")]
    assert float(mark.get("y1", "")) == pytest.approx(plane.y(68.0), abs=0.01)
    reach = float(mark.get("x2", "")) - float(mark.get("x1", ""))
    assert reach <= 2.0 * drawing.LIMIT_REACHES
    assert len(_thick(root)) == 1
    assert _thick(energy(this_eye=None)) == []
    said = " ".join(one.text or "" for one in energy(this_eye=None).iter(f"{SVG}text"))
    assert "stop and ask" not in said, "no mark is explained that is not there"


@given(st.floats(0.01, 1000.0), st.floats(0.01, 1000.0))
def test_more_energy_stands_higher_on_round_figures(one: float, other: float) -> None:
    low, high = sorted((one, other))
    drawn = drawing.Drawn("s", ((3.0, low), (4.0, high)), ())
    plane = drawing.plane_of(drawn, drawing.WIDE)
    assert plane.lowest <= low <= high <= plane.highest
    assert plane.y(low) >= plane.y(high)
    assert math.isfinite(plane.x(3.5))


@pytest.mark.parametrize("layout", [drawing.WIDE, drawing.NARROW], ids=lambda one: one.kind)
def test_every_written_energy_has_a_height_of_its_own(layout: drawing.Layout) -> None:
    texts = energy(layout).iter(f"{SVG}text")
    heights = [one.get("y") for one in texts if one.get("text-anchor") == "end"]
    written = [one for one in heights if one is not None]
    assert len(set(written)) == len(written) >= 4
