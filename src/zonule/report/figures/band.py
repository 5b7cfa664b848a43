"""What to expect as a mark: thick half of such eyes, thin nine in ten, dashed where assumed."""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree import ElementTree as Tree

from zonule.report.figures.axis import RefractionAxis
from zonule.report.figures.svg import dot, line, picture, written

DASHES = "4 3"


@dataclass(frozen=True, slots=True)
class Band:
    """One expected refraction with its bands."""

    middle_d: float
    half_d: tuple[float, float]
    nine_in_ten_d: tuple[float, float]
    assumed: bool


def draw_band(
    parent: Tree.Element,
    axis: RefractionAxis,
    band: Band,
    *,
    y: float,
    colour: str,
    thick: float,
    hollow: bool,
) -> None:
    """Draw the mark of one band on an axis."""
    low, high = (axis.at(end) for end in band.nine_in_ten_d)
    dashes = DASHES if band.assumed else ""
    line(parent, x1=low, y1=y, x2=high, y2=y, colour=colour, width=1.75, dashes=dashes)
    inner, outer = (axis.at(end) for end in band.half_d)
    line(parent, x1=inner, y1=y, x2=outer, y2=y, colour=colour, width=thick, round_ends=True)
    dot(parent, x=axis.at(band.middle_d), y=y, radius=4.5, colour=colour, hollow=hollow)


def small_band(
    band: Band, *, lowest_d: float, highest_d: float, aim_d: float, title: str, described: str
) -> str:
    """Return the small picture of one place's band, on an axis that all places share."""
    axis = RefractionAxis(lowest_d, highest_d, 6.0, 168.0)
    root = picture(width=180.0, height=22.0, title=title, description=described)
    at = axis.at(aim_d)
    line(root, x1=at, y1=2.0, x2=at, y2=20.0, colour="accent", width=1.0, dashes="2 2")
    draw_band(root, axis, band, y=11.0, colour="ink", thick=6.0, hollow=False)
    return written(root)
