"""What to expect as a mark: thick half of such eyes, thin nine in ten, dashed where assumed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.axis import RefractionAxis
from zonule.report.figures.svg import box, dot, line, picture, written

DASHES: Final = "4 3"
SMALL_WIDTH: Final = 176.0
SMALL_HEIGHT: Final = 20.0
MARGIN: Final = 6.0
HALF_A_DIOPTRE: Final = 0.5
"""How far either side of the aim is shaded."""


@dataclass(frozen=True, slots=True)
class Band:
    """One expected refraction with its bands."""

    middle_d: float
    half_d: tuple[float, float]
    nine_in_ten_d: tuple[float, float]
    assumed: bool
    """Whether the spread is assumed: the thin line is then dashed."""


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
    dot(
        parent,
        x=axis.at(band.middle_d),
        y=y,
        radius=max(4.5, thick / 2.0 + 2.0),
        colour=colour,
        hollow=hollow,
    )


def draw_aim(
    parent: Tree.Element, axis: RefractionAxis, aim_d: float, *, top: float, bottom: float
) -> None:
    """Shade half a dioptre either side of the aim."""
    low, high = axis.at(aim_d - HALF_A_DIOPTRE), axis.at(aim_d + HALF_A_DIOPTRE)
    box(parent, x=low, y=top, width=high - low, height=bottom - top, colour="aim-band")


def draw_aim_line(
    parent: Tree.Element, axis: RefractionAxis, aim_d: float, *, top: float, bottom: float
) -> None:
    """Draw the upright line of the aim."""
    at = axis.at(aim_d)
    line(parent, x1=at, y1=top, x2=at, y2=bottom, colour="accent", width=1.5, dashes=DASHES)


def small_band(
    band: Band,
    *,
    lowest_d: float,
    highest_d: float,
    aim_d: float,
    in_hand: bool,
    title: str,
    described: str,
) -> str:
    """Return the small picture of one place's band.

    Parameters
    ----------
    band
        What is expected there.
    lowest_d, highest_d
        Ends of the axis that all places of a plan share, so that they compare at a glance.
    aim_d
        The aim; its half dioptre either side is shaded.
    in_hand
        Whether this is the place in hand.
    title, described
        What a screen reader says.
    """
    axis = RefractionAxis(lowest_d, highest_d, MARGIN, SMALL_WIDTH - 2.0 * MARGIN)
    root = picture(
        width=SMALL_WIDTH, height=SMALL_HEIGHT, title=title, description=described, kind="small"
    )
    draw_aim(root, axis, aim_d, top=0.0, bottom=SMALL_HEIGHT)
    draw_aim_line(root, axis, aim_d, top=0.0, bottom=SMALL_HEIGHT)
    colour = "accent" if in_hand else "ink"
    draw_band(root, axis, band, y=SMALL_HEIGHT / 2.0, colour=colour, thick=6.0, hollow=False)
    return written(root)
