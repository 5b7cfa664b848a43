"""The cases of a folder: which are there, what each says, what none can reach."""

from __future__ import annotations

from pathlib import Path

import pytest

from plan.cases import EXAMPLES, NAMES, TODAY
from zonule.errors import BadInput, NoSuchName
from zonule.pathway.open_cases import (
    CaseLine,
    Desk,
    cases_of,
    desk_for,
    first_case,
    list_cases,
    no_cases,
    open_case,
    practice_faults,
)

PRACTICE = EXAMPLES / "practice.toml"
DESK = Desk(EXAMPLES, PRACTICE)
PLAIN = (EXAMPLES / "plain-eye.toml").read_text("utf-8")


def _lines(desk: Desk) -> dict[str, CaseLine]:
    return {line.name: line for line in list_cases(desk, today=TODAY)}


def test_every_example_is_a_case_and_the_practice_is_none() -> None:
    assert list(cases_of(DESK)) == sorted(NAMES)
    assert no_cases(DESK) == ()


def test_a_line_says_whose_eye_it_is_and_what_makes_it_hard() -> None:
    lines = _lines(DESK)
    hard, plain = lines["hard-second-eye"], lines["plain-eye"]
    assert (hard.record_number, hard.side, hard.first_or_second, hard.aim) == (
        "demo-0417",
        "left",
        "second eye",
        "aim −0.25 D",
    )
    for finding in ("seudoexfoliation", "dilated pupil 3.5 mm", "lens wobble: slight"):
        assert finding in hard.hard
    assert (plain.side, plain.first_or_second, plain.hard) == ("right", "first eye", "")
    assert not any(line.problems for line in lines.values())


def test_a_name_opens_its_case_and_no_other_name_does() -> None:
    assert open_case(DESK, "plain-eye")[0].patient.record_number == "demo-0502"
    assert open_case(DESK, "plain-eye")[0].eye_to_do == "right"
    for name in ("", ".", "practice", "plain-eye.toml", "../examples/plain-eye", str(EXAMPLES)):
        with pytest.raises(NoSuchName):
            open_case(DESK, name)
    with pytest.raises(NoSuchName, match=r"There is no case 'plain-ey'. Nearest: plain-eye."):
        open_case(DESK, "plain-ey")


def test_links_are_followed_inside_the_folder_only(tmp_path: Path) -> None:
    inside, outside = tmp_path / "open", tmp_path / "elsewhere"
    inside.mkdir()
    outside.mkdir()
    for folder in (inside, outside):
        (folder / "eye.toml").write_text(PLAIN, "utf-8")
    (inside / "same.toml").symlink_to(inside / "eye.toml")
    (inside / "way-out.toml").symlink_to(outside / "eye.toml")
    (inside / "gone.toml").symlink_to(outside / "none.toml")
    (inside / "folder.toml").mkdir()
    assert list(cases_of(Desk(inside, PRACTICE))) == ["eye", "same"]


def test_a_file_with_faults_is_listed_with_them(tmp_path: Path) -> None:
    (tmp_path / "slip.toml").write_text(PLAIN.replace("23.47", "23,47"), "utf-8")
    (tmp_path / "torn.toml").write_bytes(b"\xff\x00")
    (tmp_path / "empty.toml").write_text(" \n", "utf-8")
    (tmp_path / "tool.toml").write_text("[tool]\nname = 1\n", "utf-8")
    desk = Desk(tmp_path, PRACTICE)
    lines = _lines(desk)
    assert list(lines) == ["empty", "slip", "torn"]
    assert all(line.problems for line in lines.values())
    assert lines["slip"].problems[0].sentence().endswith("Type a point instead of the comma.")
    assert no_cases(desk) == ("tool.toml",)


def test_a_line_follows_its_file(tmp_path: Path) -> None:
    file, desk = tmp_path / "eye.toml", Desk(tmp_path, PRACTICE)
    file.write_text(PLAIN, "utf-8")
    assert _lines(desk)["eye"].record_number == "demo-0502"
    file.write_text(PLAIN.replace("demo-0502", "demo-00502"), "utf-8")
    assert _lines(desk)["eye"].record_number == "demo-00502"


def test_without_a_practice_that_can_be_read_cases_are_listed_and_wait(tmp_path: Path) -> None:
    file = tmp_path / "practice.toml"
    file.write_text('schema = "zonule-practice-1"\n', "utf-8")
    desk = Desk(EXAMPLES, file)
    assert practice_faults(desk)
    assert practice_faults(DESK) == ()
    line = _lines(desk)["plain-eye"]
    assert line.record_number == "demo-0502"
    assert line.withheld == "the practice file waits to be mended"


def test_one_case_can_be_open_alone() -> None:
    desk = desk_for(EXAMPLES / "plain-eye.toml", PRACTICE)
    assert desk == Desk(EXAMPLES, PRACTICE, only="plain-eye")
    assert list(cases_of(desk)) == ["plain-eye"]
    assert no_cases(desk) == ()
    assert desk_for(EXAMPLES, PRACTICE) == DESK


def test_what_is_no_folder_and_no_case_is_told(tmp_path: Path) -> None:
    other = tmp_path / "note.txt"
    other.write_text("", "utf-8")
    for where, says in ((tmp_path / "none", "is not there"), (other, "is no TOML file")):
        with pytest.raises(BadInput, match=f"{where.name}: {says}"):
            desk_for(where, PRACTICE)


def test_the_first_case_tells_where_the_practice_lies(tmp_path: Path) -> None:
    assert first_case(EXAMPLES) == EXAMPLES / f"{min(NAMES)}.toml"
    assert first_case(EXAMPLES / "plain-eye.toml") == EXAMPLES / "plain-eye.toml"
    assert first_case(tmp_path).parent == tmp_path
