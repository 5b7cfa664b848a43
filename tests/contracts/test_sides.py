"""The words left and right mean a side of the patient, and nothing else, wherever they stand."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from contracts.sources import DOCUMENTS, LIBRARY_FILES, ROOT, SOURCE_FILES, literals

WORD = re.compile(r"\b(left|right)\b", re.IGNORECASE)
CODE = "\"'`[](){}|=*"
"""Characters that make a neighbour a key or a value of a file, not prose."""
OF_AN_EYE = re.compile(
    r"\W{0,2}\s+(?:(?:second|first|operated|other|aphakic|phakic) )?(?:eyes?|sections?)\b"
)
BESIDE_THE_OTHER = re.compile(
    r"\b(?:right\W{1,3}(?:and|or|minus|to|from|than)?\W{0,3}left|"
    r"left\W{1,3}(?:and|or|minus|to|from|than)?\W{0,3}right)\b",
    re.IGNORECASE,
)


def is_a_side(text: str, start: int, end: int) -> bool:
    """Tell whether an occurrence means a side of the patient."""
    before, after = text[:start][-1:], text[end:]
    if not text[:start].strip() and not after.strip():
        return True  # the whole value, as in eye_to_do = "left"
    if (before and before in CODE) or after[:1] in tuple(CODE) or re.match(r"\.\w", after):
        return True
    if OF_AN_EYE.match(after):
        return True
    return any(one.start() <= start and end <= one.end() for one in BESIDE_THE_OTHER.finditer(text))


def misused(text: str) -> list[str]:
    """Return each use that is no side, with what stands around it."""
    return [
        " ".join(text[max(one.start() - 30, 0) : one.end() + 30].split())
        for one in WORD.finditer(text)
        if not is_a_side(text, one.start(), one.end())
    ]


@pytest.mark.parametrize(
    "text",
    [
        "left",
        "Axial length, left eye",
        "They would fit if right and left were exchanged.",
        "Right minus left: lengths",
        "``left.biometry[0].axial_length_mm``",
        "one of right, left",
        "[right.operation] and [left.operation]",
        "^(right|left)(?=$)",
    ],
)
def test_sides_pass(text: str) -> None:
    assert misused(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "an eye left without a lens",
        "Check that this is the right file.",
        "what is left over",
        "The closed form is right to 0.02 D.",
        "nothing left.",
        "in the left column",
        "the answer on the right",
    ],
)
def test_other_uses_are_caught(text: str) -> None:
    assert len(misused(text)) == 1


def _alignments() -> set[tuple[Path, int]]:
    """Return where a column is aligned: a word of the terminal library, not of the product."""
    found = set()
    for path in SOURCE_FILES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.keyword) and node.arg == "justify":
                found.add((path.relative_to(ROOT), node.value.lineno))
    return found


def test_no_string_of_the_source_uses_them_otherwise() -> None:
    aligned, every = _alignments(), literals()
    assert sum(bool(WORD.search(text)) for _, _, text in every) > 30, "nothing to check"
    wrong = [
        (str(path), line, found)
        for path, line, text in every
        for found in misused(text)
        if (path, line) not in aligned
    ]
    assert wrong == []


@pytest.mark.parametrize("path", LIBRARY_FILES, ids=lambda path: path.name)
def test_no_table_of_the_library_uses_them_otherwise(path: Path) -> None:
    assert misused(path.read_text("utf-8")) == []


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_no_page_of_the_documents_uses_them_otherwise(path: Path) -> None:
    assert misused(path.read_text("utf-8")) == []


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.toml")), ids=lambda p: p.name)
def test_no_example_uses_them_otherwise(path: Path) -> None:
    assert misused(path.read_text("utf-8")) == []
