"""Two sittings of one eye: one decides, and it is never silent about the other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from zonule.findings.answers import Unknown
from zonule.findings.checks.other_sittings import check
from zonule.findings.records import Aim, Biometry, Case, Eye, Patient


def case(*lengths_mm: float | Unknown) -> Case:
    sittings = tuple(
        Biometry(method="ultrasound_contact" if place else "optical_swept_source")
        for place, _ in enumerate(lengths_mm)
    )
    sittings = tuple(
        replace(one, axial_length_mm=length)
        for one, length in zip(sittings, lengths_mm, strict=True)
    )
    left = Eye(side="left", lens_status="phakic", biometry=sittings)
    return Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), left)


@pytest.mark.parametrize("lengths_mm", [(), (23.5,), (23.5, Unknown.NOT_RECORDED)])
def test_one_length_alone_needs_no_word(lengths_mm: tuple[float | Unknown, ...]) -> None:
    assert list(check(case(*lengths_mm), None)) == []


@pytest.mark.parametrize(
    ("other_mm", "name", "severity"),
    [
        (23.21, "other_sittings", "info"),
        (23.2, "sittings_differ", "warn"),
        (24.1, "sittings_differ", "warn"),
    ],
)
def test_the_other_length_is_said_and_asked_about_from_0_3_mm(
    other_mm: float, name: str, severity: str
) -> None:
    (found,) = check(case(23.5, other_mm), None)
    assert (found.check, found.severity, found.stops) == (name, severity, "nothing")


def test_the_sentence() -> None:
    (found,) = check(case(23.5, 23.1), None)
    assert found.sentence() == (
        "Axial length, left eye 23.50 mm: decides, as the most exact method and then the latest, "
        "yet another sitting is 0.40 mm from it. Find out which is true, and take the other out "
        "of the file."
    )
