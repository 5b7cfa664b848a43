"""A dialysis without wobble behind a small pupil: asks how it was seen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known, number
from zonule.findings.checks.catalogue import of_eye, threshold
from zonule.findings.fields import shown
from zonule.findings.records import Case

_NAME = "dialysis_hard_to_see"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Ask for the method where the pupil hardly allowed the view."""
    for eye in (case.right, case.left):
        hours, pupil = (
            number(eye.answer(key)) for key in ("dialysis_clock_hours", "pupil_dilated_mm")
        )
        if not hours or pupil is None or pupil >= threshold(_NAME, "pupil_below_mm"):
            continue
        if eye.answer("phacodonesis") == "none" and not is_known(eye.answer("dialysis_seen_by")):
            value = f"{hours:g} clock hours"
            pupil_said = shown(pupil, "mm")
            yield of_eye(_NAME, eye, "dialysis_clock_hours", value=value, pupil=pupil_said)
