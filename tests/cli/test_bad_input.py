"""Bad input is told in sentences, with status 1, and never in a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from cli.commands import PLAIN, PRACTICE, Ran, environment, run

Capture = pytest.CaptureFixture[str]
CLOSING = "1 fault; nothing was planned, nothing was written."
GOOD = Path(PLAIN).read_bytes()


def _file(tmp_path: Path, content: bytes) -> Path:
    file = tmp_path / "case.toml"
    file.write_bytes(content)
    return file


def _told(capsys: Capture, command: str, file: Path) -> list[str]:
    more = [] if command == "check" else ["--practice", PRACTICE]
    told = run(capsys, command, str(file), *more)
    return _lines(told, command)


def _lines(told: Ran, command: str) -> list[str]:
    """Faults are what ``check`` is asked for, and go where its answers go."""
    answer, rest = (told.out, told.err) if command == "check" else (told.err, told.out)
    assert (told.status, rest) == (1, "")
    assert "Traceback" not in answer
    return answer.splitlines()


@pytest.mark.parametrize("command", ["plan", "check", "why"])
@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is empty. Start from an example file."),
        (b"\n \n", "is empty. Start from an example file."),
        (b"\x00\x01\x02" * 50, "is not a text file. Save it as plain text in UTF-8."),
        (b"#" * 2_000_000, "must be at most 1 MB. Check that this is the file you mean."),
        (b"schema = \xff\xfe", "is not UTF-8 text. Save it as plain text in UTF-8."),
    ],
)
def test_a_file_that_is_no_case(
    command: str, content: bytes, says: str, tmp_path: Path, capsys: Capture
) -> None:
    file = _file(tmp_path, content)
    first, last = _told(capsys, command, file)
    assert first.removeprefix("line 1: ") == f"File {file}: {says}"
    assert last == CLOSING


@pytest.mark.parametrize("command", ["plan", "check", "why"])
def test_a_file_that_is_not_there_is_told_before_the_practice(
    command: str, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("ZONULE_PRACTICE", raising=False)
    file = tmp_path / "no.toml"
    told = run(capsys, command, str(file))
    assert _lines(told, command) == [
        f"File {file}: is not there. Check the name and the folder.",
        CLOSING,
    ]


def test_a_folder_is_not_a_file(tmp_path: Path, capsys: Capture) -> None:
    assert _told(capsys, "plan", tmp_path) == [
        f"File {tmp_path}: is a folder. Name a file in it.",
        CLOSING,
    ]


def test_a_file_that_may_not_be_read(tmp_path: Path, capsys: Capture) -> None:
    file = _file(tmp_path, GOOD)
    file.chmod(0)
    if os.access(file, os.R_OK):
        pytest.skip("this user may read everything")
    assert _told(capsys, "plan", file)[0].endswith(
        "may not be read. Ask for permission to read it."
    )


@pytest.mark.parametrize("name", ["no.toml", ""])
def test_a_practice_that_is_not_there(name: str, tmp_path: Path, capsys: Capture) -> None:
    named = tmp_path / name
    told = run(capsys, "plan", PLAIN, "--practice", str(named))
    says = (
        "is not there. Check the name and the folder."
        if name
        else "is a folder. Name a file in it."
    )
    assert told.status == 1
    assert told.err.splitlines() == [f"File {named}: {says}", CLOSING]


def test_every_fault_is_told_at_once_with_its_line(tmp_path: Path, capsys: Capture) -> None:
    text = GOOD.decode()
    text = text.replace("axial_length_mm = 23.47", "axial_length_mm = 2.347")
    text = text.replace("locs_no = 3.2", "locs_no = 32")
    lines = _told(capsys, "plan", _file(tmp_path, text.encode()))
    at = {
        "Axial length, right eye": text[: text.index("axial_length_mm = 2.347")].count("\n") + 1,
        "LOCS III nuclear opalescence, right eye": text[: text.index("locs_no = 32")].count("\n")
        + 1,
    }
    assert len(lines) == 3
    for label, line in at.items():
        assert any(one.startswith(f"case.toml, line {line}: {label} ") for one in lines), (
            label,
            lines,
        )
    assert lines[-1] == "2 faults; nothing was planned, nothing was written."


def _with_its_log(folder: Path) -> None:
    """Put the log that the example practice names beside a copy of it."""
    log = Path(PRACTICE).with_name("own-energy.csv")
    (folder / log.name).write_bytes(log.read_bytes())


def test_faults_of_case_and_practice_come_together(tmp_path: Path, capsys: Capture) -> None:
    case = _file(tmp_path, GOOD.replace(b"axial_length_mm = 23.47", b"axial_length_mm = 2.347"))
    practice = tmp_path / "mine.toml"
    practice.write_bytes(
        Path(PRACTICE).read_bytes().replace(b'grade = "consultant"', b'grade = "boss"')
    )
    _with_its_log(tmp_path)
    lines = _lines(run(capsys, "plan", str(case), "--practice", str(practice)), "plan")
    assert [line.partition(",")[0] for line in lines[:-1]] == ["case.toml", "mine.toml"]
    assert lines[-1] == "2 faults; nothing was planned, nothing was written."


def test_a_practice_file_can_be_checked(tmp_path: Path, capsys: Capture) -> None:
    told = run(capsys, "check", PRACTICE)
    assert (told.status, told.err) == (0, "")
    assert told.out.startswith("practice.toml: 3 to look at")
    assert "Row set aside of own-energy.csv, line 8" in " ".join(told.out.split())
    faulty = tmp_path / "mine.toml"
    faulty.write_bytes(
        Path(PRACTICE).read_bytes().replace(b'grade = "consultant"', b'grade = "boss"')
    )
    _with_its_log(tmp_path)
    first, last = _lines(run(capsys, "check", str(faulty)), "check")
    assert first.startswith("mine.toml, line ")
    assert last == CLOSING


@pytest.mark.parametrize(
    "content",
    [
        b"{'json': 1}",
        b"[[[[[",
        b"a = 1\na = 2",
        b'schema = "zonule-practice-1"',
        b"eye_to_do = 'both'",
        "schema = “zonule-case-1”".encode(),
        GOOD.replace(b"[right]", b"[rihgt]"),
        GOOD[: len(GOOD) // 2],
        GOOD + GOOD,
    ],
)
def test_text_that_is_no_case_is_told_in_sentences(
    content: bytes, tmp_path: Path, capsys: Capture
) -> None:
    lines = _told(capsys, "plan", _file(tmp_path, content))
    assert len(lines) >= 2
    assert all(line.endswith((".", "?")) for line in lines)


def test_a_case_given_as_a_practice_is_refused(capsys: Capture) -> None:
    told = run(capsys, "plan", PLAIN, "--practice", PLAIN)
    assert (told.status, told.out) == (1, "")
    assert "nothing was planned" in told.err


def test_nothing_is_written_beside_a_file_that_is_refused(tmp_path: Path, capsys: Capture) -> None:
    file = _file(tmp_path, b"[")
    _told(capsys, "plan", file)
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
@pytest.mark.parametrize("arguments", [("plan", PLAIN), ("plan", PLAIN, "--json"), ("why", PLAIN)])
def test_a_reader_that_goes_away_is_no_fault(arguments: tuple[str, ...]) -> None:
    ran = subprocess.Popen(
        [sys.executable, "-m", "zonule", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment(),
    )
    assert ran.stdout is not None
    assert ran.stderr is not None
    ran.stdout.close()
    told = ran.stderr.read()
    ran.stderr.close()
    assert (ran.wait(timeout=60), told) == (0, b"")
