"""The page of the machine: both units, nothing silent, and a picture true to its numbers."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as Tree

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

import zonule.web
from plan.cases import NAMES, case, example, planned, practice
from zonule.pathway.show_a_plan import machine_view_of, plan_as_json, plan_view_of
from zonule.practice.machine import Machine
from zonule.report.figures.machine import (
    NARROW,
    WIDE,
    Layout,
    Mark,
    chamber_against_flow,
    plane_of,
)
from zonule.report.figures.svg import COLOURS, FACE
from zonule.report.machine_json import machine_schema
from zonule.report.machine_view import MachineView

SVG = "{http://www.w3.org/2000/svg}"
LAYOUTS = pytest.mark.parametrize("layout", [WIDE, NARROW], ids=lambda one: one.kind)
MARKS = (
    Mark("1", "sculpt", (15.0, 22.0), (42.0, 40.0), 41.0, (40.0, 42.0), (38.5, 43.5)),
    Mark(
        "2, 3", "chop and fragments", (18.0, 25.0), (47.0, 44.0), 45.0, (44.0, 46.0), (43.0, 47.5)
    ),
)


def view(machine: Machine) -> MachineView:
    return machine_view_of(planned(case("hard-second-eye"), replace(practice(), machine=machine)))


def drawn(layout: Layout = WIDE, *, assumed: bool = False) -> Tree.Element:
    text = chamber_against_flow(
        MARKS,
        floor_mmhg=10.0,
        assumed=assumed,
        title="Chamber pressure",
        described="Two stages",
        layout=layout,
    )
    return Tree.fromstring(text)


@pytest.mark.parametrize("name", NAMES)
def test_every_stage_is_a_row_with_both_units(name: str) -> None:
    page, plan = machine_view_of(example(name)), example(name)
    assert [row.name.text for row in page.rows] == [one.name for one in plan.parts.machine]
    for row in page.rows:
        assert all((row.set_cm.text, row.set_mmhg, row.eye_cm, row.eye_mmhg, row.chamber.why))
    assert [row.number for row in page.rows] == [str(at) for at in range(1, len(page.rows) + 1)]
    assert page.figure.startswith("<svg")
    assert "Not validated" in page.caution


def test_an_unknown_zero_is_said_and_never_a_figure() -> None:
    page = view(Machine())
    assert not page.zero_known
    assert {row.set_cm.text for row in page.rows} == {"zero of the machine not recorded"}
    assert {row.set_mmhg for row in page.rows} == {""}
    assert "infusion_offset_cm" in page.zero
    assert page.how_to_heading.startswith("Measure your own set-up")


def test_an_own_set_up_is_named_with_its_day_and_a_published_one_as_such() -> None:
    own = " ".join(pair.says for pair in view(practice().machine).setup)
    print_only = " ".join(pair.says for pair in view(Machine()).setup)
    assert "16 November 2026" in own
    assert "agree with one resistance" in own
    assert "not from yours" in print_only
    assert "assumed" in print_only


def test_the_plan_keeps_one_line_of_the_machine() -> None:
    card = plan_view_of(example("hard-second-eye")).machine
    assert card.heading.startswith("Machine, low-flow")
    assert card.line.count(". ") == 1
    assert "mmHg" in card.line
    assert "vacuum at most" in card.line


@pytest.mark.parametrize("name", NAMES)
def test_the_json_of_the_machine_fits_its_schema(name: str) -> None:
    told = plan_as_json(example(name))["machine"]
    jsonschema.Draft202012Validator(machine_schema()).validate(told)
    assert [one["stage"] for one in told["stages"]] == [
        one.stage for one in example(name).parts.machine
    ]


def test_the_json_says_null_where_the_zero_is_not_recorded() -> None:
    plan = planned(case("plain-eye"), replace(practice(), machine=Machine()))
    told = plan_as_json(plan)["machine"]
    jsonschema.Draft202012Validator(machine_schema()).validate(told)
    assert told["setup"]["offset_cm"] is None
    assert told["setup"]["measured"] is None
    assert {one["set_cm"] for one in told["stages"]} == {None}


@LAYOUTS
def test_the_picture_has_a_name_and_its_colours_from_the_page(layout: Layout) -> None:
    root = drawn(layout)
    static = Path(zonule.web.__file__).parent / "static"
    sheet = "".join((static / name).read_text("utf-8") for name in ("plan.css", "machine.css"))
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title")
    assert root.findtext(f"{SVG}desc")
    assert {one.get("font-family") for one in root.iter(f"{SVG}text")} == {FACE}
    for one in root.iter():
        if one.get("fill") or one.get("stroke"):
            kind, name = (one.get("class") or "").split("-", 1)
            assert COLOURS[name] in (one.get("fill"), one.get("stroke"))
            assert re.search(rf"\.{kind}-{name} {{", sheet), f"{kind}-{name}"


@LAYOUTS
def test_thick_is_half_thin_is_nine_in_ten_and_the_dot_is_the_middle(layout: Layout) -> None:
    root, plane = drawn(layout), plane_of(MARKS, 10.0, layout)
    lines = [one for one in root.iter(f"{SVG}line") if one.get("class") == "line-accent"]
    for width, ends in (
        ("1.75", [one.nine_in_ten_mmhg for one in MARKS]),
        ("6", [one.half_mmhg for one in MARKS]),
    ):
        found = [one for one in lines if one.get("stroke-width") == width]
        places = [(float(one.get("y1", "")), float(one.get("y2", ""))) for one in found]
        wanted = [(plane.y(low), plane.y(high)) for low, high in ends]
        assert places == [pytest.approx(one, abs=0.01) for one in wanted]
    dots = [
        (float(one.get("cx", "")), float(one.get("cy", ""))) for one in root.iter(f"{SVG}circle")
    ]
    assert dots == [
        pytest.approx((plane.x(one.middle_flow), plane.y(one.middle_mmhg)), abs=0.01)
        for one in MARKS
    ]


@LAYOUTS
def test_a_line_is_dashed_and_explained_where_the_resistance_is_from_print(layout: Layout) -> None:
    for assumed in (False, True):
        root = drawn(layout, assumed=assumed)
        thin = [one for one in root.iter(f"{SVG}line") if one.get("stroke-width") == "1.75"]
        assert {bool(one.get("stroke-dasharray")) for one in thin} == {assumed}
        said = " ".join(one.text or "" for one in root.iter(f"{SVG}text"))
        assert ("spread assumed" in said) is assumed
        assert "2, 3 chop and fragments" in said


@given(
    st.floats(-40.0, 90.0),
    st.floats(0.5, 20.0),
    st.floats(4.0, 60.0),
    st.sampled_from([WIDE, NARROW]),
)
def test_a_plane_holds_every_mark(middle: float, away: float, flow: float, layout: Layout) -> None:
    one = Mark(
        "1",
        "polish",
        (flow / 2.0, flow),
        (middle + 1.0, middle - 1.0),
        middle,
        (middle - away / 2.0, middle + away / 2.0),
        (middle - away, middle + away),
    )
    plane = plane_of([one], 10.0, layout)
    for end in (*one.nine_in_ten_mmhg, *one.by_flow_mmhg, 0.0, 10.0):
        assert plane.lowest <= end <= plane.highest
    assert layout.start < plane.x(flow) < layout.end
