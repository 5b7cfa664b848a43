"""A chance as people: a hundred dots, or a thousand in ten blocks, those affected filled."""

from __future__ import annotations

from typing import Final, Literal
from xml.etree import ElementTree as Tree

from zonule.report.figures.svg import COLOURS, number, picture, written

Of = Literal[100, 1000]
RARE_BELOW: Final = 0.01
"""Chances below this are drawn of a thousand, in a picture of their own."""

PITCH: Final = 11.0
RADIUS: Final = 4.0
IN_A_ROW: Final = 20
ROWS: Final = 5
SMALL_PITCH: Final = 5.6
SMALL_RADIUS: Final = 2.1
BLOCK_GAP: Final = 7.0
BLOCK_SIDE: Final = 10
MARGIN: Final = 3.0


def filled(chance: float, of: Of) -> int:
    """Return how many dots are filled.

    Examples
    --------
    >>> filled(0.0712, 100), filled(0.0035, 1000), filled(0.999, 100)
    (7, 4, 100)
    """
    return round(min(max(chance, 0.0), 1.0) * of)


def dots(chance: float, *, of: Of, title: str, described: str, reaches: float = 0.0) -> str:
    """Return a picture of a chance as people.

    Parameters
    ----------
    chance
        The chance, 0 to 1.
    of
        100, in five rows of twenty; or 1,000, in ten blocks of a hundred.
    title, described
        What a screen reader says.
    reaches
        The upper end of the range: dots up to it carry a heavier rim; 0 for none.
    """
    columns = IN_A_ROW if of == 100 else 10 * BLOCK_SIDE
    pitch, radius = (PITCH, RADIUS) if of == 100 else (SMALL_PITCH, SMALL_RADIUS)
    gaps = 0.0 if of == 100 else 4 * BLOCK_GAP
    wide = (columns if of == 100 else 5 * BLOCK_SIDE) * pitch + gaps + 2.0 * MARGIN
    high = (ROWS if of == 100 else 2 * BLOCK_SIDE) * pitch + 2.0 * MARGIN
    high += 0.0 if of == 100 else BLOCK_GAP
    root = picture(width=wide, height=high, title=title, description=described, kind="dots")
    happen, may = filled(chance, of), filled(reaches, of)
    for at in range(of):
        x, y = _place(at, of, pitch)
        _person(root, x=x, y=y, radius=radius, affected=at < happen, may_be=at < may)
    return written(root)


def _place(at: int, of: Of, pitch: float) -> tuple[float, float]:
    """Return where a person stands: filled row by row, and block by block."""
    if of == 100:
        row, column = divmod(at, IN_A_ROW)
        return MARGIN + (column + 0.5) * pitch, MARGIN + (row + 0.5) * pitch
    block, within = divmod(at, 100)
    down, across = divmod(block, 5)
    row, column = divmod(within, BLOCK_SIDE)
    x = MARGIN + across * (BLOCK_SIDE * pitch + BLOCK_GAP) + (column + 0.5) * pitch
    y = MARGIN + down * (BLOCK_SIDE * pitch + BLOCK_GAP) + (row + 0.5) * pitch
    return x, y


def _person(
    parent: Tree.Element, *, x: float, y: float, radius: float, affected: bool, may_be: bool
) -> None:
    colour = "accent" if affected or may_be else "edge"
    Tree.SubElement(
        parent,
        "circle",
        {
            "cx": number(x),
            "cy": number(y),
            "r": number(radius),
            "class": f"{'solid' if affected else 'hollow'}-{colour}",
            "fill": COLOURS["accent"] if affected else COLOURS["panel"],
            "stroke": COLOURS[colour],
            "stroke-width": "1.6" if may_be and not affected else "1",
        },
    )
