"""Chamber pressure against flow: one mark per stage at the middle of its ranges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.band import DASHES
from zonule.report.figures.svg import box, dot, line, picture, words, written

SMALL: Final = 12.0
LEGEND_LINE: Final = 16.0
FLOW_STEP: Final = 5.0
PRESSURE_STEP: Final = 10.0
LEGEND: Final = (
    "thick: half of such set-ups and eyes",
    "thin: nine in ten",
    "slope: what flow costs over the stage's range",
)
DASHED: Final = "dashed: published resistance, spread assumed"
PRESSURE_HEAD: Final = "mmHg in the chamber"
FLOW_HEAD: Final = "aspiration flow, mL/min"


@dataclass(frozen=True, slots=True)
class Mark:
    """Stages whose infusion and flow are the same, as one mark."""

    numbers: str
    """Which stages, by their number in the table: ``2, 3``."""
    names: str
    flow_ml_min: tuple[float, float]
    by_flow_mmhg: tuple[float, float]
    middle_mmhg: float
    half_mmhg: tuple[float, float]
    nine_in_ten_mmhg: tuple[float, float]

    @property
    def middle_flow(self) -> float:
        """The flow at which it stands."""
        return sum(self.flow_ml_min) / 2.0


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things stand, for a wide or a narrow place."""

    kind: str
    width: float
    start: float
    end: float
    top: float
    height: float
    legend_characters: int


WIDE: Final = Layout("wide", 776.0, 40.0, 764.0, 36.0, 310.0, 118)
NARROW: Final = Layout("narrow", 340.0, 34.0, 332.0, 36.0, 280.0, 50)


@dataclass(frozen=True, slots=True)
class Plane:
    """Flow across, pressure upward."""

    layout: Layout
    most_flow: float
    lowest: float
    highest: float

    def x(self, flow_ml_min: float) -> float:
        """Return the place of a flow."""
        wide = self.layout.end - self.layout.start
        return self.layout.start + wide * flow_ml_min / self.most_flow

    def y(self, pressure_mmhg: float) -> float:
        """Return the place of a pressure, held at the ends."""
        inside = min(max(pressure_mmhg, self.lowest), self.highest)
        share = (inside - self.lowest) / (self.highest - self.lowest)
        return self.layout.top + self.layout.height * (1.0 - share)


def plane_of(marks: Sequence[Mark], floor_mmhg: float, layout: Layout) -> Plane:
    """Return the plane that holds every mark, from no flow and no pressure on."""
    ends = [end for one in marks for end in (*one.nine_in_ten_mmhg, *one.by_flow_mmhg)]
    flows = [one.flow_ml_min[1] for one in marks]
    return Plane(
        layout,
        most_flow=math.ceil((max(flows) + 1.0) / FLOW_STEP) * FLOW_STEP,
        lowest=min(math.floor(min(ends) / PRESSURE_STEP) * PRESSURE_STEP, 0.0),
        highest=math.ceil(max(*ends, floor_mmhg) / PRESSURE_STEP) * PRESSURE_STEP,
    )


def chamber_against_flow(
    marks: Sequence[Mark],
    *,
    floor_mmhg: float,
    assumed: bool,
    title: str,
    described: str,
    layout: Layout = WIDE,
) -> str:
    """Return the picture of chamber pressure against flow.

    Parameters
    ----------
    marks
        In the order of the operation.
    floor_mmhg
        The allowed floor, drawn as a line.
    assumed
        Whether the resistance is a published span: the thin lines are then dashed.
    title, described
        What a screen reader says; the table beside the picture has the figures.
    layout
        For a wide or a narrow place.
    """
    plane = plane_of(marks, floor_mmhg, layout)
    legend = _legend(marks, layout, assumed=assumed)
    bottom = layout.top + layout.height + 36.0
    root = picture(
        width=layout.width,
        height=bottom + LEGEND_LINE * len(legend) + 2.0,
        title=title,
        description=described,
        kind=layout.kind,
    )
    _ground(root, plane)
    _floor(root, plane, floor_mmhg)
    for one in marks:
        _slope(root, plane, one)
    for one in marks:
        _mark(root, plane, one, assumed=assumed)
    _numbers(root, plane, marks)
    for at, text in enumerate(legend, 1):
        words(root, text, x=2.0, y=bottom + LEGEND_LINE * at - 4.0, colour="muted", size=SMALL)
    return written(root)


def _steps(low: float, high: float, step: float) -> tuple[float, ...]:
    count = round((high - low) / step)
    every = max(1, math.ceil(count / 12))
    return tuple(low + step * at for at in range(0, count + 1, every))


