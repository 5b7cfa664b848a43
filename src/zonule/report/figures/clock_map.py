"""Incision and hook map: the clock face of one eye, as an examiner or as the surgeon sees it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.clock_marks import (
    ARCS,
    LIMBUS,
    Drawn,
    Face,
    circle,
    clear_of,
    draw_arc,
    draw_mark,
    draw_shaft,
    letters_at,
    shape,
)
from zonule.report.figures.svg import line, number, picture, words, written

WIDTH: Final = 400.0
MIDDLE: Final = 200.0
RIM: Final = 156.0
SEAT: Final = 194.0
HALF: Final = 178.0
"""Height of half a drawing, from its middle to the end of its words."""
SEAT_ROOM: Final = 26.0
"""More of it where the seat lies above or below."""
KEY_LINE: Final = 27.0
KEY_SIZE: Final = 9.0
TOP: Final = 24.0
"""Room above the drawing for what view it is."""
PER_ROW: Final = 2
SEAT_IS_UP: Final = 0.7
"""Of a step towards the seat: more than this goes up or down, not across."""


@dataclass(frozen=True, slots=True)
class KeyLine:
    """What one shape or hatching means."""

    kind: str
    letters: str
    says: str


@dataclass(frozen=True, slots=True)
class MapDrawing:
    """Everything on the drawing."""

    view_says: str
    """Whose view this is, and how it is turned."""
    temporal_hour: int
    seat_hour: int
    seat_says: str
    turned: float
    """Degrees by which the drawing is turned, counter-clockwise; the data never turn."""
    marks: Sequence[Drawn]
    key: Sequence[KeyLine]
    steep_axis: float | None = None
    steep_says: str = ""


def clock_map(drawing: MapDrawing, *, title: str, described: str, with_key: bool = True) -> str:
    """Return the map of one eye as a picture.

    Parameters
    ----------
    drawing
        What is on it.
    title, described
        What a screen reader says; the table beside the picture has every hour.
    with_key
        Whether what the shapes mean stands under it.
    """
    rows = -(-len(drawing.key) // PER_ROW) + bool(drawing.steep_says) if with_key else 0
    face = Face(MIDDLE, drawing.turned)
    _, up = face.at(1.0, _degrees(drawing.seat_hour))
    above = TOP + HALF + SEAT_ROOM * (up < MIDDLE - SEAT_IS_UP)
    below = HALF + SEAT_ROOM * (up > MIDDLE + SEAT_IS_UP)
    root = picture(
        width=WIDTH,
        height=above + below + KEY_LINE * rows,
        title=title,
        description=described,
        kind="clock-map",
    )
    words(root, drawing.view_says, x=MIDDLE, y=17.0, anchor="middle", bold=True, size=14.0)
    moved = number(above - MIDDLE)
    ground = Tree.SubElement(root, "g", {"transform": f"translate(0 {moved})"})
    _rim(ground, face, drawing)
    _marks(ground, face, drawing.marks)
    if with_key:
        _key(root, drawing, above + below + KEY_LINE / 2.0)
    return written(root)


def _rim(parent: Tree.Element, face: Face, drawing: MapDrawing) -> None:
    """Draw the limbus, the hours, the sides, the steep axis and the surgeon's seat."""
    if drawing.steep_axis is not None:
        start, end = face.at(144.0, drawing.steep_axis), face.at(144.0, drawing.steep_axis + 180.0)
        line(
            parent,
            x1=start[0],
            y1=start[1],
            x2=end[0],
            y2=end[1],
            colour="third",
            width=1.25,
            dashes="9 4",
        )
    circle(parent, x=MIDDLE, y=MIDDLE, radius=LIMBUS, width=2.0)
    for hour in range(1, 13):
        _hour(parent, face, hour, drawing.temporal_hour)
    _seat(parent, face, drawing)


def _hour(parent: Tree.Element, face: Face, hour: int, temporal: int) -> None:
    inner, outer = face.at(LIMBUS, _degrees(hour)), face.at(LIMBUS + 6.0, _degrees(hour))
    line(parent, x1=inner[0], y1=inner[1], x2=outer[0], y2=outer[1], colour="ink", width=1.25)
    x, y = face.at(RIM, _degrees(hour))
    side = {temporal: "temporal", 12 - temporal: "nasal"}.get(hour, "")
    words(parent, f"{hour}", x=x, y=y + 5.0 - 4.0 * bool(side), anchor="middle", size=15.0)
    if side:
        words(parent, side, x=x, y=y + 18.0, anchor="middle", size=13.0, bold=True)


def _degrees(hour: float) -> float:
    return (90.0 - 30.0 * hour) % 360.0


def _seat(parent: Tree.Element, face: Face, drawing: MapDrawing) -> None:
    """Mark where the surgeon sits: a thick bar outside the hours."""
    toward = _degrees(drawing.seat_hour)
    start, end = face.at(SEAT, toward + 11.0), face.at(SEAT, toward - 11.0)
    line(
        parent,
        x1=start[0],
        y1=start[1],
        x2=end[0],
        y2=end[1],
        colour="accent",
        width=6.0,
        round_ends=True,
    )
    x, y = face.at(SEAT, toward)
    across = abs(x - MIDDLE) > abs(y - MIDDLE)
    anchor = ("end" if x > MIDDLE else "start") if across else "start"
    place = (x + (4.0 if x > MIDDLE else -4.0), y - 46.0) if across else (x + 48.0, y + 4.0)
    says = drawing.seat_says
    words(parent, says, x=place[0], y=place[1], anchor=anchor, size=13.0, colour="accent")


def _marks(parent: Tree.Element, face: Face, marks: Sequence[Drawn]) -> None:
    """Draw what is there first, so that nothing hides what goes in."""
    goes_in = [one for one in marks if one.kind not in ARCS]
    for one in marks:
        if one.kind in ARCS:
            draw_arc(parent, face, one, letters_where=clear_of(one, goes_in))
    for one in goes_in:
        draw_shaft(parent, face, one)
    for one in goes_in:
        draw_mark(parent, face, one)


def _key(root: Tree.Element, drawing: MapDrawing, top: float) -> None:
    """Write what the shapes mean, two beside each other."""
    across = WIDTH / PER_ROW
    for at, one in enumerate(drawing.key):
        x, y = 18.0 + across * (at % PER_ROW), top + KEY_LINE * (at // PER_ROW)
        if one.kind not in ARCS and one.kind != "main_wound":
            shape(root, one.kind, x=x, y=y, size=KEY_SIZE)
        elif one.kind == "main_wound":
            line(root, x1=x - 11.0, y1=y + 8.0, x2=x + 11.0, y2=y + 8.0, colour="ink", width=5.0)
        letters_at(root, one.letters, x=x, y=y, size=11.0)
        words(root, one.says, x=x + 22.0, y=y + 4.5, size=13.0)
    if drawing.steep_says:
        y = top + KEY_LINE * -(-len(drawing.key) // PER_ROW)
        line(root, x1=6.0, y1=y, x2=30.0, y2=y, colour="third", width=1.25, dashes="9 4")
        words(root, drawing.steep_says, x=40.0, y=y + 4.5, size=13.0)
