"""What a command loads: no more than it needs."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from cli.commands import PLAIN, environment

LOADED = """
import sys, json, io
from contextlib import redirect_stdout
from zonule.cli import main
with redirect_stdout(io.StringIO()):
    try:
        main(json.loads(sys.argv[1]))
    except SystemExit:
        pass
print(json.dumps(sorted({name.partition(".")[0] for name in sys.modules})))
"""
NEVER = (
    "scipy",
    "pandas",
    "matplotlib",
    "sqlite3",
    "playwright",
    "selenium",
    "weasyprint",
    "reportlab",
    "fitz",
    "pypdf",
    "flask",
    "starlette",
    "jinja2",
    "webbrowser",
    "jsonschema",
    "hypothesis",
    "pytest",
)


def _loaded(*arguments: str) -> set[str]:
    ran = subprocess.run(
        [sys.executable, "-c", LOADED, json.dumps(arguments)],
        capture_output=True,
        check=True,
        env=environment(),
        timeout=60,
    )
    return set(json.loads(ran.stdout))


@pytest.mark.parametrize("arguments", [("--help",), ("plan", "--help"), ("--version",)])
def test_help_loads_neither_arrays_nor_pages(arguments: tuple[str, ...]) -> None:
    loaded = _loaded(*arguments)
    assert "zonule" in loaded, "the guard must have something to find"
    assert not loaded & {"numpy", "rich", *NEVER}


def test_a_plan_loads_arrays_and_pages_and_nothing_heavier() -> None:
    loaded = _loaded("plan", PLAIN)
    assert {"numpy", "rich"} <= loaded
    assert not loaded & set(NEVER)


def test_a_plan_as_json_needs_no_page() -> None:
    loaded = _loaded("plan", PLAIN, "--json")
    assert "numpy" in loaded
    assert "rich" not in loaded
