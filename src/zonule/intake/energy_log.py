"""Reads the own log of ultrasound energy: a CSV file, one row per case.

A file whose columns cannot be understood is refused whole. A row that cannot be used is set aside
with its line and its reason; nothing is repaired and nothing is dropped in silence.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Any, Final

from zonule.findings.fields import field, sections
from zonule.intake.csv_rows import Row, read_rows
from zonule.intake.gathering import shown_raw
from zonule.intake.values import Refused, read
from zonule.practice.energy import EnergyCase, EnergyLog, SetAside

_SECTION: Final = "energy_log"
_ONE_OF_EACH: Final = ("machine", "mode", "tip", "technique")
"""Energy compares only where these are the same."""
_DAY: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class _Aside(Exception):
    """A row that cannot be used."""


def read_energy_log(data: bytes, *, file: str, kept_to: Mapping[str, Any]) -> EnergyLog:
    r"""Return the own log.

    Parameters
    ----------
    data
        The file: a heading row, then one row per case; commas between the columns.
    file
        Its name.
    kept_to
        ``machine``, ``mode``, ``tip`` and ``technique`` as the practice file names them. Rows
        of another are set aside, and rows that leave it open; a column that is not there holds
        for the whole file.

    Raises
    ------
    BadInput
        If a column that is needed is not there, or one is not known or stands twice.

    Examples
    --------
    >>> log = read_energy_log(
    ...     b"done_on,locs_nc,energy,tip\n2026-01-12,3.4,8.1,bent\n2026-01-12,3.9,9,straight\n",
    ...     file="own-energy.csv",
    ...     kept_to={"tip": "bent"},
    ... )
    >>> len(log.cases), log.set_aside
    (1, (SetAside(line=3, because='Tip straight: the log is kept to bent'),))
    """
    known = sections("practice")[_SECTION]
    needed = [key for key, asked in known.items() if asked.required]
    rows = read_rows(data, name=file, known=known, needed=needed)
    in_use = {key for row in rows for key in row.cells}
    kept: dict[str, str] = {
        key: str(kept_to[key]) for key in _ONE_OF_EACH if kept_to.get(key) and key in in_use
    }
    cases: list[EnergyCase] = []
    aside: list[SetAside] = []
    seen: dict[tuple[tuple[str, str], ...], int] = {}
    for row in rows:
        try:
            cases.append(_case(row, kept))
            _not_twice(row, seen, cases)
        except _Aside as why:
            aside.append(SetAside(row.line, str(why)))
    return EnergyLog(file=file, cases=tuple(cases), set_aside=tuple(aside))


def _case(row: Row, kept: Mapping[str, str]) -> EnergyCase:
    if row.too_many:
        raise _Aside("more cells than columns")
    done_on = _answer(row, "done_on")
    colour, energy = _answer(row, "locs_nc"), _answer(row, "energy")
    for key, wanted in kept.items():
        _same(row, key, wanted)
    return EnergyCase(done_on=done_on, nuclear_colour=colour, energy=energy)


def _not_twice(
    row: Row, seen: dict[tuple[tuple[str, str], ...], int], cases: list[EnergyCase]
) -> None:
    """Set a row aside that repeats an earlier one word for word."""
    as_written = tuple(sorted(row.cells.items()))
    first = seen.setdefault(as_written, row.line)
    if first != row.line:
        cases.pop()
        raise _Aside(f"the same as line {first}, word for word")


def _answer(row: Row, key: str) -> Any:
    """Return a day or a number within its limits."""
    asked, text = field(_SECTION, key, which="practice"), row.cells.get(key, "")
    if not text:
        raise _Aside(f"{asked.label}: not recorded")
    try:
        return read(asked, _as_day(text) if asked.type == "date" else text)
    except Refused as refused:
        raise _Aside(f"{asked.label} {shown_raw(text)}: {refused.limit}") from None


def _as_day(text: str) -> date | str:
    try:
        return date.fromisoformat(text) if _DAY.fullmatch(text) else text
    except ValueError:
        return text


def _same(row: Row, key: str, kept: str) -> None:
    """Set a row aside that is of another machine, mode, tip or technique, or does not say."""
    found = row.cells.get(key, "")
    if found == kept:
        return
    label = field(_SECTION, key, which="practice").label
    said = f"{label} {shown_raw(found)}" if found else f"{label} not recorded"
    raise _Aside(f"{said}: the log is kept to {kept}")
