"""Pages of a plan, as text, for every width and every terminal."""

from __future__ import annotations

import io
import re
from typing import Final

from rich.console import Console

from zonule.plan.records import Plan
from zonule.report.plain import HANDLER
from zonule.report.terminal.plan_page import write_plan

NUMBER: Final = re.compile(r"(?<![±\d])[+−]\d+\.\d+")
SHARE: Final = re.compile(r"(?:fewer than |more than )?\d+ of 100")


def page(plan: Plan, *, width: int = 80, encoding: str = "utf-8") -> str:
    """Return the page of a plan as a pipe of that encoding receives it."""
    raw = io.BytesIO()
    with io.TextIOWrapper(raw, encoding=encoding, errors=HANDLER, newline="\n") as stream:
        write_plan(plan, Console(file=stream, width=width, highlight=False, soft_wrap=False))
        stream.flush()
        return raw.getvalue().decode(encoding)


def flowing(text: str) -> str:
    """Return a page as one line, so that a sentence is found wherever it was broken."""
    return " ".join(text.split())
