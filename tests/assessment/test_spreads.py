"""What widens a band: unusual disagreement, the label, the length and a dense lens."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from assessment.eyes import (
    AIM_D,
    SOUND,
    constants,
    exact_power_d,
    eye_of,
    lens_of,
    measured_of,
    optics_of,
    predicted,
    use_of,
)
from zonule.assessment.label import label_sd_d
from zonule.assessment.prediction import typical_disagreement_d
from zonule.findings.answers import Unknown
from zonule.library.reading import table

IMMERSION, CONTACT = "ultrasound_immersion", "ultrasound_contact"


def apart(by_d: float) -> Any:
    """Return the prediction of an average eye whose lens has one formula set apart."""
    shifted = constants() | constants({"holladay1": {"surgeon_factor": 1.9688 + by_d}})
    return predicted("bag", eye_of(), lens=lens_of(constants=shifted), powers_d=[22.0])


@pytest.mark.parametrize("by_mm", [0.0, 0.05, 0.1, 0.2, 0.4, 0.8, -0.4])
def test_disagreement_widens_only_by_what_is_beyond_the_ordinary(by_mm: float) -> None:
    found = apart(by_mm)
    _, ordinary = typical_disagreement_d(23.5)
    spread = np.std(found.by_formula_d[0], ddof=1)
    excess = max(0.0, spread**2 - ordinary**2)
    assert found.budget.disagreement[0] == pytest.approx(excess, abs=1e-12)
    rest = found.budget.total[0] - found.budget.disagreement[0]
    assert found.law.sds_d[0, 0] ** 2 == pytest.approx(rest + excess)


def test_disagreement_of_both_kinds_was_met() -> None:
    typical, unusual = typical_disagreement_d(23.5)
    spreads = [float(apart(by).disagreement.spread_d[0]) for by in (0.05, 0.3, 0.8)]
    assert spreads[0] < typical < spreads[1] < unusual < spreads[2]
    assert [bool(apart(by).disagreement.unusual[0]) for by in (0.05, 0.3, 0.8)] == [
        False,
        False,
        True,
    ]


def test_one_formula_alone_widens_nothing() -> None:
    found = predicted("scleral:intrascleral_2_0_mm", eye_of())
    assert found.budget.disagreement[0] == 0.0


@pytest.mark.parametrize(
    ("length_mm", "typical", "centile_95"),
    [
        (20.99, "0.29", "0.57"),
        (21.01, "0.19", "0.47"),
        (22.01, "0.13", "0.32"),
        (24.51, "0.14", "0.30"),
        (26.01, "0.20", "0.26"),
        (28.01, "0.25", "0.29"),
        (36.0, "0.25", "0.29"),
    ],
)
def test_what_is_ordinary_goes_by_the_length(
    length_mm: float, typical: str, centile_95: str
) -> None:
    assert typical_disagreement_d(length_mm) == (float(typical), float(centile_95))


@pytest.mark.parametrize(
    ("power_d", "sd_d"),
    [
        (0.0, "0.12"),
        (15.0, "0.12"),
        (15.5, "0.15"),
        (25.0, "0.15"),
        (25.5, "0.24"),
        (30.0, "0.24"),
        (30.5, "0.35"),
        (40.0, "0.35"),
        (-5.0, "0.12"),
        (-15.5, "0.15"),
    ],
)
def test_the_label_is_less_exact_in_stronger_lenses(power_d: float, sd_d: str) -> None:
    assert label_sd_d(power_d) == pytest.approx(float(sd_d))


def test_no_label_spread_is_as_wide_as_the_printed_limit() -> None:
    rows = table("prediction")["label"]
    assert [row["bound_d"] for row in rows] == [0.3, 0.4, 0.5, 1.0]
    assert all(2.0 * row["sd_d"] < 1.01 * row["bound_d"] for row in rows)


@pytest.mark.parametrize("place_key", ["bag", "sulcus_three_piece", "scleral:sutured_1_0_mm"])
def test_a_contact_length_is_lengthened_once_for_an_optical_constant(place_key: str) -> None:
    by_contact = eye_of(method=CONTACT, axial_length_mm=23.3)
    by_light = eye_of(axial_length_mm=23.5)
    assert exact_power_d(place_key, by_contact) == pytest.approx(
        exact_power_d(place_key, by_light), abs=1e-6
    )


def test_a_contact_length_with_a_contact_constant_is_left_as_it_is() -> None:
    lens = lens_of(constants=constants(length_method=CONTACT))
    eye = eye_of(method=CONTACT, axial_length_mm=23.3)
    bare = eye_of(axial_length_mm=23.3)
    assert exact_power_d("bag", eye, lens) == pytest.approx(exact_power_d("bag", bare), abs=1e-6)
    assert {use.length_shift_mm for use in optics_of("bag", eye, lens).uses} == {0.0}


@pytest.mark.parametrize("method", ["optical_swept_source", IMMERSION])
def test_a_contact_constant_is_refused_for_any_other_length(method: str) -> None:
    lens = lens_of(constants=constants(length_method=CONTACT))
    said = use_of("srkt", "bag", eye_of(method=method), lens)
    words = "optical" if method.startswith("optical") else "ultrasound immersion"
    assert said.applies is False
    assert said.says == (
        f"its constant was made with ultrasound contact lengths, this one is {words}"
    )


def test_a_converted_length_says_so() -> None:
    said = use_of("srkt", "bag", eye_of(method=CONTACT))
    assert said.says == (
        "published constant, optical lengths; this ultrasound contact length is taken "
        "+0.20 mm longer, once"
    )
    same = use_of("srkt", "bag", eye_of(method=IMMERSION))
    assert same.says == (
        "published constant, optical lengths; this ultrasound immersion length is used as it is"
    )
    assert (said.length_shift_mm, same.length_shift_mm) == (0.2, 0.0)


DENSE = {**SOUND, "lens_look": "brunescent"}
NOT_SAID = {"phacodonesis": "none"}


@pytest.mark.parametrize(
    ("method", "answers", "sd_mm"),
    [
        ("optical_swept_source", SOUND, 0.04),
        ("optical_swept_source", DENSE, 0.04),
        ("optical_swept_source", NOT_SAID, 0.04),
        (IMMERSION, SOUND, 0.06),
        (IMMERSION, DENSE, np.hypot(0.06, 0.15)),
        (IMMERSION, NOT_SAID, np.hypot(0.06, 0.15)),
        (CONTACT, SOUND, 0.15),
        (CONTACT, DENSE, np.hypot(0.15, 0.15)),
    ],
)
def test_a_dense_lens_widens_only_what_sound_measured(
    method: str, answers: dict[str, Any], sd_mm: float
) -> None:
    found = measured_of(eye_of(method=method, answers=answers))
    assert found.length_sd_mm == pytest.approx(sd_mm)


def test_an_eye_without_a_lens_has_no_dense_one() -> None:
    aphakic = replace(eye_of(method=IMMERSION, answers={}), lens_status="aphakic")
    assert measured_of(aphakic).length_sd_mm == pytest.approx(0.06)


def test_wide_repeats_of_this_eye_count_and_narrow_ones_do_not() -> None:
    usual = measured_of(eye_of())
    narrow = measured_of(eye_of(axial_length_sd_mm=0.005))
    wide = measured_of(eye_of(axial_length_sd_mm=0.08))
    assert narrow.length_sd_mm == usual.length_sd_mm
    assert wide.length_sd_mm == pytest.approx(np.hypot(0.08, 0.035))
    assert wide.length_spread_says == "optical length, ±0.09 mm from the repeats of this eye"


def test_a_contact_length_makes_the_wider_band() -> None:
    light = predicted("bag", eye_of()).budget.total_sd_d[0]
    immersion = predicted("bag", eye_of(method=IMMERSION)).budget.total_sd_d[0]
    contact = predicted("bag", eye_of(method=CONTACT)).budget.total_sd_d[0]
    assert light < immersion < contact


def test_a_depth_whose_beginning_nobody_knows_is_not_used() -> None:
    from_behind = eye_of(anterior_chamber_depth_from="endothelium", corneal_thickness_um=550.0)
    assert measured_of(from_behind).anterior_chamber_depth_mm == pytest.approx(3.65)
    unknown = eye_of(anterior_chamber_depth_from=Unknown.UNKNOWN)
    assert measured_of(unknown).anterior_chamber_depth_mm is None
    assert exact_power_d("bag", from_behind) != exact_power_d("bag", unknown)
    assert predicted("bag", unknown).law.means_d[0, 0] == pytest.approx(AIM_D, abs=1e-6)
