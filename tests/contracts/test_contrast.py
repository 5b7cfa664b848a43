"""Colours by computation: every pair that is used can be read, by day and by night."""

from __future__ import annotations

import re
from itertools import product
from typing import Final

import pytest

from contracts.sources import SOURCE

CSS: Final = (SOURCE / "web" / "static" / "base.css").read_text("utf-8")
TOKENS: Final = (
    "ground",
    "panel",
    "ink",
    "muted",
    "hairline",
    "accent",
    "warning",
    "third",
    "edge",
)
TEXT, MARKS = 4.5, 3.0
PAIRS: Final = {
    **dict.fromkeys(
        product(("ink", "muted", "accent", "warning", "third"), ("ground", "panel")), TEXT
    ),
    ("ground", "accent"): TEXT,  # words on a pressed button
    **dict.fromkeys(product(("edge",), ("ground", "panel")), MARKS),
}
"""What stands on what, and how far apart they must be; hairlines are decoration only."""


def _theme(opening: str) -> dict[str, str]:
    """Return the colours that a rule sets."""
    found = re.search(rf"{re.escape(opening)} {{([^}}]*)}}", CSS)
    assert found, opening
    return dict(re.findall(r"--([a-z]+): (#[0-9A-F]{6});", found[1]))


THEMES: Final = {
    "day": _theme("\n:root"),
    "night, chosen": _theme("\n:root.night"),
    "night, as the screen": _theme("  :root:not(.day)"),
    "paper": _theme("  :root, :root.night, :root:not(.day)"),
}


def luminance(colour: str) -> float:
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_reckoning_is_that_of_the_standard() -> None:
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("theme", THEMES)
def test_every_theme_sets_every_colour(theme: str) -> None:
    assert set(THEMES[theme]) == set(TOKENS)


def test_night_is_one_night_however_it_came() -> None:
    assert THEMES["night, chosen"] == THEMES["night, as the screen"]
    assert THEMES["night, chosen"] != THEMES["day"]


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("pair", "least"), PAIRS.items(), ids=["-".join(pair) for pair in PAIRS])
def test_every_pair_can_be_told_apart(theme: str, pair: tuple[str, str], least: float) -> None:
    over, under = (THEMES[theme][name] for name in pair)
    assert contrast(over, under) >= least


def test_a_pair_that_cannot_be_read_is_seen() -> None:
    day = THEMES["day"]
    assert contrast(day["hairline"], day["panel"]) < MARKS


@pytest.mark.parametrize(
    "path", sorted((SOURCE / "web" / "static").glob("*.css")), ids=lambda p: p.name
)
def test_style_sheets_name_colours_by_token_only(path: object) -> None:
    text = (SOURCE / "web" / "static" / getattr(path, "name", "")).read_text("utf-8")
    rules = re.sub(r"--[a-z]+: #[0-9A-F]{6};|/\*.*?\*/", "", text, flags=re.DOTALL)
    assert not re.findall(r"#[0-9A-Fa-f]{3,8}\b|\brgba?\(|\bhsla?\(", rules)
    used = set(re.findall(r"var\(--([a-z-]+)", rules))
    assert used <= set(TOKENS), "every colour is one of the listed"
