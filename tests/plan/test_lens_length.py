"""Whether a lens is long enough for the eye's width: in the chamber, and loose in the sulcus."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import (
    THREE_PIECE,
    case,
    lens_named,
    planned,
    rung,
    with_biometry,
    with_lenses,
)
from zonule.findings.answers import Unknown
from zonule.plan.records import Plan, Rung

PLAIN = case("plain-eye")


def wide(width_mm: float | Unknown) -> Plan:
    return planned(with_biometry(PLAIN, white_to_white_mm=width_mm))


@pytest.mark.parametrize(
    ("width_mm", "reason"),
    [
        (11.4, "needs a lens of 12.4 mm (white-to-white + 1.0), the store has 13.0"),
        (11.5, ""),
        (12.0, ""),
        (12.5, ""),
        (12.6, "needs a lens of 13.6 mm (white-to-white + 1.0), the store has 13.0"),
    ],
)
def test_a_chamber_lens_fits_the_width_of_the_eye_or_is_refused(
    width_mm: float, reason: str
) -> None:
    found = rung(wide(width_mm), "anterior_chamber")
    assert (found.refused_because, found.waits_for) == (reason, "")
    assert found.offered is (found.chosen is not None) is (reason == "")


@pytest.mark.parametrize("unknown", list(Unknown))
def test_a_chamber_lens_waits_for_the_width(unknown: Unknown) -> None:
    found = rung(wide(unknown), "anterior_chamber")
    assert (found.refused_because, found.offered, found.chosen) == ("", False, None)
    assert found.waits_for == "white-to-white, for the length of the lens"


@pytest.mark.parametrize("width_mm", [11.0, 13.0, Unknown.NOT_RECORDED])
def test_no_other_place_asks_for_the_length(width_mm: float | Unknown) -> None:
    plan = wide(width_mm)
    for key in ("bag", "sulcus_three_piece", "iris_claw:behind", "scleral:intrascleral_2_0_mm"):
        assert rung(plan, key).offered, key


def loose(
    *, width_mm: float | Unknown = 11.9, length_mm: float = 23.47, lens_mm: float = 13.0
) -> Rung:
    lens = replace(lens_named(THREE_PIECE), overall_mm=lens_mm)
    eye = with_biometry(PLAIN, white_to_white_mm=width_mm, axial_length_mm=length_mm)
    other = with_biometry(replace(eye, eye_to_do="left"), axial_length_mm=length_mm)
    refractions = {"old_refraction_spherical_equivalent_d": Unknown.NOT_RECORDED}
    both = replace(
        other,
        eye_to_do="right",
        right=replace(other.right, answers={**other.right.answers, **refractions}),
        left=replace(other.left, answers={**other.left.answers, **refractions}),
    )
    return rung(planned(both, with_lenses(lens)), "sulcus_three_piece")


def wanders(found: Rung) -> list[str]:
    assert found.chosen is not None
    return [one.says for one in found.caveats if one.name == "may_wander"]


@pytest.mark.parametrize(
    ("width_mm", "length_mm", "lens_mm", "says"),
    [
        (12.5, 26.0, 13.0, []),
        (12.6, 23.47, 13.0, ["a 13.0 mm lens may wander here: capture it, or take a longer one"]),
        (11.9, 26.1, 13.0, ["a 13.0 mm lens may wander here: capture it, or take a longer one"]),
        (12.6, 26.1, 13.5, []),
        (Unknown.NOT_RECORDED, 23.47, 13.0, []),
        (
            Unknown.NOT_RECORDED,
            26.1,
            13.0,
            ["a 13.0 mm lens may wander here: capture it, or take a longer one"],
        ),
    ],
)
def test_a_usual_lens_loose_in_a_wide_or_long_eye_may_wander(
    width_mm: float | Unknown, length_mm: float, lens_mm: float, says: list[str]
) -> None:
    assert wanders(loose(width_mm=width_mm, length_mm=length_mm, lens_mm=lens_mm)) == says


def test_captured_it_does_not_wander() -> None:
    for one in wide(12.9).rungs:
        if one.place.key != "sulcus_three_piece":
            assert "may_wander" not in {caveat.name for caveat in one.caveats}
