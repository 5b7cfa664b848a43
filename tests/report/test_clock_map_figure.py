"""The drawn map: true to its hours, turned only as said, readable without colour, told in words."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest
from hypothesis import given
from hypothesis import strategies as st

import zonule.web
from plan.cases import NAMES, example, planned
from plan.limbus import eye_with, map_of
from zonule.plan.clock_map import ClockMap
from zonule.report import map_words as said
from zonule.report.figures.clock_map import WIDTH
from zonule.report.figures.clock_marks import Face
from zonule.report.figures.svg import COLOURS
from zonule.report.map_json import map_as_json
from zonule.report.map_view import View, drawing_of, figure_of, map_view, turned_for
from zonule.report.why.paths import explanations

SVG = "{http://www.w3.org/2000/svg}"
VIEWS: tuple[View, View] = ("examiner", "surgeon")
CROWDED = planned(
    eye_with(
        hist_glaucoma_surgery=True,
        bleb_or_tube_clock=12.0,
        bleb_or_tube_clock_hours=3.0,
        dialysis_clock_hours=5.0,
        dialysis_centre_clock=8.0,
        old_wound_clock=1.5,
        old_wound_clock_hours=0.5,
        limbal_vessels_clock=5.5,
        limbal_vessels_clock_hours=1.0,
    )
)
"""Everything that can lie on the clock face, in one left eye."""


def words_of(clock: ClockMap, view: View) -> dict[str, tuple[float, float]]:
    """Return where each text of the drawing stands; the key below it left aside."""
    root = Tree.fromstring(figure_of(clock, view, with_key=False))
    return {
        text.text or "": (float(text.attrib["x"]), float(text.attrib["y"]))
        for text in root.iter(f"{SVG}text")
    }


def turn(place: tuple[float, float]) -> float:
    """Return at which degrees of the drawing a text stands, counter-clockwise."""
    middle = WIDTH / 2.0
    return math.degrees(math.atan2(middle - place[1] + 4.0, place[0] - middle)) % 360.0


def near(one: float, other: float) -> float:
    apart = abs(one - other) % 360.0
    return min(apart, 360.0 - apart)


@pytest.mark.parametrize("name", NAMES)
def test_12_is_above_and_3_at_the_viewers_second_side_for_an_examiner(name: str) -> None:
    told = words_of(example(name).parts.clock_map, "examiner")
    for hour in range(1, 13):
        assert near(turn(told[f"{hour}"]), (90.0 - 30.0 * hour) % 360.0) < 6.0


@pytest.mark.parametrize("name", NAMES)
def test_temporal_is_3_in_the_one_eye_and_9_in_the_other(name: str) -> None:
    clock = example(name).parts.clock_map
    temporal, nasal = (3, 9) if clock.side == "left" else (9, 3)
    for view in VIEWS:
        told = words_of(clock, view)
        assert near(turn(told["temporal"]), turn(told[f"{temporal}"])) < 12.0
        assert near(turn(told["nasal"]), turn(told[f"{nasal}"])) < 12.0


@pytest.mark.parametrize("seat", ["superior", "temporal"])
@pytest.mark.parametrize("name", ["plain-eye", "hard-second-eye"])
def test_for_the_surgeon_the_seat_is_at_the_bottom_and_the_drawing_says_so(
    name: str, seat: str
) -> None:
    clock = replace(example(name).parts.clock_map, seat=seat)  # type: ignore[arg-type]
    told = words_of(clock, "surgeon")
    hour = 12 if seat == "superior" else (3 if clock.side == "left" else 9)
    assert near(turn(told[f"{hour}"]), 270.0) < 6.0
    assert any("turned" in text and "nearest the surgeon" in text for text in told)
    assert "surgeon" in told


@given(st.floats(0.0, 359.0), st.sampled_from(["left", "right"]), st.booleans())
def test_turning_the_drawing_is_a_turn_and_never_a_mirror(
    degrees: float, side: str, above: bool
) -> None:
    clock = ClockMap(side, "superior" if above else "temporal", ())  # type: ignore[arg-type]
    still, turned = Face(0.0), Face(0.0, turned_for(clock, "surgeon"))
    one, ahead = turned.at(1.0, degrees), turned.at(1.0, degrees + 10.0)
    assert one[0] * -ahead[1] - -one[1] * ahead[0] > 0.0  # still counter-clockwise
    assert math.hypot(*still.at(1.0, degrees)) == pytest.approx(math.hypot(*one))


def test_data_stay_while_the_drawing_turns() -> None:
    clock = CROWDED.parts.clock_map
    for view in VIEWS:
        assert [one.degrees for one in drawing_of(clock, view).marks] == [
            one.degrees for one in clock.marks
        ]


@pytest.mark.parametrize("view", VIEWS)
def test_everything_is_on_the_drawing_in_its_key_and_in_its_words(view: View) -> None:
    clock = CROWDED.parts.clock_map
    assert len({one.kind for one in clock.marks}) == 10
    root = Tree.fromstring(figure_of(clock, view))
    texts = [text.text for text in root.iter(f"{SVG}text")]
    for one in clock.marks:
        assert said.letters(one) in texts
        assert said.LETTERS[one.kind] in texts
        described = root.findtext(f"{SVG}desc") or ""
        assert f"{one.label} at {said.hour(one)}" in described
    assert (root.findtext(f"{SVG}title") or "").startswith("Clock face.")
    assert any(text and text.startswith("Steep axis") for text in texts)


def test_each_kind_has_letters_of_its_own() -> None:
    assert len(set(said.LETTERS.values())) == len(said.LETTERS)


@pytest.mark.parametrize("view", VIEWS)
def test_nothing_lies_outside_the_picture(view: View) -> None:
    root = Tree.fromstring(figure_of(CROWDED.parts.clock_map, view))
    height = float(root.attrib["height"])
    for text in root.iter(f"{SVG}text"):
        length = 0.48 * float(text.attrib["font-size"]) * len(text.text or "")
        start = {"start": 0.0, "middle": -length / 2.0, "end": -length}[text.attrib["text-anchor"]]
        x = float(text.attrib["x"]) + start
        assert x >= -1.0, text.text
        assert x + length <= WIDTH + 1.0, text.text
        assert float(text.attrib["y"]) <= height


@pytest.mark.parametrize("view", VIEWS)
def test_letters_can_be_read_at_380_pixels(view: View) -> None:
    root = Tree.fromstring(figure_of(CROWDED.parts.clock_map, view))
    sizes = [float(text.attrib["font-size"]) for text in root.iter(f"{SVG}text")]
    assert min(sizes) * 380.0 / WIDTH >= 10.0


def test_every_class_of_the_drawing_is_coloured_by_the_page() -> None:
    css = (Path(zonule.web.__file__).parent / "static" / "plan.css").read_text("utf-8")
    found = set()
    for view in VIEWS:
        root = Tree.fromstring(figure_of(CROWDED.parts.clock_map, view))
        for one in root.iter():
            if one is not root and "class" in one.attrib:
                found |= set(one.attrib["class"].split())
            for colour in ("fill", "stroke"):
                assert one.attrib.get(colour, "none") in {"none", *COLOURS.values()}
    assert found
    assert {name for name in found if f".{name} {{" not in css} == set()


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_has_its_why_and_stands_in_the_table(name: str) -> None:
    plan = example(name)
    view = map_view(plan, "surgeon")
    paths = explanations(plan)
    assert len(view.rows) == len(plan.parts.clock_map.marks)
    for row in view.rows:
        told = paths[row.hour.why]()
        assert told.sources
        assert row.hour.text in told.value
    assert len(map_as_json(plan.parts.clock_map)["marks"]) == len(view.rows)


def test_a_clean_map_says_no_clash_only_as_far_as_is_known() -> None:
    assert said.heading(map_of(eye_with())) == "No clash"
    part = map_of(eye_with(old_wound_clock_hours=None))
    assert said.heading(part) == "No clash with what is on record"
    assert said.waits(part) == "Not recorded: old wound. Look before the first cut."


def test_the_headline_of_a_limbus_without_room_names_what_has_none() -> None:
    tight = map_of(
        eye_with(hist_glaucoma_surgery=True, bleb_or_tube_clock=8.0, bleb_or_tube_clock_hours=6.0)
    )
    assert re.match(r"No room for .+: too near the .+", said.heading(tight))


def test_without_a_proposal_the_headline_says_why() -> None:
    lost = map_of(eye_with(dialysis_clock_hours=4.0))
    assert said.heading(lost).startswith("No hour is proposed: where the dialysis of 4 clock hours")
