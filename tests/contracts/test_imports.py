"""Rooms import one way only; the contracts are those of pyproject.toml."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

from contracts.sources import ROOT

RUN = "import sys; from importlinter.cli import lint_imports_command as run; run()"


def _lint(config: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", RUN, "--no-cache", "--config", str(config)],
        capture_output=True,
        check=False,
        cwd=ROOT,
        text=True,
        timeout=120,
    )


def test_every_contract_is_kept() -> None:
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]
    ran = _lint(ROOT / "pyproject.toml")
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert f"Contracts: {len(contracts['contracts'])} kept, 0 broken." in ran.stdout
    assert len(contracts["contracts"]) >= 3


def test_a_contract_that_is_broken_is_seen(tmp_path: Path) -> None:
    config = tmp_path / "broken.toml"
    config.write_text(
        '[tool.importlinter]\nroot_package = "zonule"\n'
        '[[tool.importlinter.contracts]]\nname = "Broken on purpose"\ntype = "forbidden"\n'
        'source_modules = ["zonule.pathway"]\nforbidden_modules = ["zonule.plan"]\n',
        "utf-8",
    )
    ran = _lint(config)
    assert ran.returncode == 1
    assert "Broken on purpose BROKEN" in ran.stdout


def test_what_runs_needs_seven_libraries_and_no_more() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    names = sorted(one.partition(">")[0] for one in project["dependencies"])
    assert names == ["jinja2", "numpy", "rich", "segno", "starlette", "typst", "uvicorn"]
