"""What the files of the repository must not hold."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from contracts.sources import DOCUMENTS, LIBRARY_FILES, ROOT, every_file, literals

THIS = Path(__file__)
PLACES_OF_A_MACHINE = (
    r"(?<![\w.])/home/\w",
    r"(?<![\w.])/root/",
    r"(?<![\w.])/Users/\w",
    r"[A-Z]:\\Users",
)
FILES = [path for path in every_file() if path != THIS]


def _hits(patterns: tuple[str, ...]) -> list[tuple[str, int, str]]:
    pattern = re.compile("|".join(patterns))
    return [
        (str(path.relative_to(ROOT)), number, line.strip()[:120])
        for path in FILES
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if pattern.search(line)
    ]


def test_the_walk_found_the_repository() -> None:
    names = {str(path.relative_to(ROOT)) for path in FILES}
    assert {"README.md", "CHANGELOG.md", "Makefile", "pyproject.toml"} <= names
    assert {"examples/plain-eye.toml", "docs/case-file.md", "lock-run.txt"} <= names
    assert len(FILES) > 150


def test_no_file_names_a_place_on_somebodys_machine() -> None:
    assert _hits(PLACES_OF_A_MACHINE) == []


@pytest.mark.parametrize("name", ["lock-run.txt", "lock-test.txt"])
def test_lock_files_hold_versions_and_hashes_and_no_address(name: str) -> None:
    text = (ROOT / name).read_text("utf-8")
    assert "://" not in text
    assert "--index-url" not in text
    assert not re.search(r" @ |\bgit\+", text)
    pinned = re.findall(r"^([A-Za-z0-9_.-]+)(?:\[[^\]]*\])?==", text, re.MULTILINE)
    assert {"numpy", "rich"} <= set(pinned)
    blocks = re.split(r"^(?=[A-Za-z0-9_.-]+(?:\[[^\]]*\])?==)", text, flags=re.MULTILINE)[1:]
    assert len(blocks) == len(pinned)
    assert all("--hash=sha256:" in block for block in blocks)


AVOID = {
    "[®™]": "the trade's own term, no brand",
    r"\b1 in \d": "N of 100",
    r"\bone in (?:two|three|ten|twenty|a hundred)\b": "N of 100",
    r"\btick(?:ed|s)?\b": "say what was done",
    r"\bpersons?\b(?! (?:must|reads?|is|would|who|calls?|knows?|about))": "patient",
    r"\bfallback\b": "backup",
    r"\bladder\b": "backups in order",
    r"\blens shelf\b": "lens store",
    r"\bon the tray\b": "in the room, sealed",
    r"\bcells per\b": "endothelial cell count per mm²",
    r"\bpromised\b": "expected after surgery",
    r"\bno lens today\b": "leave aphakic, second operation",
    r"\bfragment gone back\b": "dropped fragment",
    r"\bstain the vitreous\b": "triamcinolone",
    r"\beye (?:one|two)\b": "first eye, second eye",
    r"\bjudgment\b": "judgement",
    r"\b(?:color|center|fiber|edema|hemorrhage|anesthe\w+)\b": "British spelling",
}
SHOWN = ("report", "plan", "assessment", "learning", "cli", "intake", "findings")
"""Rooms whose strings may be shown; docstrings speak to programmers and are not looked at here."""


def _shown_strings() -> list[tuple[str, str]]:
    library = [
        (f"{path.name}:{key}", value)
        for path in LIBRARY_FILES
        if path.name != "references.toml"
        for key, value in _texts(tomllib.loads(path.read_text("utf-8")))
    ]
    source = [
        (f"{path}:{line}", text)
        for path, line, text in literals()
        if path.parts[2] in SHOWN and not _docstring(path, line)
    ]
    return library + source


def _docstring(path: Path, line: int) -> bool:
    return (ROOT / path).read_text("utf-8").splitlines()[line - 1].lstrip().startswith('"""')


def _texts(told: object, key: str = "") -> list[tuple[str, str]]:
    if isinstance(told, dict):
        return [one for name, value in told.items() for one in _texts(value, name)]
    if isinstance(told, list):
        return [one for value in told for one in _texts(value, key)]
    return [(key, told)] if isinstance(told, str) else []


def test_what_is_shown_uses_the_words_of_the_trade() -> None:
    shown = _shown_strings()
    assert len(shown) > 700
    wrong = [
        (where, text[:100], say)
        for where, text in shown
        for pattern, say in AVOID.items()
        if re.search(pattern, text, re.IGNORECASE)
    ]
    assert wrong == []


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_documents_never_say_one_in_so_many(path: Path) -> None:
    assert not re.search(r"\b1 in \d", path.read_text("utf-8"))
