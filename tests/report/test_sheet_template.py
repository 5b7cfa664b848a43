"""The template of the sheet: layout alone, no words of its own, nothing from outside."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from contracts.sources import SOURCE

TEMPLATES = sorted((SOURCE / "report" / "sheet").glob("*.typ"))


def test_there_is_a_template() -> None:
    assert {path.name for path in TEMPLATES} == {"clock.typ", "sheet.typ"}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_says_left_or_right(path: Path) -> None:
    assert not re.search(r"\b(left|right)\b", path.read_text("utf-8"), re.IGNORECASE)


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_fetches_a_package_or_another_file(path: Path) -> None:
    text = path.read_text("utf-8")
    assert "@preview" not in text
    assert set(re.findall(r'#import "([^"]+)"', text)) <= {"clock.typ"}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_colours_anything(path: Path) -> None:
    text = path.read_text("utf-8")
    assert not re.search(r"\b(?:rgb|red|green|blue|orange|yellow|cmyk|oklch)\b", text)
