"""Pupils that cannot be: smaller when dilated, or excellent beside pseudoexfoliation."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import number
from zonule.findings.checks.catalogue import of_eye, threshold
from zonule.findings.fields import shown
from zonule.findings.records import Case


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Compare the pupils of each eye with each other and with pseudoexfoliation."""
    for eye in (case.right, case.left):
        wide, narrow = (number(eye.answer(f"pupil_{how}_mm")) for how in ("dilated", "undilated"))
        if wide is None:
            continue
        if narrow is not None and wide < narrow:
            yield of_eye(
                "pupil_smaller_when_dilated",
                eye,
                "pupil_dilated_mm",
                value=shown(wide, "mm"),
                undilated=shown(narrow, "mm"),
            )
        if eye.answer("pxf") is True and wide >= threshold("good_pupil_with_pxf", "from_mm"):
            yield of_eye("good_pupil_with_pxf", eye, "pupil_dilated_mm", value=shown(wide, "mm"))
