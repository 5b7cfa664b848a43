"""Writes the pages that are made from the program itself.

    python -m tools.refresh_docs

The tables of keys of the case and practice file, and the plan as a terminal shows it. A test
fails while any of them is stale.
"""

from __future__ import annotations

import io
from datetime import date
from pathlib import Path

from rich.console import Console

from zonule.intake.key_tables import page
from zonule.pathway.plan_an_eye import plan_files
from zonule.report.terminal.plan_page import write_plan

ROOT = Path(__file__).resolve().parent.parent
DEMO_DAY = date(2026, 11, 25)
WIDTH = 92


def demo_plan() -> str:
    """Return the plan of the hard second eye as a plain terminal of 92 columns shows it."""
    paper = io.StringIO()
    console = Console(file=paper, width=WIDTH, no_color=True, highlight=False)
    examples = ROOT / "examples"
    plan = plan_files(examples / "hard-second-eye.toml", examples / "practice.toml", today=DEMO_DAY)
    write_plan(plan, console)
    return "\n".join(line.rstrip() for line in paper.getvalue().splitlines()) + "\n"


def on_a_terminal() -> str:
    """Return the page that shows the demo plan as a terminal does."""
    return f"""# The plan on a terminal

`zonule plan examples/hard-second-eye.toml` on a terminal of {WIDTH} columns. Made by
`tools/refresh_docs.py`.

```text
{demo_plan()}```
"""


def pages() -> dict[Path, str]:
    """Return every page that is made from the program, with its text."""
    return {
        ROOT / "docs" / "plan-on-a-terminal.md": on_a_terminal(),
        ROOT / "docs" / "case-file.md": page("case"),
        ROOT / "docs" / "practice-file.md": page("practice"),
    }


if __name__ == "__main__":
    for path, text in pages().items():
        path.write_text(text, encoding="utf-8")
