"""Expected after surgery: one row per power in stock around the chosen one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as Tree

from zonule.report.figures.axis import RefractionAxis, axis_over
from zonule.report.figures.band import Band, draw_band
from zonule.report.figures.svg import box, line, picture, words, written

ROW = 30.0
TOP = 34.0
WIDTH = 720.0
POWER_END = 78.0
AXIS_START, AXIS_WIDTH = 92.0, 420.0
SHARE_START, SHARE_WIDTH = 540.0, 84.0


@dataclass(frozen=True, slots=True)
class Row:
    """One power."""

    power: str
    band: Band
    share: float
    """Share of such eyes within half a dioptre of the aim."""
    share_says: str
    chosen: bool
    formulas_d: tuple[float, ...] = ()
    """What each single formula predicts; drawn under the chosen row only."""


def expected_after_surgery(rows: Sequence[Row], *, aim_d: float, title: str, described: str) -> str:
    """Return the picture of what each power around the chosen one would leave.

    Parameters
    ----------
    rows
        Strongest power first.
    aim_d
        The aim; its half dioptre either side is shaded.
    title, described
        What a screen reader says; the table beside the picture has the figures.
    """
    height = TOP + ROW * len(rows) + 30.0
    root = picture(width=WIDTH, height=height, title=title, description=described)
    axis = axis_over(
        [row.band.nine_in_ten_d for row in rows], aim_d, start=AXIS_START, width=AXIS_WIDTH
    )
    bottom = TOP + ROW * len(rows)
    _ground(root, axis, aim_d, bottom)
    for at, row in enumerate(rows):
        _row(root, axis, row, TOP + ROW * (at + 0.5))
    words(
        root,
        "spherical equivalent, D · thick: half of such eyes · thin: nine in ten"
        " · marks below: one per formula",
        x=AXIS_START,
        y=bottom + 22.0,
        colour="muted",
        size=12.0,
    )
    return written(root)


def _ground(root: Tree.Element, axis: RefractionAxis, aim_d: float, bottom: float) -> None:
    """Draw the shaded aim, the ticks with their labels, and the line of the aim."""
    low, high = axis.at(aim_d - 0.5), axis.at(aim_d + 0.5)
    box(root, x=low, y=TOP, width=high - low, height=bottom - TOP, colour="aim-band")
    for tick in axis.ticks():
        x = axis.at(tick)
        line(root, x1=x, y1=TOP, x2=x, y2=bottom, colour="grid", width=1.0)
        words(root, axis.label(tick), x=x, y=TOP - 10.0, colour="muted", size=12.0, anchor="middle")
    words(root, "within ±0.50 D of aim", x=SHARE_START, y=TOP - 10.0, colour="muted", size=12.0)
    at = axis.at(aim_d)
    line(root, x1=at, y1=TOP - 4.0, x2=at, y2=bottom, colour="accent", width=1.75, dashes="4 3")


def _row(root: Tree.Element, axis: RefractionAxis, row: Row, y: float) -> None:
    words(root, row.power, x=POWER_END, y=y + 5.0, size=15.0, anchor="end", bold=row.chosen)
    draw_band(
        root,
        axis,
        row.band,
        y=y,
        colour="accent",
        thick=9.0 if row.chosen else 6.0,
        hollow=not row.chosen,
    )
    for each in row.formulas_d if row.chosen else ():
        x = axis.at(each)
        line(root, x1=x, y1=y + 8.0, x2=x, y2=y + 15.0, colour="third", width=2.5)
    box(root, x=SHARE_START, y=y - 6.0, width=SHARE_WIDTH, height=12.0, colour="rail", corner=3.0)
    box(
        root,
        x=SHARE_START,
        y=y - 6.0,
        width=SHARE_WIDTH * row.share,
        height=12.0,
        colour="accent" if row.chosen else "bar",
        corner=3.0,
    )
    said = f"{row.share_says} chosen" if row.chosen else row.share_says
    words(root, said, x=SHARE_START + SHARE_WIDTH + 10.0, y=y + 4.5, size=13.0, bold=row.chosen)
