"""Rows of a CSV file with a heading line: each with its line, its cells by name."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from zonule.errors import BadInput, Problem
from zonule.intake.text import to_text
from zonule.intake.values import nearest


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its line in the file, and its cells; an empty cell is not there."""

    line: int
    cells: Mapping[str, str]
    too_many: bool = False
    """It has more cells than the heading line."""


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row that could not be used, and why."""

    line: int
    because: str

    def sentence(self) -> str:
        """Return the row and its reason in a line.

        Examples
        --------
        >>> SetAside(12, "age 7: must be 18 to 110").sentence()
        'line 12: age 7: must be 18 to 110'
        """
        return f"line {self.line}: {self.because}"


def read_rows(
    data: bytes, *, name: str, known: Iterable[str], needed: Sequence[str]
) -> tuple[Row, ...]:
    r"""Return the rows of a CSV file; a blank line is none.

    Parameters
    ----------
    data
        The whole file: commas, UTF-8, at most 1 MB.
    name
        What to call the file.
    known
        The columns that may stand in it.
    needed
        The columns without which it says nothing.

    Raises
    ------
    BadInput
        If it is no text, has a column that is not known or stands twice, or lacks one that is
        needed. A fault of one row is none of the file.

    Examples
    --------
    >>> read_rows(b"age,ruptured\n71,no\n", name="a.csv", known=["age", "ruptured"], needed=[])
    (Row(line=2, cells={'age': '71', 'ruptured': 'no'}, too_many=False),)
    """
    reader = csv.reader(io.StringIO(to_text(data, name=name)))
    try:
        heading = [cell.strip() for cell in next(reader, [])]
        _heading_fits(heading, tuple(known), needed, name)
        return tuple(
            Row(
                line=reader.line_num,
                cells={
                    column: cell.strip()
                    for column, cell in zip(heading, cells, strict=False)
                    if cell.strip()
                },
                too_many=len(cells) > len(heading),
            )
            for cells in reader
            if any(cell.strip() for cell in cells)
        )
    except csv.Error as fault:
        raise BadInput(
            [_fault(name, "File", name, f"is no CSV file: {fault}", "Save it as CSV again.")]
        ) from None


def _heading_fits(
    heading: Sequence[str], known: tuple[str, ...], needed: Sequence[str], name: str
) -> None:
    problems = [
        _fault(name, "Column", column[:60], "is not known here", nearest(column, known))
        for column in heading
        if column not in known
    ]
    problems += [
        _fault(name, "Column", column, "stands twice", "Keep one of them.")
        for column in sorted({one for one in heading if heading.count(one) > 1})
    ]
    problems += [
        _fault(name, "Column", column, "is needed", f"Add a column {column}.")
        for column in needed
        if column not in heading
    ]
    if problems:
        raise BadInput(problems)


def _fault(name: str, label: str, value: str, limit: str, remedy: str) -> Problem:
    return Problem(
        check="file_unreadable",
        field="file",
        label=label,
        value=value,
        limit=limit,
        remedy=remedy,
        line=1,
        file=name,
    )
