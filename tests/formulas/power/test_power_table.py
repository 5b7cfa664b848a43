"""The table of formulas: names, keywords, what is handed over, what is refused."""

from __future__ import annotations

import inspect
from collections.abc import Callable

import numpy as np
import pytest

from published.printed import entries
from zonule.errors import NoSuchName
from zonule.formulas.power import (
    FORMULAS,
    PowerFormula,
    arguments,
    constants,
    hofferq,
    keratometry,
    select,
    srkt,
    srkt_eye,
    thin_eye,
)
from zonule.library.reading import STATUSES, reference

EVERY_FORMULA = pytest.mark.parametrize(
    "formula", FORMULAS.values(), ids=lambda formula: formula.name
)
ALL_CONSTANTS = {
    "a_constant": 118.4,
    "surgeon_factor": 1.45,
    "pacd_mm": 5.2,
    "a0": -0.5914,
    "a1": 0.357,
    "a2": 0.197,
}
WITHOUT_A_PRINTED_CASE = {"t2": "no printed example of the whole formula was found"}


def functions_of(formula: PowerFormula) -> list[Callable[..., object]]:
    return [
        formula.thin_eye,
        formula.lens_position,
        formula.lens_power,
        formula.refraction,
        formula.position_from_outcome,
    ]


def test_the_five_formulas_as_the_trade_writes_them() -> None:
    labels = {name: formula.label for name, formula in FORMULAS.items()}
    assert labels == {
        "srkt": "SRK/T",
        "t2": "T2",
        "holladay1": "Holladay 1",
        "hofferq": "Hoffer Q",
        "haigis": "Haigis",
    }


def test_a_wrong_name_is_answered_with_the_right_ones() -> None:
    with pytest.raises(NoSuchName) as told:
        select("hoferq")
    assert str(told.value) == (
        "There is no formula 'hoferq'. Nearest: hofferq. All: srkt, t2, holladay1, hofferq, haigis."
    )


def test_a_missing_constant_is_named() -> None:
    with pytest.raises(NoSuchName) as told:
        arguments("haigis", anterior_chamber_depth_mm=3.1, constants={"a0": 1.0, "a1": 0.4})
    assert str(told.value) == (
        "There is no constant for Haigis 'a2'. Nearest: a1, a0. All: a0, a1."
    )


@EVERY_FORMULA
def test_source_and_status_are_known(formula: PowerFormula) -> None:
    assert reference(formula.reference).key == formula.reference
    assert formula.status in STATUSES
    assert formula.verified_by


@EVERY_FORMULA
def test_every_formula_has_a_printed_case_or_says_why_not(formula: PowerFormula) -> None:
    cases = [
        entry
        for entry in entries("formulas")
        if entry.formula == formula.name and entry.use == "test"
    ]
    assert bool(cases) != (formula.name in WITHOUT_A_PRINTED_CASE)
    assert (formula.status == "confirmed") == bool(cases)


@EVERY_FORMULA
def test_numbers_go_in_by_keyword_only(formula: PowerFormula) -> None:
    for function in functions_of(formula):
        parameters = inspect.signature(function).parameters.values()
        assert {one.kind for one in parameters} == {inspect.Parameter.KEYWORD_ONLY}
        with pytest.raises(TypeError, match="takes 0 positional arguments"):
            function(23.5, 44.0)


def test_the_smaller_functions_take_keywords_only() -> None:
    further: tuple[Callable[..., object], ...] = (
        *(constants.a_to_srkt_acd, constants.a_to_surgeon_factor, constants.a_to_pacd),
        *(constants.pacd_to_surgeon_factor, constants.a_to_haigis_a0),
        *(keratometry.radius_mm_from_power, keratometry.power_from_radius),
        *(keratometry.to_index_1_3375, srkt.cusp_flag, srkt.corneal_height_radicand),
        *(hofferq.chamber_depth, srkt_eye.optical_length),
    )
    for function in further:
        with pytest.raises(TypeError, match="takes 0 positional arguments"):
            function(118.4)


@EVERY_FORMULA
def test_every_formula_carries_the_public_keywords(formula: PowerFormula) -> None:
    measured = {"axial_length_mm", "corneal_power_d"}
    own = set(formula.constants)
    own |= {"anterior_chamber_depth_mm"} if formula.needs_chamber_depth else set()
    for function, asked in (
        (formula.thin_eye, set()),
        (formula.lens_power, {"target_refraction_d"}),
        (formula.refraction, {"lens_power_d"}),
    ):
        parameters = inspect.signature(function).parameters
        required = {name for name, one in parameters.items() if one.default is one.empty}
        assert required == measured | own | asked
    outcome = set(inspect.signature(formula.position_from_outcome).parameters)
    assert outcome == measured | {"lens_power_d", "refraction_d"}


@EVERY_FORMULA
def test_the_eye_by_name_is_the_eye_of_the_module(formula: PowerFormula) -> None:
    by_name = thin_eye(
        formula.name,
        axial_length_mm=23.5,
        corneal_power_d=43.5,
        anterior_chamber_depth_mm=3.1,
        constants=ALL_CONSTANTS,
    )
    further = {name: ALL_CONSTANTS[name] for name in formula.constants}
    if formula.needs_chamber_depth:
        further["anterior_chamber_depth_mm"] = 3.1
    of_module = formula.thin_eye(axial_length_mm=23.5, corneal_power_d=43.5, **further)
    np.testing.assert_array_equal(by_name, of_module)


@EVERY_FORMULA
def test_an_unknown_chamber_depth_silences_only_the_formula_that_needs_it(
    formula: PowerFormula,
) -> None:
    eye = thin_eye(
        formula.name,
        axial_length_mm=23.5,
        corneal_power_d=43.5,
        anterior_chamber_depth_mm=None,
        constants=ALL_CONSTANTS,
    )
    assert bool(np.isnan(eye.lens_position_mm)) == formula.needs_chamber_depth
