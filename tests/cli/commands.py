"""Runs the command line: in this process where that will do, as a process of its own where not."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pytest

from plan.cases import EXAMPLES
from zonule.cli import main

PLAIN: Final = str(EXAMPLES / "plain-eye.toml")
PRACTICE: Final = str(EXAMPLES / "practice.toml")


@dataclass(frozen=True)
class Ran:
    """What a command did."""

    status: int
    out: str
    err: str


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> Ran:
    """Run a command in this process."""
    try:
        status = main(arguments)
    except SystemExit as left:
        status = left.code if isinstance(left.code, int) else 1
    told = capsys.readouterr()
    return Ran(status, told.out, told.err)


def environment(**more: str) -> dict[str, str]:
    """Return the environment of a process: this one's, without what would change its output."""
    drop = ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "TERM", "PYTHONIOENCODING", "ZONULE_PRACTICE")
    kept = {name: value for name, value in os.environ.items() if name not in drop}
    return {**kept, "PYTHONUTF8": "0", "LC_ALL": "C.UTF-8", **more}


def process(*arguments: str, cwd: Path | None = None, **more: str) -> Ran:
    """Run ``python -m zonule`` as a process of its own."""
    ran = subprocess.run(
        [sys.executable, "-m", "zonule", *arguments],
        capture_output=True,
        check=False,
        cwd=cwd,
        env=environment(**more),
        timeout=60,
    )
    return Ran(ran.returncode, ran.stdout.decode(), ran.stderr.decode())
