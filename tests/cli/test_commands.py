"""Every command: its help with an example, its status, its output."""

from __future__ import annotations

import json
import re
import shlex
from importlib import import_module
from pathlib import Path

import pytest

from cli.commands import PLAIN, PRACTICE, environment, process, run
from contracts.sources import ROOT
from plan.cases import EXAMPLES, TODAY, example
from zonule import __version__
from zonule.cli import COMMANDS, EPILOG
from zonule.pathway.show_a_plan import paths_of

Capture = pytest.CaptureFixture[str]


def test_the_help_of_the_program_lists_every_command_and_an_example(capsys: Capture) -> None:
    told = run(capsys, "--help")
    assert (told.status, told.err) == (0, "")
    for name, line in COMMANDS.items():
        assert re.search(rf"^ +{name} +{re.escape(line[:40])}", told.out, re.MULTILINE), name
    assert "examples:\n  zonule plan" in told.out
    assert "2 wrong use" in told.out


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_every_command_says_what_it_does_with_an_example(
    command: str, capsys: Capture
) -> None:
    told = run(capsys, command, "--help")
    assert (told.status, told.err) == (0, "")
    words = " ".join(told.out.split())
    assert words.startswith(f"usage: zonule {command} ")
    assert COMMANDS[command][1:] in words
    assert f"example: zonule {command} " in words


def _examples() -> list[str]:
    modules = [import_module(f"zonule.cli.{name}_command") for name in COMMANDS]
    sources = [Path(str(one.__file__)).read_text("utf-8") for one in modules]
    found = [match for text in sources for match in re.findall(r'"(zonule [^"]+)"', text)]
    return [*found, *re.findall(r"^  (zonule .+)$", EPILOG, re.MULTILINE)]


def _ends(line: str) -> bool:
    """Tell whether an example can be run here: ``serve`` runs until it is stopped."""
    return "my-case" not in line and not line.startswith("zonule serve ")


@pytest.mark.parametrize("line", [one for one in _examples() if _ends(one)])
def test_every_example_of_the_help_works(
    line: str, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    arguments = shlex.split(line.partition(">")[0])[1:]
    told = run(capsys, *arguments)
    assert (told.status, told.err) == (0, "")
    assert told.out


def test_there_are_examples_to_try() -> None:
    assert {line.split()[1] for line in _examples()} == set(COMMANDS)


def test_the_version(capsys: Capture) -> None:
    assert run(capsys, "--version").out == f"zonule {__version__}\n"


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("plam", PLAIN),
        ("plan",),
        ("plan", PLAIN, PLAIN),
        ("plan", PLAIN, "--jsn"),
        ("plan", PLAIN, "--js"),
        ("plan", PLAIN, "--today"),
        ("plan", PLAIN, "--today", "2026-13-01"),
        ("plan", PLAIN, "--practice"),
        ("check",),
        ("check", PLAIN, "--json"),
        ("why",),
        ("schema",),
        ("schema", "plans"),
        ("--no-such",),
    ],
)
def test_wrong_use_is_status_2_with_the_usage(arguments: tuple[str, ...], capsys: Capture) -> None:
    told = run(capsys, *arguments)
    assert (told.status, told.out) == (2, "")
    assert told.err.startswith("usage: zonule")
    assert "Traceback" not in told.err


def test_a_wrong_day_is_said_in_words(capsys: Capture) -> None:
    told = run(capsys, "plan", PLAIN, "--today", "13/01/2026")
    assert told.err.splitlines()[-1] == (
        "zonule plan: error: argument --today: '13/01/2026' is no day; write YYYY-MM-DD"
    )


def test_the_plan_as_json_is_json_and_nothing_else(capsys: Capture) -> None:
    told = run(capsys, "plan", PLAIN, "--json", "--today", str(TODAY))
    assert (told.status, told.err) == (0, "")
    plan = json.loads(told.out)
    assert plan["schema"] == "zonule-plan-1"
    assert plan["eye"]["made_on"] == str(TODAY)
    assert "−" not in json.dumps(plan["placements"][0]["bands"], ensure_ascii=False)


@pytest.mark.parametrize("which", ["case", "practice", "plan"])
def test_schemas_are_json(which: str, capsys: Capture) -> None:
    told = run(capsys, "schema", which)
    assert (told.status, told.err) == (0, "")
    assert json.loads(told.out)["$id"] == f"zonule-{which}-1"


def test_why_lists_every_path_and_explains_one(capsys: Capture) -> None:
    listed = run(capsys, "why", PLAIN, "--today", str(TODAY))
    assert listed.out.split() == list(paths_of(example("plain-eye")))
    told = run(capsys, "why", PLAIN, "placements.bag.power_d", "--today", str(TODAY))
    assert told.status == 0
    assert "+22.00 D" in told.out
    assert "Sources · " in told.out


