"""The text of the product: every file of the repository, every string of its source."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
SOURCE: Final = ROOT / "src" / "zonule"
LIBRARY_FILES: Final = tuple(sorted((SOURCE / "library").rglob("*.toml")))
SOURCE_FILES: Final = tuple(sorted(SOURCE.rglob("*.py")))
DOCUMENTS: Final = (*sorted((ROOT / "docs").rglob("*.md")), ROOT / "README.md")


@cache
def literals() -> tuple[tuple[Path, int, str], ...]:
    """Return every string of the source with its file and line, docstrings among them.

    Doctest lines are code, not prose, and are left out.
    """
    found = []
    for path in SOURCE_FILES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                lines = node.value.splitlines()
                prose = [one for one in lines if not one.strip().startswith((">>>", "..."))]
                found.append((path.relative_to(ROOT), node.lineno, "\n".join(prose)))
    return tuple(found)


def every_file() -> tuple[Path, ...]:
    """Return every text file that ships or is read by a contributor."""
    folders = ("src", "docs", "tests", "examples", "benchmarks", "tools")
    kinds = {".py", ".toml", ".md", ".csv", ".txt", ".yml", ".json"}
    inside = [p for name in folders for p in (ROOT / name).rglob("*") if p.suffix in kinds]
    top = [p for p in ROOT.iterdir() if p.is_file() and (p.suffix in kinds or p.name in TOP)]
    return tuple(sorted({*inside, *top}))


TOP: Final = ("Makefile", "LICENSE", "NOTICE")
