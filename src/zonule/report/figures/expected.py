"""Expected after surgery: one row per power in stock around the chosen one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.axis import RefractionAxis, axis_over, label
from zonule.report.figures.band import Band, draw_aim, draw_aim_line, draw_band
from zonule.report.figures.svg import box, line, picture, words, written

LEGEND: Final = ("spherical equivalent, D", "thick: half of such eyes", "thin: nine in ten")
DASHED: Final = "dashed: spread assumed"
UNDER: Final = "marks below: one per formula"
SHARE_HEAD: Final = "within ±0.50 D of aim"
CHOSEN: Final = "chosen"
SMALL: Final = 12.0
"""Size of what stands beside the figures."""
LEGEND_LINE: Final = 16.0


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


@dataclass(frozen=True, slots=True)
class Layout:
    """Where things stand in the picture, for a wide or a narrow place."""

    kind: str
    width: float
    top: float
    row: float
    band_at: float
    """Height of the band within its row."""
    words_above: bool
    """Whether the words of a row stand above its band, not beside it."""
    power_x: float
    power_anchor: str
    words_at: float
    """Height of the words within their row."""
    axis_start: float
    axis_width: float
    bar_start: float
    bar_width: float
    share_x: float
    share_anchor: str
    head_y: float
    """Height of the words over the shares."""
    chosen_x: float
    chosen_below: float
    """How far below the words of its row "chosen" stands."""
    legend_characters: int


WIDE: Final = Layout(
    kind="wide",
    width=776.0,
    top=32.0,
    row=31.0,
    band_at=14.0,
    words_above=False,
    power_x=66.0,
    power_anchor="end",
    words_at=19.0,
    axis_start=82.0,
    axis_width=452.0,
    bar_start=560.0,
    bar_width=80.0,
    share_x=649.0,
    share_anchor="start",
    head_y=23.0,
    chosen_x=649.0,
    chosen_below=13.0,
    legend_characters=130,
)
NARROW: Final = Layout(
    kind="narrow",
    width=340.0,
    top=48.0,
    row=48.0,
    band_at=30.0,
    words_above=True,
    power_x=2.0,
    power_anchor="start",
    words_at=15.0,
    axis_start=20.0,
    axis_width=300.0,
    bar_start=124.0,
    bar_width=76.0,
    share_x=338.0,
    share_anchor="end",
    head_y=14.0,
    chosen_x=62.0,
    chosen_below=0.0,
    legend_characters=54,
)


def expected_after_surgery(
    rows: Sequence[Row], *, aim_d: float, title: str, described: str, layout: Layout = WIDE
) -> str:
    """Return the picture of what each power around the chosen one would leave.

    Parameters
    ----------
    rows
        Strongest power first.
    aim_d
        The aim; its half dioptre either side is shaded.
    title, described
        What a screen reader says; the table beside the picture has the figures.
    layout
        For a wide or a narrow place.
    """
    bottom = layout.top + layout.row * len(rows)
    legend = _legend(rows, layout)
    root = picture(
        width=layout.width,
        height=bottom + 4.0 + LEGEND_LINE * len(legend),
        title=title,
        description=described,
        kind=layout.kind,
    )
    bands = [row.band.nine_in_ten_d for row in rows]
    axis = axis_over(bands, aim_d, start=layout.axis_start, width=layout.axis_width)
    _heads(root, axis, layout)
    for top, end in _zones(layout, len(rows)):
        _ground(root, axis, aim_d, top=top, bottom=end)
    for at, row in enumerate(rows):
        _row(root, axis, row, layout, layout.top + layout.row * at)
    for at, text in enumerate(legend, 1):
        words(root, text, x=2.0, y=bottom + LEGEND_LINE * at, colour="muted", size=SMALL)
    return written(root)


def _zones(layout: Layout, rows: int) -> tuple[tuple[float, float], ...]:
    """Return from where to where bands are drawn: all rows in one, or each below its words."""
    if not layout.words_above:
        return ((layout.top, layout.top + layout.row * rows),)
    starts = [layout.top + layout.row * at + layout.words_at + 5.0 for at in range(rows)]
    return tuple((start, start + layout.row - layout.words_at - 5.0) for start in starts)


def _heads(root: Tree.Element, axis: RefractionAxis, layout: Layout) -> None:
    """Write the figures of the axis, and what the shares are."""
    for each in axis.written():
        at = axis.at(each)
        words(
            root,
            label(each),
            x=at,
            y=layout.top - 9.0,
            colour="muted",
            size=SMALL,
            anchor="middle",
        )
    words(
        root,
        SHARE_HEAD,
        x=layout.share_x if layout.share_anchor == "end" else layout.bar_start,
        y=layout.head_y,
        colour="muted",
        size=SMALL,
        anchor=layout.share_anchor,
    )


def _ground(
    root: Tree.Element, axis: RefractionAxis, aim_d: float, *, top: float, bottom: float
) -> None:
    """Draw the shaded aim, the lines of the axis, and the line of the aim."""
    draw_aim(root, axis, aim_d, top=top, bottom=bottom)
    for each in axis.written():
        x = axis.at(each)
        line(root, x1=x, y1=top, x2=x, y2=bottom, colour="grid", width=1.0)
    draw_aim_line(root, axis, aim_d, top=top, bottom=bottom)


def _row(root: Tree.Element, axis: RefractionAxis, row: Row, layout: Layout, y: float) -> None:
    words_y, band_y = y + layout.words_at, y + layout.band_at
    words(
        root,
        row.power,
        x=layout.power_x,
        y=words_y,
        size=15.0,
        anchor=layout.power_anchor,
        bold=row.chosen,
    )
    thick = 9.0 if row.chosen else 5.0
    draw_band(root, axis, row.band, y=band_y, colour="accent", thick=thick, hollow=not row.chosen)
    for each in row.formulas_d if row.chosen else ():
        x = axis.at(each)
        line(root, x1=x, y1=band_y + 7.0, x2=x, y2=band_y + 14.0, colour="third", width=2.0)
    _share(root, row, layout, words_y)


def _share(root: Tree.Element, row: Row, layout: Layout, words_y: float) -> None:
    """Draw the share inside the aim's half dioptre: a bar, and how many of 100."""
    for width, colour in (
        (layout.bar_width, "rail"),
        (layout.bar_width * row.share, "accent" if row.chosen else "bar"),
    ):
        box(
            root,
            x=layout.bar_start,
            y=words_y - 11.0,
            width=width,
            height=12.0,
            colour=colour,
            corner=2.0,
        )
    words(
        root,
        row.share_says,
        x=layout.share_x,
        y=words_y,
        size=13.0,
        anchor=layout.share_anchor,
        bold=row.chosen,
    )
    if row.chosen:
        below = words_y + layout.chosen_below
        words(root, CHOSEN, x=layout.chosen_x, y=below, colour="accent", size=SMALL)


def _legend(rows: Sequence[Row], layout: Layout) -> tuple[str, ...]:
    """Return what the marks mean, only of marks that are there, in lines that fit."""
    dashed = (DASHED,) if any(row.band.assumed for row in rows) else ()
    under = (UNDER,) if any(row.chosen and row.formulas_d for row in rows) else ()
    lines: list[str] = []
    for part in (*LEGEND, *dashed, *under):
        longer = f"{lines[-1]} · {part}" if lines else part
        if lines and len(longer) <= layout.legend_characters:
            lines[-1] = longer
        else:
            lines.append(part)
    return tuple(lines)
