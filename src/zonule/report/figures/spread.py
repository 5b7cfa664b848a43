"""An upright mark: thick half of such eyes, thin nine in ten, a dot in the middle."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree as Tree

from zonule.report.figures.band import DASHES
from zonule.report.figures.svg import dot, line


@dataclass(frozen=True, slots=True)
class Upright:
    """Heights of one mark on the drawing."""

    middle: float
    half: tuple[float, float]
    nine_in_ten: tuple[float, float]


def draw_upright(
    parent: Tree.Element,
    mark: Upright,
    *,
    x: float,
    colour: str,
    thick: float,
    assumed: bool = False,
) -> None:
    """Draw a mark at a place across; its thin line is dashed where the spread is assumed."""
    top, bottom = mark.nine_in_ten
    dashes = DASHES if assumed else ""
    line(parent, x1=x, y1=top, x2=x, y2=bottom, colour=colour, width=1.75, dashes=dashes)
    high, low = mark.half
    line(parent, x1=x, y1=high, x2=x, y2=low, colour=colour, width=thick, round_ends=True)
    dot(parent, x=x, y=mark.middle, radius=thick / 2.0 + 2.0, colour=colour, hollow=False)


def draw_path(
    parent: Tree.Element,
    places: list[tuple[float, float]],
    *,
    colour: str,
    width: float,
    dashes: str = "",
) -> None:
    """Draw straight lines from place to place."""
    for (x1, y1), (x2, y2) in pairwise(places):
        line(parent, x1=x1, y1=y1, x2=x2, y2=y2, colour=colour, width=width, dashes=dashes)
