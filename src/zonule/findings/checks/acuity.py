"""Sight that this cataract does not explain, or that is too good for its grade."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import number
from zonule.findings.checks.catalogue import of_eye, threshold
from zonule.findings.records import Case, Eye

_POOR, _GOOD = "sight_not_explained", "sight_too_good"
_MACULA_SPEAKS = ("erm", "amd", "dmo", "cmo", "hole", "vein_occlusion", "other")


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Compare acuity and grades of each phakic eye."""
    for eye in (case.right, case.left):
        acuity = number(eye.answer("va_logmar"))
        if acuity is None:
            continue
        if acuity > threshold(_POOR, "acuity_worse_than") and _slight_cataract(eye):
            yield of_eye(_POOR, eye, "va_logmar", value=f"{acuity:g} logMAR")
        nuclear = number(eye.answer("locs_no"))
        dense = nuclear is not None and nuclear >= threshold(_GOOD, "nuclear_from")
        if dense and acuity < threshold(_GOOD, "acuity_better_than"):
            value = f"{nuclear:g}"
            yield of_eye(_GOOD, eye, "locs_no", value=value, acuity=f"{acuity:g} logMAR")


def _slight_cataract(eye: Eye) -> bool:
    """Tell whether all three grades are low, the view is clear, and nothing else explains it."""
    limits = {"locs_no": "nuclear_below", "locs_c": "cortical_below", "locs_p": "subcapsular_below"}
    grades = [(number(eye.answer(key)), threshold(_POOR, limit)) for key, limit in limits.items()]
    low = all(grade is not None and grade < limit for grade, limit in grades)
    explained = eye.answer("oct_macula") in _MACULA_SPEAKS or eye.answer("amblyopia") is True
    return low and eye.answer("fundus_view") == "clear" and not explained
