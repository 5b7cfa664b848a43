"""The whole family of errors, and the one shape in which anything wrong is told.

::

    ZonuleError
    ├── BadInput        what was entered cannot be used; carries every Problem at once
    ├── NoSuchName      a name is not on its list; says the nearest names
    └── LibraryFault    a table that ships with the program contradicts itself

A :class:`Problem` is data. Judging makes problems; deciding what to do about them is someone
else's work: a command prints them, a page shows them beside their fields, an importer sets the
row aside with them. The sentence a person reads is made here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

Severity = Literal["block", "confirm", "warn", "mark", "info"]
"""block: nothing false may go on; confirm: asked once, read back; warn: shown and answered;
mark: a quiet mark; info: a note."""

Stops = Literal["power", "signature", "first_cut", "opening_a_lens", "nothing"]
"""What a problem holds up. Only ``power`` hides a lens power."""

Side = Literal["right", "left"]

SEVERITIES: tuple[Severity, ...] = ("block", "confirm", "warn", "mark", "info")


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong or that someone must look at.

    Parameters
    ----------
    check
        Name of the check that found it, for instance ``outside_limits``.
    field
        Path of the field, for instance ``left.biometry[0].axial_length_mm``.
    label
        What a person calls the field, for instance ``Axial length, left eye``.
    value
        What was entered, with its unit, as a person would read it; empty when nothing was.
    limit
        What it must be, or what it contradicts.
    remedy
        What to do about it.
    severity, stops
        How loud it is, and what it holds up.
    eye
        The eye it concerns, if it concerns one.
    line, file
        Line and name of the file, where known.
    source, status
        Key of the source of the limit, and how sure that source is.
    """

    check: str
    field: str
    label: str
    value: str
    limit: str
    remedy: str
    severity: Severity = "block"
    stops: Stops = "nothing"
    eye: Side | None = None
    line: int | None = None
    file: str = ""
    source: str = ""
    status: str = ""

    def sentence(self) -> str:
        """Return the one sentence a person reads.

        Examples
        --------
        >>> Problem(
        ...     check="outside_limits",
        ...     field="left.biometry[0].axial_length_mm",
        ...     label="Axial length",
        ...     value="2.35 mm",
        ...     limit="must be 15 to 40 mm",
        ...     remedy="Check the decimal point.",
        ... ).sentence()
        'Axial length 2.35 mm: must be 15 to 40 mm. Check the decimal point.'
        """
        head = f"{self.label} {self.value}" if self.value else self.label
        return f"{head}: {self.limit}. {self.remedy}".strip()


class ZonuleError(Exception):
    """Anything that Zonule itself raises."""


class BadInput(ZonuleError):
    """What was entered cannot be used. Every fault is told at once."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(problem.sentence() for problem in self.problems))


class NoSuchName(ZonuleError):
    """A name is not on its list; the message offers the nearest names.

    Examples
    --------
    >>> str(NoSuchName("formula", "holaday1", ["srkt", "t2", "holladay1"]))
    "There is no formula 'holaday1'. Nearest: holladay1. All: srkt, t2, holladay1."
    """

    def __init__(self, kind: str, name: str, known: Iterable[str]) -> None:
        self.kind, self.name, self.known = kind, name, tuple(known)
        self.nearest = tuple(get_close_matches(name, self.known, n=3, cutoff=0.5))
        nearest = f" Nearest: {', '.join(self.nearest)}." if self.nearest else ""
        super().__init__(f"There is no {kind} {name!r}.{nearest} All: {', '.join(self.known)}.")


class LibraryFault(ZonuleError):
    """A table that ships with the program is incomplete or contradicts itself."""
