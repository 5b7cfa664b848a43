"""One problem, as a terminal shows it."""

from __future__ import annotations

from typing import Final

from rich.text import Text

from zonule.errors import Problem
from zonule.report.words import underscored

WORDS: Final = {"block": "Stop", "confirm": "Confirm", "warn": "Look again"}


def problem_text(problem: Problem) -> Text:
    """Return the sentence of a problem, with how loud it is and what it holds up."""
    text = Text()
    if problem.severity in WORDS:
        text.append(f"{WORDS[problem.severity]}: ", style="bold reverse")
    text.append(problem.sentence())
    if problem.stops == "power":
        text.append(" No lens power is shown until it is settled.", style="dim")
    elif problem.stops != "nothing":
        text.append(f" Holds up the {underscored(problem.stops)}.", style="dim")
    return text
