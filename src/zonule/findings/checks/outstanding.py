"""What rules wait for and nobody has recorded, in one line."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import problem, row
from zonule.findings.fields import field
from zonule.findings.records import Case

_NAME = "outstanding"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """List what is not known of the operative eye and its patient, of what rules wait for."""
    eye = case.operative_eye
    of_eye = row(_NAME)["waits_for"]
    waiting = [
        field("eye", key).label
        for key in of_eye
        if not is_known(eye.answer(key))
        and (eye.lens_status in ("phakic",) or not field("eye", key).phakic_only)
    ]
    waiting += [
        field("patient", key).label
        for key in row(_NAME)["waits_for_of_patient"]
        if not is_known(case.patient.answer(key))
    ]
    if waiting:
        yield problem(
            _NAME,
            field=eye.side,
            label=f"{eye.side.capitalize()} eye",
            eye=eye.side,
            what=", ".join(waiting),
        )
