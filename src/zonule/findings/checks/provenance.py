"""Whose measurement it is, and how it came here: wrong record, typed, copied."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import millimetres, of_sitting, problem
from zonule.findings.derived import deciding_biometry
from zonule.findings.fields import label
from zonule.findings.records import Case


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Compare the record numbers, mark typed values, ask about copied ones."""
    yield from _wrong_record(case)
    eye = case.operative_eye
    biometry = deciding_biometry(eye)
    if biometry is not None and biometry.entry == "typed":
        yield of_sitting("typed_by_hand", eye, "entry")
    yield from _copied(case)


def _wrong_record(case: Case) -> Iterator[Problem]:
    """Compare every sitting: a stranger's print in either eye is this patient's problem."""
    mine = "".join(case.patient.record_number.split()).casefold()
    for eye in (case.right, case.left):
        for place, one in enumerate(eye.biometry):
            theirs = one.record_number
            if is_known(theirs) and "".join(theirs.split()).casefold() != mine:
                yield problem(
                    "wrong_record",
                    field=f"{eye.side}.biometry[{place}].record_number",
                    label=label("biometry", "record_number", eye.side),
                    value=theirs,
                    eye=eye.side,
                    patient=case.patient.record_number,
                )


def _copied(case: Case) -> Iterator[Problem]:
    eye = case.operative_eye
    mine, theirs = deciding_biometry(eye), deciding_biometry(case.fellow_eye)
    if mine is None or theirs is None:
        return
    length = is_known(mine.axial_length_mm) and mine.axial_length_mm == theirs.axial_length_mm
    cornea = is_known(mine.k_flat_d) and (mine.k_flat_d, mine.k_steep_d) == (
        theirs.k_flat_d,
        theirs.k_steep_d,
    )
    if cornea:
        what = "length and both K" if length else "both K"
        yield of_sitting("copied_values", eye, "k_flat_d", what=what)
    elif length and is_known(mine.axial_length_mm):
        value = millimetres(mine.axial_length_mm)
        yield of_sitting("same_length", eye, "axial_length_mm", value=value)
