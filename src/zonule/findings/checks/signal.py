"""How well the length was measured: weak signal, wide repeats, an indented cornea."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import millimetres, of_sitting, threshold
from zonule.findings.density import dense
from zonule.findings.derived import deciding_biometry
from zonule.findings.records import Biometry, Case, Eye


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Judge the operative eye's deciding measurement."""
    eye = case.operative_eye
    biometry = deciding_biometry(eye)
    if biometry is None or not is_known(biometry.method):
        return
    yield from _weak_or_wide(eye, biometry)
    other = deciding_biometry(case.fellow_eye)
    if other is not None:
        yield from _indented(eye, biometry, other)


def _weak_or_wide(eye: Eye, biometry: Biometry) -> Iterator[Problem]:
    method = str(biometry.method)
    kind = "optical" if method.startswith("optical") else method
    usual = threshold("wide_repeats", f"{kind}_mm")
    spread = biometry.axial_length_sd_mm
    wide = is_known(spread) and spread > usual
    poor = kind == "optical" and biometry.quality == "poor"
    if (wide or poor) and kind == "optical" and dense(eye):
        said = (f"repeats within {millimetres(float(spread))}" if is_known(spread) else "", "poor")
        what = said[0] if wide else f"signal {said[1]}"
        yield of_sitting("weak_signal", eye, "axial_length_mm", what=what)
    elif wide and is_known(spread):
        yield of_sitting(
            "wide_repeats",
            eye,
            "axial_length_sd_mm",
            value=millimetres(spread),
            usual=millimetres(usual),
        )


def _indented(eye: Eye, biometry: Biometry, other: Biometry) -> Iterator[Problem]:
    mine, theirs = biometry.axial_length_mm, other.axial_length_mm
    by_light = is_known(other.method) and other.method.startswith("optical")
    if biometry.method != "ultrasound_contact" or not by_light:
        return
    if is_known(biometry.difference_explained) or not is_known(mine) or not is_known(theirs):
        return
    if theirs - mine >= threshold("contact_indentation", "shorter_by_mm"):
        yield of_sitting(
            "contact_indentation",
            eye,
            "axial_length_mm",
            value=millimetres(mine),
            difference=millimetres(theirs - mine),
        )