def test_a_wrong_path_is_told_with_the_nearest(capsys: Capture) -> None:
    told = run(capsys, "why", PLAIN, "placements.bag.pwer_d", "--today", str(TODAY))
    assert (told.status, told.out) == (1, "")
    count = len(paths_of(example("plain-eye")))
    assert told.err.startswith(
        "There is no number 'placements.bag.pwer_d'. Nearest: placements.bag.power_d, "
    )
    assert told.err.endswith(f"There are {count}: leave the name out, and all are listed.\n")
    assert len(told.err) < 400


def test_a_check_says_what_it_found(capsys: Capture) -> None:
    told = run(capsys, "check", str(EXAMPLES / "half-missing.toml"), "--today", str(TODAY))
    assert told.status == 0
    assert told.out.startswith("half-missing.toml: ")


def _withheld(tmp_path: Path) -> Path:
    text = Path(PLAIN).read_text("utf-8")
    text = text.replace('measured_as = "phakic"', 'measured_as = "aphakic"')
    file = tmp_path / "withheld.toml"
    file.write_text(text, "utf-8")
    return file


@pytest.mark.parametrize("command", ["plan", "check"])
def test_a_power_withheld_is_status_1_and_the_rest_is_printed(
    command: str, tmp_path: Path, capsys: Capture
) -> None:
    more = ("--practice", PRACTICE) if command == "plan" else ()
    told = run(capsys, command, str(_withheld(tmp_path)), *more, "--today", str(TODAY))
    assert (told.status, told.err) == (1, "")
    assert "No lens power is shown" in told.out
    if command == "plan":
        assert "In the bag · intended" in told.out
        assert told.out.count("No lens power is shown.") == 1
        assert not re.search(r"(?<![aA]im )[+\u2212]\d+\.\d\d D", told.out)


def test_the_practice_beside_the_case_is_used_then_the_one_named_by_the_environment(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    lonely = tmp_path / "case.toml"
    lonely.write_text(Path(PLAIN).read_text("utf-8"), "utf-8")
    monkeypatch.delenv("ZONULE_PRACTICE", raising=False)
    told = run(capsys, "plan", str(lonely))
    assert (told.status, told.out) == (1, "")
    assert told.err == (
        "Practice file: none beside case.toml, none named. Name one with --practice FILE, or set "
        "ZONULE_PRACTICE.\n1 fault; nothing was planned, nothing was written.\n"
    )
    monkeypatch.setenv("ZONULE_PRACTICE", PRACTICE)
    assert run(capsys, "plan", str(lonely)).status == 0
    (tmp_path / "practice.toml").write_text("schema = 1", "utf-8")
    assert run(capsys, "plan", str(lonely)).status == 1, "beside the case comes first"
    assert run(capsys, "plan", str(lonely), "--practice", PRACTICE).status == 0


def test_the_module_is_the_command(tmp_path: Path) -> None:
    told = process("plan", PLAIN, "--today", str(TODAY), cwd=tmp_path, COLUMNS="80")
    assert (told.status, told.err) == (0, "")
    assert told.out.startswith("Right eye · first eye")
    assert "\x1b" not in told.out
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("columns", ["40", "80"])
def test_a_dumb_ascii_terminal_gets_every_minus(columns: str) -> None:
    told = process(
        "plan",
        str(EXAMPLES / "hard-second-eye.toml"),
        COLUMNS=columns,
        TERM="dumb",
        PYTHONIOENCODING="ascii",
        NO_COLOR="1",
    )
    assert (told.status, told.err) == (0, "")
    assert told.out.isascii()
    assert not re.search(r"(?<![a-z)])\?", told.out), "questions are asked, signs are not lost"
    assert "-0.25 D" in told.out
    assert max(len(line) for line in told.out.splitlines()) <= int(columns)


def test_bad_input_on_an_ascii_terminal_loses_no_sign(tmp_path: Path) -> None:
    file = tmp_path / "case.toml"
    text = Path(PLAIN).read_text("utf-8")
    file.write_text(text.replace("spherical_equivalent_d = -0.25", "spherical_equivalent_d = -99"))
    poor, rich = (
        process("plan", str(file), "--practice", PRACTICE, PYTHONIOENCODING=encoding)
        for encoding in ("ascii", "utf-8")
    )
    assert poor.status == rich.status == 1
    assert "−99" in rich.err
    assert poor.err == rich.err.replace("−", "-")


def test_json_on_an_ascii_stream_is_still_json_with_nothing_lost() -> None:
    poor = process("plan", PLAIN, "--json", "--today", str(TODAY), PYTHONIOENCODING="ascii")
    rich = process("plan", PLAIN, "--json", "--today", str(TODAY), PYTHONIOENCODING="utf-8")
    assert poor.out.isascii()
    assert json.loads(poor.out) == json.loads(rich.out)


def test_the_environment_of_the_tests_is_clean() -> None:
    assert "ZONULE_PRACTICE" not in environment()
