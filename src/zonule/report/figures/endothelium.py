"""The endothelial cell count now, after surgery and over the years, against its thresholds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.band import DASHES
from zonule.report.figures.spread import Upright, draw_path, draw_upright
from zonule.report.figures.svg import dot, line, picture, words, written

SMALL: Final = 12.0
LEGEND_LINE: Final = 16.0
STEP: Final = 500.0
LEGEND: Final = (
    "cells/mm², centre of the cornea",
    "thick: half of such eyes",
    "thin: nine in ten",
    "dashed: thresholds",
)
NOW: Final = "now"
AFTER: Final = "after"


@dataclass(frozen=True, slots=True)
class Point:
    """The count expected some years after surgery."""

    years: float
    middle: float
    half: tuple[float, float]
    nine_in_ten: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """A threshold."""

    says: str
    count: float


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things stand, for a wide or a narrow place."""

    kind: str
    width: float
    start: float
    end: float
    """Where the plot ends and the names of the thresholds begin."""
    top: float
    height: float
    room_for_now: float
    """Share of the width before the marks after surgery begin."""
    thick: float
    every: int
    """Which of the points carry their years in writing."""
    legend_characters: int


WIDE: Final = Layout("wide", 680.0, 44.0, 560.0, 16.0, 280.0, 0.13, 9.0, 1, 104)
NARROW: Final = Layout("narrow", 340.0, 40.0, 230.0, 16.0, 240.0, 0.25, 5.0, 2, 52)


@dataclass(frozen=True, slots=True)
class Plane:
    """Years across, count upward."""

    layout: Layout
    most_years: float
    highest: float

    def x(self, years: float) -> float:
        """Return the place of some years after surgery."""
        wide = self.layout.end - self.layout.start
        first = self.layout.start + wide * self.layout.room_for_now
        return first + (self.layout.end - 12.0 - first) * years / max(self.most_years, 1.0)

    @property
    def now_x(self) -> float:
        """The place of the count before surgery."""
        return self.layout.start + 14.0

    def y(self, count: float) -> float:
        """Return the place of a count, held at the ends."""
        inside = min(max(count, 0.0), self.highest)
        return self.layout.top + self.layout.height * (1.0 - inside / self.highest)


def plane_of(now: float, points: Sequence[Point], layout: Layout) -> Plane:
    """Return the plane that holds every mark, from no cells on."""
    most = max([now, *(one.nine_in_ten[1] for one in points)])
    highest = (most // STEP + 1.0) * STEP
    return Plane(layout, max(one.years for one in points), highest)


def count_over_years(
    *,
    now: float,
    points: Sequence[Point],
    thresholds: Sequence[Line],
    title: str,
    described: str,
    layout: Layout = WIDE,
) -> str:
    """Return the picture of the count now, after surgery and over the years.

    Parameters
    ----------
    now
        The count before surgery.
    points
        After surgery and then every few years.
    thresholds
        Counts below which something changes.
    title, described
        What a screen reader says; the table beside the picture has the figures.
    layout
        For a wide or a narrow place.
    """
    plane, legend = plane_of(now, points, layout), _legend(layout)
    bottom = layout.top + layout.height + 22.0
    root = picture(
        width=layout.width,
        height=bottom + LEGEND_LINE * len(legend) + 4.0,
        title=title,
        description=described,
        kind=layout.kind,
    )
    _ground(root, plane, points)
    _course(root, plane, now, points)
    _thresholds(root, plane, thresholds)
    for at, text in enumerate(legend, 1):
        words(root, text, x=2.0, y=bottom + LEGEND_LINE * at, colour="muted", size=SMALL)
    return written(root)


def _ground(root: Tree.Element, plane: Plane, points: Sequence[Point]) -> None:
    layout = plane.layout
    for step in range(int(plane.highest // STEP) + 1):
        y = plane.y(step * STEP)
        line(root, x1=layout.start, y1=y, x2=layout.end, y2=y, colour="grid", width=1.0)
        _written(root, f"{step * STEP:,.0f}", x=layout.start - 6.0, y=y + 4.0, anchor="end")
    y = layout.top + layout.height + 17.0
    _written(root, NOW, x=plane.now_x, y=y, anchor="middle")
    for one in points[:: layout.every]:
        _written(root, _years(one.years), x=plane.x(one.years), y=y, anchor="middle")


def _years(years: float) -> str:
    return AFTER if years == 0.0 else f"{years:g} y"


def _written(root: Tree.Element, text: str, *, x: float, y: float, anchor: str) -> None:
    words(root, text, x=x, y=y, colour="muted", size=SMALL, anchor=anchor)


def _course(root: Tree.Element, plane: Plane, now: float, points: Sequence[Point]) -> None:
    start = (plane.now_x, plane.y(now))
    path = [start, *((plane.x(one.years), plane.y(one.middle)) for one in points)]
    draw_path(root, path, colour="accent", width=1.0)
    dot(root, x=start[0], y=start[1], radius=6.0, colour="accent", hollow=True)
    for one in points:
        mark = Upright(
            plane.y(one.middle),
            (plane.y(one.half[1]), plane.y(one.half[0])),
            (plane.y(one.nine_in_ten[1]), plane.y(one.nine_in_ten[0])),
        )
        draw_upright(root, mark, x=plane.x(one.years), colour="accent", thick=plane.layout.thick)


def _thresholds(root: Tree.Element, plane: Plane, thresholds: Sequence[Line]) -> None:
    layout = plane.layout
    for one in thresholds:
        y = plane.y(one.count)
        line(
            root,
            x1=layout.start,
            y1=y,
            x2=layout.end,
            y2=y,
            colour="ink",
            width=1.25,
            dashes=DASHES,
        )
        words(root, one.says, x=layout.end + 6.0, y=y + 4.0, size=SMALL)


def _legend(layout: Layout) -> tuple[str, ...]:
    """Return what the marks mean, in lines that fit."""
    lines: list[str] = []
    for part in LEGEND:
        longer = f"{lines[-1]} · {part}" if lines else part
        if lines and len(longer) <= layout.legend_characters:
            lines[-1] = longer
        else:
            lines.append(part)
    return tuple(lines)
