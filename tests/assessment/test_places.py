"""What a place does to a power: a move in millimetres through the optics, or its own constant."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.eyes import (
    AIM_D,
    WITH_A_LENS,
    constants,
    exact_power_d,
    eye_of,
    lens_of,
    optics_of,
    predicted,
    uses_of,
)
from published.printed import agrees, with_use
from zonule.assessment.eye_optics import EyeOptics
from zonule.findings.records import Eye
from zonule.formulas.optics import thin_lens
from zonule.formulas.optics.thin_lens import ThinEye
from zonule.formulas.power import srkt
from zonule.formulas.uncertainty import law
from zonule.library.placements import place, rule_of_thumb_d

CORNEAS = st.floats(min_value=40.0, max_value=47.0)
SHORT = {"axial_length_mm": 20.5, "corneal_power_d": 45.0, "chamber_depth_mm": 2.6}


def eye_with_bag_power(power_d: float, corneal_power_d: float) -> Eye:
    """Return the eye of that cornea whose bag power is the one wanted."""

    def gap(length_mm: float) -> float:
        eye = eye_of(axial_length_mm=length_mm, corneal_power_d=corneal_power_d)
        return exact_power_d("bag", eye) - power_d

    short, long = 21.0, 27.0
    for _ in range(14):
        middle = (short + long) / 2.0
        short, long = (middle, long) if gap(middle) > 0.0 else (short, middle)
    return eye_of(axial_length_mm=short, corneal_power_d=corneal_power_d)


def taken_off_d(eye: Eye, at: str = "sulcus_three_piece") -> float:
    return exact_power_d("bag", eye) - exact_power_d(at, eye)


@settings(max_examples=40)
@given(bag_power_d=st.floats(min_value=20.0, max_value=22.0), corneal_power_d=CORNEAS)
def test_a_loose_sulcus_lens_is_about_a_dioptre_and_a_half_weaker(
    bag_power_d: float, corneal_power_d: float
) -> None:
    eye = eye_with_bag_power(bag_power_d, corneal_power_d)
    assert 1.2 < taken_off_d(eye) < 1.8


@settings(max_examples=40)
@given(
    corneal_power_d=CORNEAS,
    length_mm=st.floats(min_value=21.0, max_value=27.0),
    longer_by_mm=st.floats(min_value=0.25, max_value=4.0),
)
def test_less_is_taken_off_in_the_longer_eye(
    corneal_power_d: float, length_mm: float, longer_by_mm: float
) -> None:
    shorter = eye_of(axial_length_mm=length_mm, corneal_power_d=corneal_power_d)
    longer = eye_of(axial_length_mm=length_mm + longer_by_mm, corneal_power_d=corneal_power_d)
    assert taken_off_d(longer) < taken_off_d(shorter)


def test_a_move_is_never_a_fixed_number_of_dioptres() -> None:
    taken = [
        taken_off_d(eye_of(axial_length_mm=length)) for length in (21.5, 23.5, 25.5, 27.5, 29.5)
    ]
    assert taken[0] > 2.0
    assert 0.0 < taken[3] < 1.0
    assert taken == sorted(taken, reverse=True)


@pytest.mark.parametrize(
    "entry",
    [entry for entry in with_use("positions", "test") if entry.quantity == "sulcus_power_d"],
    ids=lambda entry: entry.id,
)
def test_the_machinery_of_a_place_gives_the_printed_sulcus_powers(entry: object) -> None:
    """The printed pairs are of one eye with lens positions 5.20 and 4.70 mm: a move of −0.5 mm."""
    assert hasattr(entry, "inputs")
    given_ = entry.inputs
    cornea, deep = given_["corneal_power_d"], given_["bag_position_mm"]
    arriving = 1000.0 / (1000.0 / cornea - deep / thin_lens.INDEX)
    length = deep + 1000.0 * thin_lens.INDEX / (given_["bag_power_d"] + arriving)
    eye = ThinEye(*(np.array([value]) for value in (cornea, length, deep)))
    optics = EyeOptics(
        uses=(),
        thin=eye,
        per_length_mm=eye,
        per_cornea_d=eye,
        per_chamber_mm=eye,
        move_mm=given_["sulcus_position_mm"] - deep,
        move_low_mm=0.0,
        move_high_mm=0.0,
    )
    assert optics.move_mm == pytest.approx(-0.5)
    assert optics.power_for(0.0, move_mm=0.0) == pytest.approx(given_["bag_power_d"], abs=1e-6)
    assert agrees(optics.power_for(0.0), entry)  # type: ignore[arg-type]


@pytest.mark.parametrize("bag_power_d", [10.0, 14.0, 18.0, 21.0, 24.0, 28.0, 29.0])
def test_the_theatre_table_is_half_a_millimetre(bag_power_d: float) -> None:
    """Within the quarter to which it is rounded, and a little for the eye it was made for."""
    eye, at = eye_with_bag_power(bag_power_d, 43.5), place("sulcus_three_piece")
    half = replace(at, move_mm=-0.5)
    taken = exact_power_d("bag", eye) - optics_of(half, eye, lens_of()).power_for(AIM_D)
    assert taken == pytest.approx(rule_of_thumb_d(bag_power_d), abs=0.32)
    assert taken < taken_off_d(eye)


@pytest.mark.parametrize(
    ("place_key", "method", "a_constant"),
    [
        ("iris_claw:behind", "optical_swept_source", 117.0),
        ("iris_claw:behind", "ultrasound_immersion", 117.0),
        ("iris_claw:behind", "ultrasound_contact", 117.0),
        ("iris_claw:in_front", "optical_swept_source", 115.7),
        ("iris_claw:in_front", "ultrasound_immersion", 115.0),
        ("iris_claw:in_front", "ultrasound_contact", 115.0),
        ("anterior_chamber", "optical_swept_source", 115.4),
        ("anterior_chamber", "ultrasound_immersion", 115.4),
        ("anterior_chamber", "ultrasound_contact", 115.4),
    ],
)
def test_places_with_a_constant_of_their_own(
    place_key: str, method: str, a_constant: float
) -> None:
    eye = eye_of(method=method)
    longer_mm = 0.2 if method == "ultrasound_contact" else 0.0
    by_hand = srkt.lens_power(
        axial_length_mm=23.5 + longer_mm,
        corneal_power_d=43.5,
        a_constant=a_constant,
        target_refraction_d=AIM_D,
    )
    optics = optics_of(place_key, eye)
    assert [use.name for use in optics.uses] == ["srkt"]
    assert [use.length_shift_mm for use in optics.uses] == [longer_mm]
    assert optics.power_for(AIM_D) == pytest.approx(float(by_hand), abs=1e-6)


def test_a_chamber_lens_goes_by_its_own_constant_when_it_has_one() -> None:
    own = constants({"srkt": {"a_constant": 115.0}})
    lens = lens_of("angle_supported", constants=own)
    weaker = exact_power_d("anterior_chamber", eye_of(), lens)
    assert weaker < exact_power_d("anterior_chamber", eye_of())


@pytest.mark.parametrize("key", ["iris_claw:behind", "iris_claw:in_front", "anterior_chamber"])
def test_the_published_constants_know_light_and_immersion_only(key: str) -> None:
    known = place(key).a_constant
    assert known is not None
    assert set(known) == {"optical", "ultrasound_immersion"}
    said = uses_of(key, eye_of(method="ultrasound_contact"))
    assert [use.says for use in said] == [
        "published constant, ultrasound immersion lengths; this ultrasound contact length is "
        "taken +0.20 mm longer, once"
    ]


@pytest.mark.parametrize("side", ["behind", "in_front", ""])
def test_a_claw_lens_goes_by_its_own_constant_on_the_side_it_was_made_for(side: str) -> None:
    """One number on the box cannot hold in front of the iris and behind it."""
    own = constants({"srkt": {"a_constant": 116.2}}, origin="own")
    lens = lens_of("iris_claw", constants=own, constants_for=side)
    published = {"behind": 117.0, "in_front": 115.7}
    for there, of_the_place in published.items():
        (use,) = uses_of(f"iris_claw:{there}", eye_of(), lens)
        assert use.values["a_constant"] == (116.2 if there == side else of_the_place)
        assert use.says == (
            "your own constant, optical lengths"
            if there == side
            else "published constant, optical lengths"
        )


@pytest.mark.parametrize("place_key", WITH_A_LENS)
@pytest.mark.parametrize("length_mm", [20.5, 23.5, 27.5])
def test_the_bounds_lie_on_both_sides_of_the_middle(place_key: str, length_mm: float) -> None:
    found = predicted(place_key, eye_of(axial_length_mm=length_mm))
    middle = found.by_formula_d.mean()
    assert found.low_move_d[0] <= middle + 1e-9
    assert found.high_move_d[0] >= middle - 1e-9


@pytest.mark.parametrize("a_constant", [114.0, 115.4, 117.2])
def test_a_constant_outside_the_published_range_is_an_end_of_it(a_constant: float) -> None:
    own = constants({"srkt": {"a_constant": a_constant}})
    found = predicted("anterior_chamber", eye_of(), lens=lens_of("angle_supported", constants=own))
    assert found.low_move_d[0] <= AIM_D + 1e-9
    assert found.high_move_d[0] >= AIM_D - 1e-9
    assert found.high_move_d[0] - found.low_move_d[0] > 0.5


@pytest.mark.parametrize("place_key", WITH_A_LENS)
@pytest.mark.parametrize("numbers", [{}, SHORT], ids=["average", "short"])
def test_the_law_is_centred_on_the_mean_of_the_formulas(
    place_key: str, numbers: dict[str, Any]
) -> None:
    found = predicted(place_key, eye_of(**numbers))
    assert float(law.median(found.law)[0]) == pytest.approx(AIM_D, abs=0.01)
    assert found.by_formula_d.mean() == pytest.approx(AIM_D, abs=1e-6)


@pytest.mark.parametrize("place_key", [key for key in WITH_A_LENS if not key.startswith("bag:r")])
def test_more_scatter_of_the_lens_makes_a_wider_band(place_key: str) -> None:
    at, widths = place(place_key), []
    for factor in (0.5, 1.0, 1.5, 2.0):
        wider = replace(at, position_sd_mm=at.position_sd_mm * factor)
        low, high = law.band(predicted(wider, eye_of()).law, level=0.9)
        widths.append(float(high[0] - low[0]))
    assert all(more > less + 0.01 for less, more in pairwise(widths))


@pytest.mark.parametrize("numbers", [{}, SHORT], ids=["average", "short"])
def test_no_place_is_surer_than_the_bag(numbers: dict[str, Any]) -> None:
    """Within half a dioptre of the aim; in long eyes the tail of the bag turns this round."""

    def share(place_key: str) -> float:
        found = predicted(place_key, eye_of(**numbers))
        return float(law.within(found.law, centre_d=AIM_D, half_width_d=0.5)[0])

    for place_key in WITH_A_LENS:
        assert share(place_key) <= share("bag") + 1e-9, place_key
