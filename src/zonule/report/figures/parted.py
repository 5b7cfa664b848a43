"""One bar of a hundred eyes, parted by where the lens ends up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree as Tree

from zonule.report.figures.svg import box, line, picture, words, written
from zonule.report.words import of_100

WIDTH: Final = 720.0
BAR: Final = 22.0
ROW: Final = 20.0
LABELS_AT: Final = 40.0
NUMBERS_AT: Final = 368.0
BARS_AT: Final = 510.0
BARS_END: Final = 716.0
NARROW_WIDTH: Final = 350.0
NARROW_ROW: Final = 36.0
NARROW_BAR: Final = 220.0


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the hundred."""

    label: str
    share: float
    intended: bool


def parted(parts: Sequence[Part], *, title: str, described: str) -> str:
    """Return the whole as one bar, and each part on a line of its own beneath it.

    The lines of the backups share a scale that lets small shares be seen and says so.
    """
    backups = [one for one in parts if not one.intended]
    most = max((one.share for one in backups), default=0.0)
    high = LABELS_AT + ROW * (len(parts) + 1)
    root = picture(width=WIDTH, height=high, title=title, description=described, kind="wide")
    _whole(root, parts, WIDTH)
    for row, one in enumerate(parts):
        y = LABELS_AT + ROW * (row + 0.7)
        words(root, one.label, x=2.0, y=y, bold=one.intended)
        words(root, of_100(one.share), x=NUMBERS_AT, y=y, bold=one.intended)
        if not one.intended and most > 0.0:
            wide = (BARS_END - BARS_AT) * one.share / most
            box(root, x=BARS_AT, y=y - 10.0, width=max(wide, 1.0), height=12.0, colour="bar")
    if most > 0.0:
        words(root, _scale(most), x=BARS_AT, y=high - 3.0, colour="muted", size=12.0)
    return written(root)


def narrow_parted(parts: Sequence[Part], *, title: str, described: str) -> str:
    """Return the same picture for a narrow place: each part's bar beneath its words."""
    most = max((one.share for one in parts if not one.intended), default=0.0)
    high = LABELS_AT + NARROW_ROW * len(parts) + ROW
    root = picture(
        width=NARROW_WIDTH, height=high, title=title, description=described, kind="narrow"
    )
    _whole(root, parts, NARROW_WIDTH)
    end = NARROW_WIDTH - 2.0
    for row, one in enumerate(parts):
        y = LABELS_AT + NARROW_ROW * row + 12.0
        words(root, one.label, x=2.0, y=y, bold=one.intended)
        words(root, of_100(one.share), x=end, y=y + 15.0, bold=one.intended, anchor="end")
        if not one.intended and most > 0.0:
            wide = NARROW_BAR * one.share / most
            box(root, x=2.0, y=y + 6.0, width=max(wide, 1.0), height=10.0, colour="bar")
    if most > 0.0:
        words(root, _scale(most), x=2.0, y=high - 4.0, colour="muted", size=12.0)
    return written(root)


def _whole(root: Tree.Element, parts: Sequence[Part], width: float) -> None:
    """Draw the hundred as one bar, parted."""
    at = 2.0
    for one in parts:
        wide = one.share * (width - 4.0)
        box(root, x=at, y=2.0, width=wide, height=BAR, colour="accent" if one.intended else "bar")
        if at > 2.0:
            line(root, x1=at, y1=2.0, x2=at, y2=2.0 + BAR, colour="ink", width=1.0)
        at += wide


def _scale(most: float) -> str:
    return f"backups on a scale of {of_100(most)}"
