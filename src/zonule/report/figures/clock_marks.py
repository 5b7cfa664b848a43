"""Marks on a drawn limbus: each kind has a shape of its own, and letters; colour says nothing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.svg import COLOURS, box, line, number, words

LIMBUS: Final = 112.0
RINGS: Final = {
    "main_wound": LIMBUS,
    "side_port": LIMBUS,
    "iris_hook": 87.0,
    "capsule_hook": 61.0,
    "segment": 134.0,
    "scleral_port": 134.0,
}
"""How far from the middle the middle of a mark is drawn."""
ARCS: Final = {
    "dialysis": (32.0, 46.0),
    "bleb": (LIMBUS + 4.0, LIMBUS + 26.0),
    "old_wound": (LIMBUS - 7.0, LIMBUS + 7.0),
    "vessels": (LIMBUS + 4.0, LIMBUS + 18.0),
}
"""From where to where what is there already is drawn."""
SIZE: Final = 11.5
"""Half the breadth of a mark."""
LEAST_HALF_WIDTH: Final = 6.0
"""Degrees to which a narrow arc is drawn, so that it can be seen."""
HIDES: Final = 9.0
"""Degrees within which a mark may hide letters."""
BETWEEN_STROKES: Final = 4.0
"""Degrees from one stroke of a hatching to the next."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One thing to be drawn on the clock face."""

    kind: str
    letters: str
    degrees: float
    """Counter-clockwise from 3 o'clock."""
    half_width: float = 0.0
    clashes: bool = False


@dataclass(frozen=True, slots=True)
class Face:
    """Where the middle of the drawing is, and how it is turned."""

    middle: float
    turned: float = 0.0
    """Degrees, counter-clockwise."""

    def at(self, radius: float, degrees: float) -> tuple[float, float]:
        """Return a place on the drawing.

        Examples
        --------
        >>> [round(part) for part in Face(100.0).at(50.0, 90.0)]
        [100, 50]
        """
        turn = math.radians(degrees + self.turned)
        return self.middle + radius * math.cos(turn), self.middle - radius * math.sin(turn)


def circle(
    parent: Tree.Element, *, x: float, y: float, radius: float, width: float, filled: bool = False
) -> None:
    """Draw a circle, hollow or filled with the ground."""
    Tree.SubElement(
        parent,
        "circle",
        {
            "cx": number(x),
            "cy": number(y),
            "r": number(radius),
            "class": "shape" if filled else "outline",
            "fill": COLOURS["panel"] if filled else "none",
            "stroke": COLOURS["ink"],
            "stroke-width": number(width),
        },
    )


def _corners(parent: Tree.Element, points: list[tuple[float, float]], width: float) -> None:
    Tree.SubElement(
        parent,
        "polygon",
        {
            "points": " ".join(f"{number(x)},{number(y)}" for x, y in points),
            "class": "shape",
            "fill": COLOURS["panel"],
            "stroke": COLOURS["ink"],
            "stroke-width": number(width),
            "stroke-linejoin": "round",
        },
    )


def shape(
    parent: Tree.Element,
    kind: str,
    *,
    x: float,
    y: float,
    clashes: bool = False,
    size: float = SIZE,
) -> None:
    """Draw the shape of a kind: circle, square, diamond, triangle, six corners.

    What clashes has a second line around it.
    """
    width = 1.75
    if clashes:
        circle(parent, x=x, y=y, radius=1.5 * size, width=1.5)
    if kind == "iris_hook":
        circle(parent, x=x, y=y, radius=size, width=width, filled=True)
        return
    corners, first, larger = {
        "side_port": (4, 45.0, 1.3),
        "capsule_hook": (4, 0.0, 1.35),
        "segment": (3, 90.0, 1.55),
        "scleral_port": (6, 0.0, 1.1),
    }[kind]
    turns = (math.radians(first + 360.0 * at / corners) for at in range(corners))
    far = size * larger
    _corners(parent, [(x + far * math.cos(t), y - far * math.sin(t)) for t in turns], width)


def letters_at(parent: Tree.Element, text: str, *, x: float, y: float, size: float = 12.0) -> None:
    """Write the letters of a mark with their middle at a place."""
    words(parent, text, x=x, y=y + size / 3.0, size=size, anchor="middle", bold=True)


