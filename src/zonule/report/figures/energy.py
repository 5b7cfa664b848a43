"""Energy against density: own cases, what the next eye needs, this eye and its limit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.band import DASHES
from zonule.report.figures.spread import Upright, draw_path, draw_upright
from zonule.report.figures.svg import dot, line, picture, words, written

SMALL: Final = 12.0
LEGEND_LINE: Final = 16.0
STEPS: Final = (1.0, 2.0, 5.0)
"""Energies written beside the picture, in each power of ten."""
BESIDE: Final = 0.3
"""Grades of room beside the outermost marks."""
LIMIT_REACHES: Final = 26.0
"""Units of the drawing to either side of this eye's mark."""
COLOUR_HEAD: Final = "LOCS III nuclear colour"
OWN: Final = "small rings: own cases"
LINES: Final = "lines: middle and nine in ten of the next own eye"
THIS_EYE: Final = "upright mark, this eye: thick half, thin nine in ten"
DASHED: Final = "dashed: stop and ask"


@dataclass(frozen=True, slots=True)
class At:
    """What the next eye of a colour needs."""

    colour: float
    middle: float
    half: tuple[float, float]
    nine_in_ten: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Drawn:
    """Everything the picture shows."""

    unit: str
    own: tuple[tuple[float, float], ...]
    """Colour and energy of each own case."""
    line: tuple[At, ...]
    this_eye: At | None = None
    limit: float | None = None
    limit_says: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things stand, for a wide or a narrow place."""

    kind: str
    width: float
    start: float
    end: float
    top: float
    height: float
    thick: float
    legend_characters: int


WIDE: Final = Layout("wide", 680.0, 44.0, 668.0, 30.0, 270.0, 9.0, 104)
NARROW: Final = Layout("narrow", 340.0, 36.0, 332.0, 30.0, 240.0, 7.0, 52)


@dataclass(frozen=True, slots=True)
class Plane:
    """Colour across, energy upward, each tenfold the same height."""

    layout: Layout
    lowest_colour: float
    highest_colour: float
    lowest: float
    highest: float

    def x(self, colour: float) -> float:
        """Return the place of a nuclear colour."""
        wide = self.layout.end - self.layout.start
        share = (colour - self.lowest_colour) / (self.highest_colour - self.lowest_colour)
        return self.layout.start + wide * share

    def y(self, energy: float) -> float:
        """Return the place of an energy, held at the ends."""
        inside = min(max(energy, self.lowest), self.highest)
        share = math.log(inside / self.lowest) / math.log(self.highest / self.lowest)
        return self.layout.top + self.layout.height * (1.0 - share)


def _every_round_energy(low: float, high: float) -> list[float]:
    first, last = math.floor(math.log10(low)), math.ceil(math.log10(high))
    return [step * 10.0**power for power in range(first, last + 1) for step in STEPS]


def _round_energies(low: float, high: float) -> list[float]:
    """Return the round energies from just below the lowest to just above the highest."""
    every = _every_round_energy(low, high)
    below = max((one for one in every if one <= low), default=every[0])
    above = min((one for one in every if one > high), default=every[-1])
    return [one for one in every if below <= one <= above]


def plane_of(drawn: Drawn, layout: Layout) -> Plane:
    """Return the plane that holds every mark, with room beside, on round energies."""
    marks = [*drawn.line, *([drawn.this_eye] if drawn.this_eye else [])]
    colours = [*(colour for colour, _ in drawn.own), *(one.colour for one in marks)]
    energies = [*(energy for _, energy in drawn.own)]
    energies += [end for one in marks for end in one.nine_in_ten]
    ends = _round_energies(min(energies), max(energies))
    return Plane(layout, min(colours) - BESIDE, max(colours) + BESIDE, ends[0], ends[-1])


def energy_by_density(drawn: Drawn, *, title: str, described: str, layout: Layout = WIDE) -> str:
    """Return the picture of energy against density.

    Parameters
    ----------
    drawn
        Own cases, the line through them, this eye and its limit.
    title, described
        What a screen reader says; the table beside the picture has the figures.
    layout
        For a wide or a narrow place.
    """
    plane, legend = plane_of(drawn, layout), _legend(drawn, layout)
    bottom = layout.top + layout.height + 34.0
    root = picture(
        width=layout.width,
        height=bottom + LEGEND_LINE * len(legend) + 4.0,
        title=title,
        description=described,
        kind=layout.kind,
    )
    _ground(root, plane, drawn.unit)
    for colour, energy in drawn.own:
        dot(root, x=plane.x(colour), y=plane.y(energy), radius=3.0, colour="edge", hollow=True)
    _lines(root, plane, drawn.line)
    _this_eye(root, plane, drawn)
    for at, text in enumerate(legend, 1):
        words(root, text, x=2.0, y=bottom + LEGEND_LINE * at, colour="muted", size=SMALL)
    return written(root)


def _ground(root: Tree.Element, plane: Plane, unit: str) -> None:
    layout = plane.layout
    for energy in _every_round_energy(plane.lowest, plane.highest):
        if not plane.lowest <= energy <= plane.highest:
            continue
        y = plane.y(energy)
        line(root, x1=layout.start, y1=y, x2=layout.end, y2=y, colour="grid", width=1.0)
        _written(root, f"{energy:g}", x=layout.start - 6.0, y=y + 4.0, anchor="end")
    _written(root, unit, x=2.0, y=14.0, anchor="start")
    y = layout.top + layout.height + 17.0
    for colour in range(math.ceil(plane.lowest_colour), math.floor(plane.highest_colour) + 1):
        _written(root, f"{colour}", x=plane.x(colour), y=y, anchor="middle")
    middle = (layout.start + layout.end) / 2.0
    _written(root, COLOUR_HEAD, x=middle, y=y + 16.0, anchor="middle")


def _written(root: Tree.Element, text: str, *, x: float, y: float, anchor: str) -> None:
    words(root, text, x=x, y=y, colour="muted", size=SMALL, anchor=anchor)


def _lines(root: Tree.Element, plane: Plane, points: Sequence[At]) -> None:
    for width, energies in (
        (1.0, [one.nine_in_ten[0] for one in points]),
        (1.75, [one.middle for one in points]),
        (1.0, [one.nine_in_ten[1] for one in points]),
    ):
        places = zip((one.colour for one in points), energies, strict=True)
        path = [(plane.x(colour), plane.y(energy)) for colour, energy in places]
        draw_path(root, path, colour="accent", width=width)


def _this_eye(root: Tree.Element, plane: Plane, drawn: Drawn) -> None:
    """Draw what this eye is expected to need, and its limit: at its own density, nowhere else."""
    one = drawn.this_eye
    if one is None:
        return
    mark = Upright(
        plane.y(one.middle),
        (plane.y(one.half[1]), plane.y(one.half[0])),
        (plane.y(one.nine_in_ten[1]), plane.y(one.nine_in_ten[0])),
    )
    at = plane.x(one.colour)
    draw_upright(root, mark, x=at, colour="accent", thick=plane.layout.thick)
    if drawn.limit is not None:
        _limit(root, plane, at, plane.y(drawn.limit), drawn.limit_says)


def _limit(root: Tree.Element, plane: Plane, x: float, y: float, says: str) -> None:
    layout = plane.layout
    first, last = max(x - LIMIT_REACHES, layout.start), min(x + LIMIT_REACHES, layout.end)
    line(root, x1=first, y1=y, x2=last, y2=y, colour="ink", width=2.0, dashes=DASHES)
    before = x > (layout.start + layout.end) / 2.0
    words(
        root,
        says,
        x=x - layout.thick if before else x + layout.thick,
        y=y - 7.0,
        size=13.0,
        anchor="end" if before else "start",
        bold=True,
    )


def _legend(drawn: Drawn, layout: Layout) -> tuple[str, ...]:
    """Return what the marks mean, only of marks that are there, in lines that fit."""
    parts = (
        OWN,
        LINES if drawn.line else "",
        THIS_EYE if drawn.this_eye else "",
        DASHED if drawn.limit is not None else "",
    )
    lines: list[str] = []
    for part in (one for one in parts if one):
        longer = f"{lines[-1]} · {part}" if lines else part
        if lines and len(longer) <= layout.legend_characters:
            lines[-1] = longer
        else:
            lines.append(part)
    return tuple(lines)
