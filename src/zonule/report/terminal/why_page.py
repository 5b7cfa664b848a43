"""One explanation, as a terminal shows it."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from zonule.library.reading import reference, table
from zonule.report import sentences
from zonule.report.terminal.layout import Sheet
from zonule.report.why.explanation import Explanation, Input


def write_why(told: Explanation, console: Console) -> None:
    """Write what is behind a number."""
    sheet = Sheet(console)
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


def _input(one: Input) -> Text:
    text = Text(f"{one.label}: ").append(one.value, style="bold")
    if one.status:
        text.append(f"  [{sentences.status_words(one.status)}]", style="dim")
    return text


def _sources(sheet: Sheet, told: Explanation) -> None:
    sheet.heading(f"Sources · {told.status_of} is {sentences.status_words(told.status)}")
    for key in dict.fromkeys(told.sources):
        if key in table("references"):
            one = reference(key)
            seen = {"memory": "from memory, not seen", "none": "no publication"}
            sheet.bullet(
                Text(one.text).append(f"  [{seen.get(one.seen, one.seen + ' seen')}]", style="dim")
            )
        else:
            sheet.bullet(f"{key}, as named in the practice file")
    if told.held_by:
        sheet.say(f"Held by {', '.join(told.held_by)}", indent=3, style="dim")
