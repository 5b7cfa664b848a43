"""Derived findings: three-valued, from the other eye's own record."""

from __future__ import annotations

from datetime import date

import pytest

from zonule.errors import Side
from zonule.findings.answers import Unknown
from zonule.findings.derived import acd_asymmetry_mm, deciding_biometry, pupil_class
from zonule.findings.facts import finding
from zonule.findings.labels import label_of
from zonule.findings.records import Aim, Biometry, Case, Eye, Operation, Patient


def case(right: Eye, left: Eye) -> Case:
    return Case("left", Patient("demo", born=date(1946, 5, 2)), Aim(0.0), right, left)


def shallow(side: Side, depth: float, origin: str | Unknown, status: str = "phakic") -> Eye:
    sitting = Biometry(
        axial_length_mm=23.0,
        anterior_chamber_depth_mm=depth,
        anterior_chamber_depth_from=origin,
    )
    return Eye(side=side, lens_status=status, biometry=(sitting,))


@pytest.mark.parametrize(
    ("operation", "status", "answer"),
    [
        (None, "phakic", "not_operated"),
        (None, Unknown.NOT_RECORDED, Unknown.NOT_RECORDED),
        (None, "pseudophakic", "unknown"),
        (Operation(), "pseudophakic", "unknown"),
        (Operation(posterior_capsule="intact"), "pseudophakic", "no"),
        (Operation(posterior_capsule="tear_large"), "aphakic", "yes"),
    ],
)
def test_fellow_pcr(
    operation: Operation | None, status: str | Unknown, answer: str | Unknown
) -> None:
    other = Eye(side="right", lens_status=status, operation=operation)
    assert finding(case(other, Eye(side="left")), "left", "fellow_pcr") == answer


def test_an_event_not_recorded_is_not_absent() -> None:
    operated = Eye(side="right", lens_status="pseudophakic", operation=Operation())
    assert finding(case(operated, Eye(side="left")), "left", "fellow_floppy_iris") is (
        Unknown.NOT_RECORDED
    )
    whole = Eye(side="right", lens_status="phakic")
    assert finding(case(whole, Eye(side="left")), "left", "fellow_floppy_iris") is False


def test_asymmetry_needs_both_phakic_and_one_definition() -> None:
    right = shallow("right", 3.1, "epithelium")
    same = shallow("left", 2.6, Unknown.NOT_RECORDED)
    other = shallow("left", 2.6, "endothelium")
    operated = shallow("left", 2.6, "epithelium", "pseudophakic")
    assert acd_asymmetry_mm(case(right, same)) == pytest.approx(0.5)
    assert acd_asymmetry_mm(case(right, other)) is Unknown.NOT_RECORDED
    assert acd_asymmetry_mm(case(right, operated)) is Unknown.NOT_RECORDED
    asked = shallow("left", 2.6, Unknown.UNKNOWN)
    assert acd_asymmetry_mm(case(right, asked)) is Unknown.NOT_RECORDED


@pytest.mark.parametrize("status", ["phakic", "aphakic", "pseudophakic", Unknown.UNKNOWN])
@pytest.mark.parametrize(
    ("origin", "thickness_um", "depth"),
    [
        ("epithelium", Unknown.NOT_RECORDED, 2.6),
        (Unknown.NOT_RECORDED, Unknown.NOT_RECORDED, 2.6),
        ("endothelium", 550.0, 3.15),
        ("endothelium", Unknown.NOT_RECORDED, Unknown.NOT_RECORDED),
        (Unknown.UNKNOWN, 550.0, Unknown.UNKNOWN),
    ],
)
def test_the_chamber_in_front_is_measured_from_the_front_of_the_cornea(
    origin: str | Unknown,
    thickness_um: float | Unknown,
    depth: float | Unknown,
    status: str | Unknown,
) -> None:
    sitting = Biometry(
        axial_length_mm=23.0,
        anterior_chamber_depth_mm=2.6,
        anterior_chamber_depth_from=origin,
        corneal_thickness_um=thickness_um,
    )
    eye = Eye(side="left", lens_status=status, biometry=(sitting,))
    found = finding(case(Eye(side="right"), eye), "left", "depth_in_front_mm")
    if isinstance(depth, Unknown):
        assert isinstance(found, Unknown)
    else:
        assert found == pytest.approx(depth)


def test_the_chamber_of_an_eye_nobody_measured_is_not_known() -> None:
    both = case(Eye(side="right"), Eye(side="left"))
    assert finding(both, "left", "depth_in_front_mm") is Unknown.NOT_RECORDED
    assert label_of("depth_in_front_mm") == "Anterior chamber depth"


@pytest.mark.parametrize(
    ("width", "word"),
    [(6.0, "large"), (5.9, "medium"), (4.0, "medium"), (3.9, "small")],
)
def test_pupil_classes(width: float, word: str) -> None:
    assert pupil_class(Eye(side="left", answers={"pupil_dilated_mm": width})) == word


def test_pupil_class_unknown() -> None:
    asked = Eye(side="left", answers={"pupil_dilated_mm": Unknown.NOT_POSSIBLE})
    assert pupil_class(asked) is Unknown.NOT_POSSIBLE


def test_the_most_exact_then_the_latest_sitting_decides() -> None:
    contact = Biometry(
        method="ultrasound_contact", measured_on=date(2026, 11, 1), axial_length_mm=23.0
    )
    old = Biometry(
        method="optical_swept_source", measured_on=date(2026, 1, 1), axial_length_mm=23.2
    )
    new = Biometry(
        method="optical_swept_source", measured_on=date(2026, 6, 1), axial_length_mm=23.3
    )
    blind = Biometry(method="optical_swept_source", axial_length_mm=Unknown.NOT_POSSIBLE)
    assert deciding_biometry(Eye(side="left", biometry=(blind, contact, old, new))) is new
    assert deciding_biometry(Eye(side="left", biometry=(blind, contact))) is contact


def test_measurements_and_age_by_the_names_of_rules() -> None:
    sitting = Biometry(
        axial_length_mm=23.0, k_flat_d=43.0, k_steep_d=44.0, corneal_thickness_um=540.0
    )
    both = case(Eye(side="right"), Eye(side="left", lens_status="phakic", biometry=(sitting,)))
    assert finding(both, "left", "k_mean_d") == 43.5
    assert finding(both, "left", "cct_um") == 540.0
    assert finding(both, "left", "acd_mm") is Unknown.NOT_RECORDED
    assert finding(both, "left", "age", on=date(2026, 5, 2)) == 80
    assert finding(both, "left", "age") is Unknown.NOT_RECORDED
    assert finding(both, "right", "k_mean_d") is Unknown.NOT_RECORDED
