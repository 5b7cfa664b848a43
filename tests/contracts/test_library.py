"""The library: every value has a known source and a status, every source is used."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from contracts.sources import LIBRARY_FILES, ROOT, SOURCE_FILES
from zonule.findings.conditions import parse
from zonule.formulas.power import FORMULAS
from zonule.library.placements import places
from zonule.library.reading import STATUSES, table, table_names

REFERENCES = table("references")
SEEN = ("full", "abstract", "secondary", "memory", "none")
UNUSED = {"kovalyk2022papila": "the eyes of tests/data/papila_even.csv; their licence stands there"}
"""Sources kept although nothing names them, each with the reason."""


def _rows(told: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Return every table below a piece of TOML with its path; field definitions left aside."""
    if isinstance(told, dict):
        yield path, told
        for key, value in told.items():
            yield from _rows(value, f"{path}.{key}")
    elif isinstance(told, list):
        for at, value in enumerate(told):
            yield from _rows(value, f"{path}[{at}]")


def _library() -> list[tuple[str, dict[str, Any]]]:
    rows: list[tuple[str, dict[str, Any]]] = []
    for file in LIBRARY_FILES:
        if file.name != "references.toml":
            rows += _rows(tomllib.loads(file.read_text("utf-8")), file.name)
    return rows


ROWS = _library()
SOURCED = [(path, row["source"]) for path, row in ROWS if isinstance(row.get("source"), str)] + [
    (path, key) for path, row in ROWS for key in row.get("sources", ()) if isinstance(key, str)
]
STATED = [
    (f"{path}.{key}", value)
    for path, row in ROWS
    for key, value in row.items()
    if (key == "status" or key.endswith("_status")) and key != "lens_status"
    if isinstance(value, str)
]


def test_the_walk_found_the_library() -> None:
    assert len(LIBRARY_FILES) >= 9
    assert len(SOURCED) >= 100
    assert len(STATED) >= 100
    names = {str(path.relative_to(path.parents[0])) for path in LIBRARY_FILES}
    assert {"placements.toml", "checks.toml", "prediction.toml"} <= names


def test_the_reader_sees_every_table_on_disk() -> None:
    folder = ROOT / "src" / "zonule" / "library"
    on_disk = sorted(str(p.relative_to(folder).with_suffix("")) for p in LIBRARY_FILES)
    assert sorted(table_names()) == [name.replace("\\", "/") for name in on_disk]


def test_every_source_is_a_known_reference() -> None:
    assert [(path, key) for path, key in SOURCED if key not in REFERENCES] == []


def test_every_status_is_one_of_the_six() -> None:
    assert [(path, word) for path, word in STATED if word not in STATUSES] == []


def test_a_status_never_stands_without_its_source() -> None:
    alone = [path for path, row in ROWS if "status" in row and not {"source", "sources"} & set(row)]
    assert alone == []


def test_every_reference_says_what_it_is_and_what_was_seen_of_it() -> None:
    assert len(REFERENCES) >= 60
    for key, row in REFERENCES.items():
        assert set(row) == {"text", "seen"}, key
        assert row["text"], key
        assert row["seen"] in SEEN, key


def _using() -> str:
    """Return the text of everything that may name a source."""
    tests = ROOT / "tests"
    files: list[Path] = [*SOURCE_FILES, *(ROOT / "examples").glob("*.toml")]
    files += [p for p in tests.rglob("*") if p.suffix in (".toml", ".py", ".txt")]
    files += [p for p in LIBRARY_FILES if p.name != "references.toml"]
    files = [p for p in files if p != Path(__file__)]
    return "\n".join(p.read_text("utf-8") for p in files)


def test_every_reference_is_used_or_listed_with_a_reason() -> None:
    text = _using()
    idle = {key for key in REFERENCES if f"{key}" not in text}
    assert idle == set(UNUSED)
    assert all(UNUSED.values())


@pytest.mark.parametrize("name", FORMULAS)
def test_every_power_formula_has_a_source_and_a_printed_case_or_says_there_is_none(
    name: str,
) -> None:
    formula = FORMULAS[name]
    assert formula.reference in REFERENCES
    assert formula.status in STATUSES
    printed = tomllib.loads((ROOT / "tests" / "published" / "formulas.toml").read_text("utf-8"))[
        "entry"
    ]
    cases = [one for one in printed if one["formula"] == name and one["use"] == "test"]
    if cases:
        assert all(_as_text(one["printed"]) for one in cases)
        assert formula.verified_by
    else:
        assert formula.status == "memory"
        assert formula.verified_by == "nothing printed was found"


def _as_text(printed: object) -> bool:
    """Tell whether a printed figure, or both ends of a range, is kept as text."""
    ends = printed if isinstance(printed, list) else [printed]
    return all(isinstance(one, str) for one in ends)


def test_every_published_figure_has_a_known_source_and_status() -> None:
    files = sorted((ROOT / "tests" / "published").glob("*.toml"))
    rows = [row for file in files for row in _rows(tomllib.loads(file.read_text("utf-8")), "")]
    sourced = [row for _, row in rows if "printed" in row and isinstance(row.get("source"), str)]
    assert len(sourced) >= 50
    assert [row["source"] for row in sourced if row["source"] not in REFERENCES] == []
    assert {row["status"] for row in sourced if "status" in row} <= set(STATUSES)


def test_every_condition_of_the_library_can_be_read() -> None:
    found = [
        text
        for _, row in ROWS
        for text in (row.get("when"), *row.get("when_all", ()), *row.get("when_any", ()))
        if isinstance(text, str) and text != "always"
    ]
    assert len(found) >= 150
    for text in found:
        assert parse(text).finding


def test_every_place_has_a_split_of_the_first_eyes_error() -> None:
    split = table("fellow_eye")["places"]
    assert set(split) == {key for key, one in places().items() if one.holds_lens}


def test_a_place_moves_within_its_own_bounds() -> None:
    for one in places().values():
        if one.a_constant is None:
            assert one.move_low_mm <= one.move_mm <= one.move_high_mm, one.key
        else:
            for value in one.a_constant.values():
                assert one.a_constant_low <= value <= one.a_constant_high, one.key
