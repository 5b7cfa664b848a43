"""Reads the surgeon's earlier cases from a CSV file: one case in each row.

Columns are keys of a case file (``pxf``, ``lens_look``, ``axial_length_mm`` …), ``age`` at surgery,
and ``ruptured``: posterior capsule rupture, vitreous loss or both. An empty cell is not recorded.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, Final

from zonule.findings.answers import Answer, Unknown
from zonule.findings.fields import Field, sections
from zonule.findings.records import Aim, Biometry, Case, Eye, Patient
from zonule.intake.csv_rows import Row, SetAside, read_rows
from zonule.intake.values import Refused, read
from zonule.learning.own_baseline import EarlierCase

RUPTURED: Final = "ruptured"
LABELS_OF_A_ROW: Final = ("case", "done_on")
"""Columns for the person who keeps the file; nothing is computed from them."""
SAID: Final = {"yes": True, "true": True, "no": False, "false": False}
AGE: Final = Field(
    section="earlier_case",
    key="age",
    type="whole",
    label="Age",
    help="At surgery.",
    unit="years",
    low=18,
    high=110,
    may_be_unknown=True,
)
HAPPENED: Final = Field(
    section="earlier_case",
    key=RUPTURED,
    type="yes_no",
    label="Ruptured",
    help="Posterior capsule rupture, vitreous loss or both.",
    may_be_unknown=False,
)


def own_cases(data: bytes, *, name: str) -> tuple[tuple[EarlierCase, ...], tuple[SetAside, ...]]:
    r"""Return the earlier cases that the bytes of a file hold, and the rows set aside.

    Raises
    ------
    BadInput
        If the file itself cannot be used.

    Examples
    --------
    >>> told = b"age,pxf,ruptured\n71,no,no\n82,yes,yes\n7,,no\n"
    >>> cases, aside = own_cases(told, name="own.csv")
    >>> len(cases), aside[0].sentence()
    (2, 'line 4: Age 7: must be a whole number, 18 to 110 years')
    """
    rows = read_rows(
        data, name=name, known=(*_fields(), RUPTURED, *LABELS_OF_A_ROW), needed=(RUPTURED,)
    )
    cases: list[EarlierCase] = []
    aside: list[SetAside] = []
    for row in rows:
        found = _one(row)
        if isinstance(found, SetAside):
            aside.append(found)
        else:
            cases.append(found)
    return tuple(cases), tuple(aside)


@cache
def _fields() -> Mapping[str, Field]:
    known = sections("case")
    taken = ("patient", "eye", "biometry")
    found = {
        key: asked
        for section in taken
        for key, asked in known[section].items()
        if asked.type in ("number", "whole", "yes_no", "choice", "choices")
        and key != "nothing_abnormal"
    }
    return {**found, "age": AGE}


def _one(row: Row) -> EarlierCase | SetAside:
    if row.too_many:
        return SetAside(row.line, "more cells than columns")
    if RUPTURED not in row.cells:
        return SetAside(row.line, "ruptured is not recorded: say yes or no")
    try:
        findings = {
            key: _answer(_fields()[key], text)
            for key, text in row.cells.items()
            if key in _fields()
        }
        happened = _answer(HAPPENED, row.cells[RUPTURED])
    except _Unread as unread:
        return SetAside(row.line, str(unread))
    age = findings.pop("age", Unknown.NOT_RECORDED)
    return EarlierCase(_as_case(findings), age, happened is True)


def _as_case(findings: Mapping[str, Answer]) -> Case:
    """Return a row as a case, so that what is derived is derived in one place; its side is none."""

    def of(section: str) -> dict[str, Any]:
        return {key: said for key, said in findings.items() if _fields()[key].section == section}

    eye = of("eye")
    status: Any = eye.pop("lens_status", "phakic")
    measured = Biometry(**of("biometry"))
    done = Eye(side="right", lens_status=status, answers=eye, biometry=(measured,))
    return Case("right", Patient("", answers=of("patient")), Aim(0.0), done, Eye(side="left"))


class _Unread(Exception):
    """A cell that its column cannot take."""


def _answer(asked: Field, text: str) -> Answer:
    raw: object = text
    if asked.type == "yes_no":
        raw = SAID.get(text.lower(), text)
    elif asked.type == "choices":
        raw = [one.strip() for one in text.split(";")]
    try:
        return read(asked, raw)
    except Refused as refused:
        limit = "must be yes or no" if asked.type == "yes_no" else refused.limit
        raise _Unread(f"{asked.label} {text[:40]}: {limit}") from None
