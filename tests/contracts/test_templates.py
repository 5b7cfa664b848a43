"""What templates and style sheets must not hold: nothing inline, no address, no direction."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

import pytest

from contracts.sources import SOURCE, literals
from contracts.test_repository import AVOID
from contracts.test_sides import misused

WEB: Final = SOURCE / "web"
TEMPLATES: Final = sorted((WEB / "templates").rglob("*.html"))
SCRIPTS: Final = [WEB / "static" / "zonule.js"]
STYLES: Final = sorted((WEB / "static").glob("*.css"))
OWN: Final = [*TEMPLATES, *SCRIPTS, *STYLES]
INLINE: Final = {
    "a style attribute": r"<[^>]*\sstyle\s*=",
    "a style element": r"<style\b",
    "a script of its own": r"<script(?![^>]*\ssrc=)[^>]*>",
    "a handler": r"<[^>]*\son\w+\s*=",
    "a handler of the library": r"\bhx-on\b|\bhx-vals\s*=\s*[\"']js:",
    "an address of script": r"javascript:",
}
PHYSICAL: Final = re.compile(r"\b(?:left|right)\b", re.IGNORECASE)


def _id(path: Path) -> str:
    return path.name


def test_there_are_templates_to_look_at() -> None:
    names = {str(path.relative_to(WEB / "templates")) for path in TEMPLATES}
    assert {"base.html", "index.html", "why.html", "error.html", "plan/plan.html"} <= names
    assert {path.name for path in STYLES} >= {"base.css", "plan.css"}


@pytest.mark.parametrize("path", TEMPLATES, ids=_id)
def test_a_template_holds_nothing_inline(path: Path) -> None:
    text = path.read_text("utf-8")
    found = [what for what, pattern in INLINE.items() if re.search(pattern, text, re.IGNORECASE)]
    assert found == []


@pytest.mark.parametrize(
    "bad",
    [
        '<p style="x">',
        "<style>",
        "<script>x</script>",
        '<a onclick="x">',
        '<a hx-on:click="x">',
        '<a href="javascript:x">',
    ],
)
def test_each_inline_thing_would_be_seen(bad: str) -> None:
    assert any(re.search(pattern, bad, re.IGNORECASE) for pattern in INLINE.values())


@pytest.mark.parametrize("path", OWN, ids=_id)
def test_no_outside_address_is_named(path: Path) -> None:
    text = path.read_text("utf-8").replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"\b(?:https?|wss?|ftp):|[\"'(]//", text)


@pytest.mark.parametrize("path", TEMPLATES, ids=_id)
def test_what_is_marked_safe_is_a_figure_only(path: Path) -> None:
    marked = re.findall(r"\{\{\s*([^}|]+?)\s*\|\s*safe\s*\}\}", path.read_text("utf-8"))
    assert all(name.endswith((".figure", ".narrow_figure")) for name in marked), marked


@pytest.mark.parametrize("path", [*TEMPLATES, *SCRIPTS], ids=_id)
def test_left_and_right_are_sides_of_the_patient(path: Path) -> None:
    assert misused(path.read_text("utf-8")) == []


@pytest.mark.parametrize("path", STYLES, ids=_id)
def test_style_sheets_speak_of_start_and_end(path: Path) -> None:
    assert PHYSICAL.findall(path.read_text("utf-8")) == []


def _shown(path: Path) -> str:
    """Return the words of a template, without its marks."""
    text = re.sub(
        r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<[^>]*>", " ", path.read_text("utf-8"), flags=re.S
    )
    return " ".join(text.split())


@pytest.mark.parametrize("path", TEMPLATES, ids=_id)
def test_templates_use_the_words_of_the_trade(path: Path) -> None:
    wrong = [say for pattern, say in AVOID.items() if re.search(pattern, _shown(path), re.I)]
    assert wrong == []


def test_what_the_pages_say_in_code_uses_them_too() -> None:
    told = [(str(path), line, text) for path, line, text in literals() if path.parts[2] == "web"]
    assert len(told) > 40
    wrong = [
        (path, line, say)
        for path, line, text in told
        for pattern, say in AVOID.items()
        if "\n" not in text and re.search(pattern, text, re.IGNORECASE)
    ]
    assert wrong == []
