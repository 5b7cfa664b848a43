"""One explanation, as a terminal shows it."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from zonule.report.terminal.layout import Sheet
from zonule.report.why.explanation import Explanation
from zonule.report.why.view import ShownInput, WhyView, why_view


def write_why(explained: Explanation, console: Console) -> None:
    """Write what is behind a number."""
    told, sheet = why_view(explained), Sheet(console)
    sheet.say(Text(told.title, style="bold"))
    sheet.say(Text(told.value, style="bold"))
    sheet.say(Text(told.path, style="dim"))
    sheet.heading("How")
    sheet.say(told.how, indent=2)
    if told.inputs:
        sheet.heading("From")
        for one in told.inputs:
            sheet.bullet(_input(one))
    if told.caveats:
        sheet.heading("Bear in mind")
        for says in told.caveats:
            sheet.bullet(says)
    _sources(sheet, told)


def _input(one: ShownInput) -> Text:
    text = Text(f"{one.label}: ").append(one.value, style="bold")
    if one.status:
        text.append(f"  [{one.status}]", style="dim")
    return text


def _sources(sheet: Sheet, told: WhyView) -> None:
    sheet.heading(f"Sources · {told.status[:1].lower()}{told.status[1:].rstrip('.')}")
    for one in told.sources:
        seen = f"  [{one.seen}]" if one.seen else ""
        sheet.bullet(Text(one.text).append(seen, style="dim"))
    if told.held_by:
        sheet.say(f"Held by {', '.join(told.held_by)}", indent=3, style="dim")
