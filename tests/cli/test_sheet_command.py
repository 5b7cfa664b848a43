"""``zonule sheet``: the file, the exit status, and what is kept."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from cli.commands import PLAIN, PRACTICE, environment, run
from plan.cases import EXAMPLES, TODAY
from report.sheets import text_of

Capture = pytest.CaptureFixture[str]
HARD = str(EXAMPLES / "hard-second-eye.toml")


def _sheet(capsys: Capture, file: Path, *more: str, case: str = HARD) -> tuple[int, str, str]:
    told = run(capsys, "sheet", case, "--today", str(TODAY), "-o", str(file), *more)
    return told.status, told.out, told.err


def test_the_sheet_is_written_and_its_plan_named(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "hard.pdf"
    status, out, err = _sheet(capsys, file, "--practice", PRACTICE)
    assert (status, err) == (0, "")
    shown = r"((?:[0-9a-f]{4} ?){3})"
    found = re.fullmatch(rf"{re.escape(str(file))}: sheet of plan {shown}\n", out)
    assert found
    said = text_of(file.read_bytes())
    assert said.startswith("LEFT EYE")
    assert f"plan {found[1]} · made" in said
    assert [one.name for one in tmp_path.iterdir()] == ["hard.pdf"]


def test_a_file_that_exists_is_kept_unless_forced(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "old.pdf"
    file.write_bytes(b"old")
    status, out, err = _sheet(capsys, file)
    assert (status, out) == (1, "")
    assert err == (
        f"File {file}: is already there and is kept. Name another, or add --force.\n"
        "1 fault; nothing was planned, nothing was written.\n"
    )
    assert file.read_bytes() == b"old"
    assert _sheet(capsys, file, "--force")[0] == 0
    assert file.read_bytes().startswith(b"%PDF-")


def test_a_power_withheld_is_status_1_and_the_sheet_is_made(
    tmp_path: Path, capsys: Capture
) -> None:
    text = Path(PLAIN).read_text("utf-8")
    case = tmp_path / "withheld.toml"
    case.write_text(text.replace('measured_as = "phakic"', 'measured_as = "aphakic"'), "utf-8")
    file = tmp_path / "withheld.pdf"
    status, out, err = _sheet(capsys, file, "--practice", PRACTICE, case=str(case))
    assert (status, err) == (1, "")
    assert out.splitlines()[1].startswith("No lens power is shown: ")
    assert "NO LENS POWER" in text_of(file.read_bytes())


def test_bad_input_writes_nothing(tmp_path: Path, capsys: Capture) -> None:
    case = tmp_path / "bad.toml"
    case.write_text(Path(PLAIN).read_text("utf-8").replace("23.", "239."), "utf-8")
    file = tmp_path / "bad.pdf"
    status, out, err = _sheet(capsys, file, "--practice", PRACTICE, case=str(case))
    assert (status, out) == (1, "")
    assert err.splitlines()[-1].endswith("nothing was planned, nothing was written.")
    assert not file.exists()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / "none" / "x.pdf"
    status, _, err = _sheet(capsys, file)
    assert status == 1
    assert err.splitlines()[0] == (
        f"File {file}: cannot be written (no such file or directory). Check the folder and the "
        "disk."
    )


@pytest.mark.parametrize("name", ["sheet", "case.toml", "x.pdf.txt"])
def test_a_name_that_is_no_pdf_is_wrong_use(name: str, tmp_path: Path, capsys: Capture) -> None:
    status, out, err = _sheet(capsys, tmp_path / name)
    assert (status, out) == (2, "")
    assert "is no name for a sheet; end it in .pdf" in err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("arguments", [("sheet",), ("sheet", PLAIN), ("sheet", PLAIN, "-o")])
def test_wrong_use_is_status_2(arguments: tuple[str, ...], capsys: Capture) -> None:
    told = run(capsys, *arguments)
    assert (told.status, told.out) == (2, "")
    assert told.err.startswith("usage: zonule sheet")


LOADED = """
import sys, json
from zonule.cli import main
assert main(json.loads(sys.argv[1])) == 0
print(json.dumps([one for one in ("typst", "segno", "rich", "starlette") if one in sys.modules]))
"""


@pytest.mark.parametrize("command", ["plan", "sheet"])
def test_only_a_sheet_loads_what_draws_it(command: str, tmp_path: Path) -> None:
    more = ["-o", str(tmp_path / "x.pdf")] if command == "sheet" else ["--json"]
    ran = subprocess.run(
        [sys.executable, "-c", LOADED, json.dumps([command, PLAIN, *more])],
        capture_output=True,
        check=True,
        env=environment(),
        timeout=60,
    )
    loaded = json.loads(ran.stdout.decode().splitlines()[-1])
    assert loaded == (["typst", "segno"] if command == "sheet" else [])
