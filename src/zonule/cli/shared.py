"""What every command shares: its words, its files, its way of telling what is wrong."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any, TextIO

from zonule.cli import COMMANDS
from zonule.errors import BadInput, NoSuchName, Problem
from zonule.report.plain import HANDLER

DONE, BAD_INPUT = 0, 1
FEW_NAMES = 30
PRACTICE_VARIABLE = "ZONULE_PRACTICE"


def command_parser(name: str, example: str) -> argparse.ArgumentParser:
    """Return the parser of one command."""
    return argparse.ArgumentParser(
        prog=f"zonule {name}",
        description=COMMANDS[name][:1].upper() + COMMANDS[name][1:] + ".",
        epilog=f"example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )


def add_case(parser: argparse.ArgumentParser) -> None:
    """Add the case file."""
    parser.add_argument("case", metavar="CASE", type=Path, help="case file (zonule-case-1, TOML)")


def add_practice(parser: argparse.ArgumentParser) -> None:
    """Add the practice file."""
    parser.add_argument(
        "--practice",
        metavar="FILE",
        type=Path,
        help="practice file (zonule-practice-1, TOML); without it practice.toml beside the case, "
        f"else the file that {PRACTICE_VARIABLE} names",
    )


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no day; write YYYY-MM-DD") from None


def add_today(parser: argparse.ArgumentParser) -> None:
    """Add the day of the plan."""
    parser.add_argument(
        "--today",
        metavar="YYYY-MM-DD",
        type=_day,
        default=None,
        help="the day of the plan; without it the computer's",
    )


def practice_for(case: Path, named: Path | None) -> Path:
    """Return the practice file to use: the one named, the one beside the case, the usual one.

    Raises
    ------
    BadInput
        If none of them is there.
    """
    beside = case.parent / "practice.toml"
    if named is not None:
        return named
    if beside.is_file() or not case.is_file():  # a missing case is told first
        return beside
    if usual := os.environ.get(PRACTICE_VARIABLE):
        return Path(usual)
    raise BadInput(
        [
            Problem(
                check="no_practice",
                field="practice",
                label="Practice file",
                value="",
                limit=f"none beside {case.name}, none named",
                remedy=f"Name one with --practice FILE, or set {PRACTICE_VARIABLE}.",
            )
        ]
    )


def tell(problems: Iterable[Problem], *, to: TextIO) -> None:
    """Print problems, one a line, each with its file and line."""
    for problem in problems:
        where = [problem.file] if problem.file else []
        where += [f"line {problem.line}"] if problem.line else []
        head = f"{', '.join(where)}: " if where else ""
        print(f"{head}{problem.sentence()}", file=to)


def print_json(told: Mapping[str, Any]) -> None:
    """Print plain data as JSON; what the stream cannot carry is escaped as JSON has it."""
    true_characters = "utf" in (sys.stdout.encoding or "").lower()
    print(json.dumps(told, indent=2, ensure_ascii=not true_characters, allow_nan=False))  # noqa: T201


def _tell_name(wrong: NoSuchName) -> None:
    """Print a wrong name: with every correct one while they are few, else with the nearest."""
    if len(wrong.known) <= FEW_NAMES:
        print(wrong, file=sys.stderr)  # noqa: T201
        return
    nearest = f" Nearest: {', '.join(wrong.nearest)}." if wrong.nearest else ""
    print(  # noqa: T201
        f"There is no {wrong.kind} {wrong.name!r}.{nearest} "
        f"There are {len(wrong.known)}: leave the name out, and all are listed.",
        file=sys.stderr,
    )


def guarded(work: Callable[[], int], *, faults_are_the_answer: bool = False) -> int:
    """Run the work of a command; tell bad input in sentences, never in a traceback.

    Where faults are what was asked for they go to standard output, else to standard error.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=HANDLER)
    try:
        status = _told(work, sys.stdout if faults_are_the_answer else sys.stderr)
        sys.stdout.flush()  # a closed pipe shows here, not when the interpreter ends
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    return status


def _told(work: Callable[[], int], faults_to: TextIO) -> int:
    try:
        return work()
    except BadInput as bad:
        count = len(bad.problems)
        tell(bad.problems, to=faults_to)
        noun = "fault" if count == 1 else "faults"
        print(f"{count} {noun}; nothing was planned, nothing was written.", file=faults_to)
    except NoSuchName as wrong:
        _tell_name(wrong)
    return BAD_INPUT
