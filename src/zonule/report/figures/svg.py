"""Builds SVG elements: numbers written once, day colours as attributes, classes for the page.

A presentation attribute gives the colours of paper; the page's style sheet outranks it by class,
so one picture serves day, night and print.
"""

from __future__ import annotations

from typing import Final
from xml.etree import ElementTree as Tree

FACE: Final = "Atkinson Hyperlegible Next, Atkinson Hyperlegible, sans-serif"
COLOURS: Final = {
    "ink": "#1C2327",
    "muted": "#59646B",
    "grid": "#DDD8CC",
    "accent": "#0B5D63",
    "third": "#6A3E72",
    "aim-band": "#E3EEEC",
    "panel": "#FFFFFF",
    "bar": "#9DBFBE",
    "rail": "#EFEDE4",
    "edge": "#807B6D",
}
"""Colours of the day and of paper by class."""


def number(value: float) -> str:
    """Return a coordinate, to a hundredth of a unit.

    Examples
    --------
    >>> number(12.0), number(3.14159)
    ('12', '3.14')
    """
    return f"{round(value, 2):g}"


def picture(
    *, width: float, height: float, title: str, description: str, kind: str = ""
) -> Tree.Element:
    """Return an empty picture that a screen reader can name.

    Parameters
    ----------
    width, height
        Size in units of the drawing.
    title, description
        What a screen reader says of it.
    kind
        One more class, for the style sheet of a page.
    """
    root = Tree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "width": number(width),
            "height": number(height),
            "role": "img",
            "class": f"figure {kind}".strip(),
        },
    )
    Tree.SubElement(root, "title").text = title
    Tree.SubElement(root, "desc").text = description
    return root


def line(
    parent: Tree.Element,
    *,
    x1: float,
    y1: float,
    x2: float,
    y2: float,
    colour: str,
    width: float,
    dashes: str = "",
    round_ends: bool = False,
) -> None:
    """Draw a line in a colour by class."""
    attributes = {
        "x1": number(x1),
        "y1": number(y1),
        "x2": number(x2),
        "y2": number(y2),
        "class": f"line-{colour}",
        "stroke": COLOURS[colour],
        "stroke-width": number(width),
    }
    if dashes:
        attributes["stroke-dasharray"] = dashes
    if round_ends:
        attributes["stroke-linecap"] = "round"
    Tree.SubElement(parent, "line", attributes)


def box(
    parent: Tree.Element,
    *,
    x: float,
    y: float,
    width: float,
    height: float,
    colour: str,
    corner: float = 0.0,
) -> None:
    """Draw a filled box in a colour by class."""
    Tree.SubElement(
        parent,
        "rect",
        {
            "x": number(x),
            "y": number(y),
            "width": number(max(width, 0.0)),
            "height": number(height),
            "rx": number(corner),
            "class": f"fill-{colour}",
            "fill": COLOURS[colour],
        },
    )


def dot(
    parent: Tree.Element, *, x: float, y: float, radius: float, colour: str, hollow: bool
) -> None:
    """Draw a dot: hollow, or filled with a rim that sets it off from the band under it."""
    Tree.SubElement(
        parent,
        "circle",
        {
            "cx": number(x),
            "cy": number(y),
            "r": number(radius),
            "class": f"{'hollow' if hollow else 'solid'}-{colour}",
            "fill": COLOURS["panel"] if hollow else COLOURS[colour],
            "stroke": COLOURS[colour] if hollow else COLOURS["panel"],
            "stroke-width": "1.5",
        },
    )


def words(
    parent: Tree.Element,
    text: str,
    *,
    x: float,
    y: float,
    colour: str = "ink",
    size: float = 13.0,
    anchor: str = "start",
    bold: bool = False,
) -> None:
    """Write text."""
    Tree.SubElement(
        parent,
        "text",
        {
            "x": number(x),
            "y": number(y),
            "font-family": FACE,
            "font-size": number(size),
            "font-weight": "700" if bold else "400",
            "text-anchor": anchor,
            "class": f"fill-{colour}",
            "fill": COLOURS[colour],
        },
    ).text = text


def written(root: Tree.Element) -> str:
    """Return a picture as text.

    Examples
    --------
    >>> written(picture(width=10, height=10, title="A < B", description="C"))[-58:]
    'class="figure"><title>A &lt; B</title><desc>C</desc></svg>'
    """
    return Tree.tostring(root, encoding="unicode")