def _ground(root: Tree.Element, plane: Plane) -> None:
    layout = plane.layout
    words(root, PRESSURE_HEAD, x=2.0, y=14.0, colour="muted", size=SMALL)
    for pressure in _steps(plane.lowest, plane.highest, PRESSURE_STEP):
        y = plane.y(pressure)
        line(root, x1=layout.start, y1=y, x2=layout.end, y2=y, colour="grid", width=1.0)
        said = f"{pressure:g}".replace("-", "−")
        words(root, said, x=layout.start - 6.0, y=y + 4.0, colour="muted", size=SMALL, anchor="end")
    below = layout.top + layout.height
    for flow in _steps(0.0, plane.most_flow, FLOW_STEP):
        x = plane.x(flow)
        words(root, f"{flow:g}", x=x, y=below + 16.0, colour="muted", size=SMALL, anchor="middle")
    words(root, FLOW_HEAD, x=layout.end, y=below + 32.0, colour="muted", size=SMALL, anchor="end")


def _floor(root: Tree.Element, plane: Plane, floor_mmhg: float) -> None:
    layout, y = plane.layout, plane.y(floor_mmhg)
    line(root, x1=layout.start, y1=y, x2=layout.end, y2=y, colour="third", width=1.5, dashes=DASHES)
    said = f"allowed floor {floor_mmhg:g} mmHg"
    words(root, said, x=layout.end, y=y - 5.0, colour="muted", size=SMALL, anchor="end")


def _slope(root: Tree.Element, plane: Plane, one: Mark) -> None:
    (little, much), (first, last) = one.flow_ml_min, one.by_flow_mmhg
    line(
        root,
        x1=plane.x(little),
        y1=plane.y(first),
        x2=plane.x(much),
        y2=plane.y(last),
        colour="ink",
        width=1.25,
    )


def _mark(root: Tree.Element, plane: Plane, one: Mark, *, assumed: bool) -> None:
    x = plane.x(one.middle_flow)
    low, high = (plane.y(end) for end in one.nine_in_ten_mmhg)
    dashes = DASHES if assumed else ""
    line(root, x1=x, y1=low, x2=x, y2=high, colour="accent", width=1.75, dashes=dashes)
    inner, outer = (plane.y(end) for end in one.half_mmhg)
    line(root, x1=x, y1=inner, x2=x, y2=outer, colour="accent", width=6.0, round_ends=True)
    dot(root, x=x, y=plane.y(one.middle_mmhg), radius=4.5, colour="accent", hollow=False)


Room = tuple[float, float, float, float]
"""Start, end, top and bottom of what is drawn."""


def _numbers(root: Tree.Element, plane: Plane, marks: Sequence[Mark]) -> None:
    """Write the numbers of the stages above their marks, or below where others stand."""
    taken = [_room_of(plane, one) for one in marks]
    for at, one in enumerate(marks):
        others = [*taken[:at], *taken[at + 1 :]]
        places = _places(plane, one)
        room = next((p for p in places if not any(_meet(p, each) for each in others)), places[0])
        taken.append(room)
        start, end, top, bottom = room
        box(root, x=start, y=top, width=end - start, height=bottom - top, colour="panel")
        x, y = plane.x(one.middle_flow), bottom - 3.0
        words(root, one.numbers, x=x, y=y, size=13.0, anchor="middle", bold=True)


def _room_of(plane: Plane, one: Mark) -> Room:
    x, (low, high) = plane.x(one.middle_flow), one.nine_in_ten_mmhg
    return x - 5.0, x + 5.0, plane.y(high), plane.y(low)


def _places(plane: Plane, one: Mark) -> tuple[Room, Room]:
    x, (low, high) = plane.x(one.middle_flow), one.nine_in_ten_mmhg
    aside, top, bottom = 4.0 * len(one.numbers) + 1.0, plane.y(high), plane.y(low)
    above = (x - aside, x + aside, top - 18.0, top - 3.0)
    return above, (x - aside, x + aside, bottom + 3.0, bottom + 18.0)


def _meet(one: Room, other: Room) -> bool:
    apart = one[1] <= other[0] or other[1] <= one[0] or one[3] <= other[2] or other[3] <= one[2]
    return not apart


def _legend(marks: Sequence[Mark], layout: Layout, *, assumed: bool) -> tuple[str, ...]:
    """Return which number is which stage, and what the marks mean, in lines that fit."""
    stages = [f"{one.numbers} {one.names}" for one in marks]
    meanings = [*LEGEND, *((DASHED,) if assumed else ())]
    return (*_lines(stages, layout), *_lines(meanings, layout))


def _lines(parts: Sequence[str], layout: Layout) -> list[str]:
    lines: list[str] = []
    for part in parts:
        longer = f"{lines[-1]} · {part}" if lines else part
        if lines and len(longer) <= layout.legend_characters:
            lines[-1] = longer
        else:
            lines.append(part)
    return lines
