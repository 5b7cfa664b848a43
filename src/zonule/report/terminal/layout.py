"""The few shapes the terminal page is set in."""

from __future__ import annotations

from dataclasses import dataclass

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from zonule.report.plain import fits, plain
from zonule.report.terminal.axis import LINES, PLAIN, Marks

NARROW = 76
"""Below this many columns what stood beside comes underneath."""


class Page(Console):
    """A console that leaves a reader who went away to the command, as any other output does."""

    def on_broken_pipe(self) -> None:
        """Let the broken pipe through."""
        raise BrokenPipeError


@dataclass(frozen=True, slots=True)
class Sheet:
    """A console with what it can show."""

    console: Console

    @property
    def width(self) -> int:
        """Columns to write in; long lines are hard to read, so never more than 100."""
        return min(self.console.width, 100)

    @property
    def narrow(self) -> bool:
        """Whether things must stand underneath instead of beside each other."""
        return self.width < NARROW

    @property
    def marks(self) -> Marks:
        """Line characters, or plain ones where the terminal has none."""
        return LINES if "utf" in self.console.encoding.lower() else PLAIN

    def shown(self, text: Text) -> Text:
        """Return a text with plain characters where the terminal lacks the true ones."""
        if self.marks is LINES or text.plain.isascii():
            return text
        told = Text(style=text.style)
        for at, character in enumerate(text.plain):
            one = text[at]
            one.style = ""
            if not fits(character, self.console.encoding):
                one.plain = plain(character)
            told.append(one)
        return told

    def heading(self, text: str, beside: str = "") -> None:
        """Write a heading, with a word at the far end where there is room."""
        self.console.print()
        if beside and not self.narrow:
            self.pair(Text(text, style="bold"), Text(beside, style="dim"))
        else:
            self.console.print(self.shown(Text(text, style="bold")), width=self.width)

    def say(self, text: str | Text, *, indent: int = 0, style: str = "") -> None:
        """Write a paragraph, wrapped with its indent kept."""
        shown = text if isinstance(text, Text) else Text(text, style=style)
        self.console.print(Padding(self.shown(shown), (0, 0, 0, indent)), width=self.width)

    def bullet(self, text: str | Text, *, mark: str = "·", style: str = "") -> None:
        """Write one entry of a list, its further lines set under the first."""
        grid = Table.grid(padding=(0, 1))
        grid.add_column(width=2, justify="right")
        grid.add_column()
        entry = text if isinstance(text, Text) else Text(text, style=style)
        grid.add_row(self.shown(Text(mark)), self.shown(entry))
        self.console.print(grid, width=self.width)

    def entry(self, mark: str, first: Text, second: Text) -> None:
        """Write the head of an entry: its mark, its name, and something at the far end."""
        grid = Table.grid(padding=(0, 1), expand=True)
        grid.add_column(width=3, justify="right", no_wrap=True)
        grid.add_column(ratio=1)
        grid.add_column(justify="right", no_wrap=True)
        grid.add_row(self.shown(Text(mark, style="bold")), self.shown(first), self.shown(second))
        self.console.print(grid, width=self.width)

    def pair(self, first: Text, second: Text, *, indent: int = 0) -> None:
        """Write two things on one line, the second at the far end; underneath where narrow."""
        if self.narrow:
            self.say(first, indent=indent)
            if second.plain:
                self.say(second, indent=indent)
            return
        grid = Table.grid(expand=True)
        grid.add_column(ratio=1)
        grid.add_column(justify="right", no_wrap=True)
        grid.add_row(self.shown(first), self.shown(second))
        self.console.print(Padding(grid, (0, 0, 0, indent)), width=self.width)
