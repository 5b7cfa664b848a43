"""Plain characters: a minus is never lost, whatever the stream can carry."""

from __future__ import annotations

import io
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contracts.sources import LIBRARY_FILES, literals
from zonule.report.plain import HANDLER, STAND_INS, fits, plain


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "cp437", "iso8859-15"])
def test_a_minus_comes_out_as_a_minus(encoding: str) -> None:
    written = "−0.25 D".encode(encoding, errors=HANDLER).decode(encoding)
    assert written == "-0.25 D"


def test_a_sign_that_the_stream_has_is_kept() -> None:
    assert "±0.50".encode("latin-1", errors=HANDLER).decode("latin-1") == "±0.50"
    assert "±0.50".encode("ascii", errors=HANDLER) == b"+/-0.50"


@given(st.characters())
def test_anything_has_a_plain_stand_in(character: str) -> None:
    assert plain(character)
    assert plain(character).isascii()


@given(st.text())
def test_any_text_can_be_written_to_a_plain_stream(text: str) -> None:
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii", errors=HANDLER)
    stream.write(text.encode("utf-8", "ignore").decode())
    stream.flush()


def test_true_characters_fit_where_they_fit() -> None:
    assert fits("−", "utf-8")
    assert not fits("−", "ascii")
    assert not fits("a", "no such encoding")


SPEAKING = ("report", "plan", "assessment", "learning", "practice", "cli")
"""Rooms whose strings reach a person; intake also names characters it refuses."""


def _said() -> str:
    library = "".join(str(tomllib.loads(path.read_text("utf-8"))) for path in LIBRARY_FILES)
    spoken = (text for path, _, text in literals() if path.parts[2] in SPEAKING)
    return library + "".join(spoken)


def test_no_character_the_product_says_becomes_a_question_mark() -> None:
    used = {one for one in _said() if not one.isascii()}
    assert len(used) > 8
    drawn_in_docstrings = set("├└│►▼┘┐┌┴┬")
    assert {one for one in used - drawn_in_docstrings if plain(one) == "?"} == set()
    assert all(STAND_INS[one].isascii() for one in STAND_INS)