def draw_shaft(parent: Tree.Element, face: Face, one: Drawn) -> None:
    """Draw the shaft of a hook, from its stab to its shape."""
    if one.kind.endswith("_hook"):
        start, end = face.at(LIMBUS + 5.0, one.degrees), face.at(RINGS[one.kind], one.degrees)
        line(parent, x1=start[0], y1=start[1], x2=end[0], y2=end[1], colour="ink", width=1.5)


def draw_mark(parent: Tree.Element, face: Face, one: Drawn) -> None:
    """Draw one thing that goes in: its shape with its letters."""
    if one.kind == "main_wound":
        _wound(parent, face, one)
        return
    x, y = face.at(RINGS[one.kind], one.degrees)
    shape(parent, one.kind, x=x, y=y, clashes=one.clashes)
    letters_at(parent, one.letters, x=x, y=y)


def _wound(parent: Tree.Element, face: Face, one: Drawn) -> None:
    """Draw the main wound: a thick stroke along the limbus as wide as it is, its letter outside."""
    _stroke(parent, face, one, radius=LIMBUS, width=9.0)
    x, y = face.at(LIMBUS + 20.0, one.degrees)
    if one.clashes:
        circle(parent, x=x, y=y, radius=SIZE, width=1.5)
    letters_at(parent, one.letters, x=x, y=y)


def _stroke(parent: Tree.Element, face: Face, one: Drawn, *, radius: float, width: float) -> None:
    half = max(one.half_width, LEAST_HALF_WIDTH)
    start, end = face.at(radius, one.degrees + half), face.at(radius, one.degrees - half)
    large = "1" if half > 90.0 else "0"
    Tree.SubElement(
        parent,
        "path",
        {
            "d": f"M {number(start[0])} {number(start[1])} A {number(radius)} {number(radius)} 0 "
            f"{large} 1 {number(end[0])} {number(end[1])}",
            "class": "line-ink",
            "fill": "none",
            "stroke": COLOURS["ink"],
            "stroke-width": number(width),
        },
    )


def clear_of(arc: Drawn, goes_in: Sequence[Drawn]) -> float:
    """Return at which degrees the letters of an arc are hidden by nothing: its middle if it can be.

    Examples
    --------
    >>> port = Drawn("side_port", "P1", 90.0)
    >>> clear_of(Drawn("vessels", "V", 90.0, 15.0), [port])
    99.0
    """
    by = (0.0, 0.6 * arc.half_width, -0.6 * arc.half_width)
    return max(
        (arc.degrees + one for one in by),
        key=lambda at: min(
            [HIDES, *(abs((at - mark.degrees + 180.0) % 360.0 - 180.0) for mark in goes_in)]
        ),
    )


def draw_arc(parent: Tree.Element, face: Face, one: Drawn, *, letters_where: float) -> None:
    """Draw what is there already: hatched across, each kind in its own way, its letters on it.

    The dialysis has strokes from the middle outwards, a bleb or tube crossed ones, an old wound a
    few long ones, vessels slanting ones.
    """
    inner, outer = ARCS[one.kind]
    half = min(max(one.half_width, LEAST_HALF_WIDTH), 180.0)
    steps = max(round(2.0 * half / BETWEEN_STROKES), 3)
    turns = [one.degrees - half + 2.0 * half * at / steps for at in range(steps + 1)]
    slant = {"dialysis": (0.0,), "bleb": (-5.0, 5.0), "old_wound": (0.0,), "vessels": (6.0,)}
    for turn in turns:
        for by in slant[one.kind]:
            start, end = face.at(inner, turn - by / 2.0), face.at(outer, turn + by / 2.0)
            line(parent, x1=start[0], y1=start[1], x2=end[0], y2=end[1], colour="muted", width=1.75)
    if half < 180.0:
        _stroke(parent, face, one, radius=inner if one.kind == "dialysis" else outer, width=1.5)
    x, y = face.at((inner + outer) / 2.0, letters_where)
    box(parent, x=x - 7.0, y=y - 7.0, width=14.0, height=14.0, colour="panel", corner=7.0)
    letters_at(parent, one.letters, x=x, y=y)
