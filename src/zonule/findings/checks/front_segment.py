"""Chamber depth and lens thickness against what an eye of this length can hold."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import millimetres, of_sitting, threshold
from zonule.findings.derived import age_at, chamber_depth_mm, deciding_biometry
from zonule.findings.records import Case

_DEPTH = "chamber_depth_unusual"
_FIT = "segments_do_not_fit"


def check(case: Case, on: date | None) -> Iterator[Problem]:
    """Judge the operative eye while it is phakic; an odd depth is told once."""
    eye = case.operative_eye
    depth = chamber_depth_mm(eye)
    biometry = deciding_biometry(eye)
    if not is_known(depth) or biometry is None:
        return
    if _unusual(case, depth, on):
        yield of_sitting(_DEPTH, eye, "anterior_chamber_depth_mm", value=millimetres(depth))
        return
    thickness, length = biometry.lens_thickness_mm, biometry.axial_length_mm
    if is_known(thickness) and is_known(length) and not _fits(depth + thickness, length):
        yield of_sitting(
            _FIT,
            eye,
            "anterior_chamber_depth_mm",
            value=f"with lens thickness {millimetres(depth + thickness)}",
            length=millimetres(length),
        )


def _unusual(case: Case, depth: float, on: date | None) -> bool:
    if depth < threshold(_DEPTH, "below_mm"):
        return True
    if on is None or depth <= threshold(_DEPTH, "above_mm"):
        return False
    age = age_at(case.patient, on)
    return is_known(age) and age > threshold(_DEPTH, "over_age")


def _fits(front_mm: float, length_mm: float) -> bool:
    low = min(threshold(_FIT, "low_share") * length_mm, threshold(_FIT, "low_share_at_most_mm"))
    return low <= front_mm <= threshold(_FIT, "high_share") * length_mm
