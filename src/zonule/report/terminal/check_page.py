"""What the checks of a case found, as a terminal shows it."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from zonule.errors import SEVERITIES, Problem
from zonule.report.terminal.layout import Sheet
from zonule.report.terminal.problem import problem_text


def write_checks(problems: Sequence[Problem], name: str, console: Console) -> None:
    """Write every problem, the loudest first."""
    sheet = Sheet(console)
    if not problems:
        sheet.say(f"{name}: every figure can be used, and nothing asks for a second look.")
        return
    stops = sum(problem.severity == "block" for problem in problems)
    head = f"{name}: {len(problems)} to look at" + (
        f", {stops} to be settled before going on" if stops else ""
    )
    sheet.say(Text(head, style="bold"))
    for problem in sorted(problems, key=lambda one: SEVERITIES.index(one.severity)):
        sheet.bullet(problem_text(problem))
