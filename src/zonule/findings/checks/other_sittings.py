"""More than one sitting of one eye: which one decides, and how far the others stand from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import millimetres, of_sitting, threshold
from zonule.findings.derived import deciding_biometry
from zonule.findings.records import Case

_SAID, _APART = "other_sittings", "sittings_differ"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Say which sitting the power rests on; ask where another's length stands far from it."""
    eye = case.operative_eye
    deciding = deciding_biometry(eye)
    if deciding is None or not is_known(deciding.axial_length_mm):
        return
    mine = deciding.axial_length_mm
    others = [one.axial_length_mm for one in eye.biometry if one is not deciding]
    differences = [abs(length - mine) for length in others if is_known(length)]
    if not differences:
        return
    furthest = max(differences)
    yield of_sitting(
        _APART if furthest >= threshold(_APART, "from_mm") else _SAID,
        eye,
        "axial_length_mm",
        value=millimetres(mine),
        furthest=millimetres(furthest),
    )
