"""A file of own cases: what is read, what is set aside and why, what is refused whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from zonule.errors import BadInput
from zonule.findings.facts import facts_of
from zonule.intake.own_cases import own_cases
from zonule.intake.practice_file import read_practice_file

HEAD = b"done_on,age,sex,pxf,lens_look,pupil_dilated_mm,anterior_chamber_depth_mm,ruptured\n"
EXAMPLES = Path(__file__).parents[2] / "examples"


def test_a_row_becomes_a_case_from_which_the_rest_is_derived() -> None:
    cases, aside = own_cases(HEAD + b"2026-01-05,81,male,yes,brunescent,3.5,2.4,yes\n", name="a")
    assert aside == ()
    (one,) = cases
    assert one.ruptured
    assert one.age == 81
    lookup = facts_of(one.case, "right")
    assert lookup("brunescent_or_white") is True
    assert lookup("pupil_class") == "small"
    assert lookup("acd_mm") == 2.4


def test_an_empty_cell_is_not_recorded_and_never_absent() -> None:
    cases, _ = own_cases(HEAD + b",81,,,,,,no\n", name="a")
    lookup = facts_of(cases[0].case, "right")
    assert str(lookup("pxf")) == "Unknown.NOT_RECORDED"


@pytest.mark.parametrize(
    ("row", "because"),
    [
        (b"2026-01-05,7,male,yes,brunescent,3.5,2.4,no", "Age 7: must be a whole number, 18"),
        (b"2026-01-05,81,male,maybe,brunescent,3.5,2.4,no", "maybe: must be true or false"),
        (b"2026-01-05,81,male,yes,brown,3.5,2.4,no", "Look of the lens brown: must be one of"),
        (b'2026-01-05,81,male,yes,brunescent,"3,5",2.4,no', "a number takes a point"),
        (b"2026-01-05,81,male,yes,brunescent,3.5,2.4,", "ruptured is not recorded"),
        (b"2026-01-05,81,male,yes,brunescent,3.5,2.4,perhaps", "must be yes or no"),
        (b"2026-01-05,81,male,yes,brunescent,3.5,2.4,no,9", "more cells than columns"),
    ],
)
def test_a_row_that_cannot_be_used_is_set_aside_with_its_line_and_reason(
    row: bytes, because: str
) -> None:
    good = b"2026-01-04,70,female,no,nuclear,7.0,3.1,no\n"
    cases, aside = own_cases(HEAD + good + row + b"\n", name="a")
    assert len(cases) == 1
    assert len(aside) == 1
    assert aside[0].line == 3
    assert because.replace("true or false", "yes or no") in aside[0].sentence()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"age,pxf\n71,no\n", "Column ruptured: is needed"),
        (b"age,age,ruptured\n71,71,no\n", "Column age: stands twice"),
        (b"age,grade,ruptured\n71,2,no\n", "Column grade: is not known here"),
        (b"", "is empty"),
        (b"a\0b", "is not a text file"),
    ],
)
def test_a_file_whose_columns_say_nothing_is_refused_whole(data: bytes, says: str) -> None:
    with pytest.raises(BadInput) as bad:
        own_cases(data, name="own.csv")
    assert says in str(bad.value)


def practice_with(folder: Path, risk: str, rows: str | None = None) -> Path:
    text = (
        'schema = "zonule-practice-1"\nsurgeon = "A"\ngrade = "consultant"\n'
        f'time_zone = "Europe/London"\nrepertoire = ["bag"]\n[risk]\n{risk}\n'
    )
    file = folder / "practice.toml"
    file.write_text(text, encoding="utf-8")
    if rows is not None:
        (folder / "own-cases.csv").write_text(rows, encoding="utf-8")
    return file


def test_a_practice_file_names_its_file_of_own_cases(tmp_path: Path) -> None:
    rows = "age,ruptured\n" + "72,no\n" * 98 + "72,yes\n72,yes\n7,no\n"
    practice = read_practice_file(practice_with(tmp_path, 'own_cases_file = "own-cases.csv"', rows))
    own = practice.own_baseline
    assert own is not None
    assert (own.cases, own.ruptures, own.counted_from) == (100, 2, "own-cases.csv")
    assert own.set_aside == ("line 102: Age 7: must be a whole number, 18 to 110 years",)


@pytest.mark.parametrize(
    ("risk", "says"),
    [
        ("own_cases = 100", "stands without own_ruptures"),
        ("own_ruptures = 1", "stands without own_cases"),
        ("own_cases = 10\nown_ruptures = 11", "must be at most own_cases, 10"),
        ("own_expected_ruptures = 2.0", "stands without own_cases"),
        ("own_cases = 10\nown_ruptures = 1\nown_expected_ruptures = 10.0", "must be less than 10"),
        (
            'own_cases = 10\nown_ruptures = 1\nown_cases_file = "own-cases.csv"',
            "stands beside counts",
        ),
        ('own_cases_file = "../own-cases.csv"', "must be the name of a CSV file beside"),
        ('own_cases_file = "own-cases.csv"', "is not there"),
        ('rebased_to = "uk_1999"', "must be one of uk_2006_2011"),
    ],
)
def test_what_does_not_fit_under_risk_is_told(tmp_path: Path, risk: str, says: str) -> None:
    with pytest.raises(BadInput) as bad:
        read_practice_file(practice_with(tmp_path, risk))
    assert says in str(bad.value)


def test_the_example_practice_counts_its_own_cases() -> None:
    own = read_practice_file(EXAMPLES / "practice.toml").own_baseline
    assert own is not None
    assert own.counted
