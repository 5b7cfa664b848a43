"""What may be wrong in either eye casts doubt on both, whichever its field names."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from plan.cases import case, planned, with_biometry, with_eye
from zonule.errors import Problem, Side
from zonule.findings.checks import check_case
from zonule.findings.checks.catalogue import problem
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.build import withheld_because

SIDES: tuple[Side, Side] = ("right", "left")
ON = date(2026, 12, 8)
OF_BOTH = sorted(name for name, row in table("checks").items() if row.get("of_both_eyes"))


def test_there_are_checks_of_both_eyes_and_they_stop_the_power() -> None:
    assert {"lengths_cannot_both_be_right", "eyes_exchanged", "wrong_record"} <= set(OF_BOTH)
    assert {table("checks")[name]["stops"] for name in OF_BOTH} == {"power"}


def _problem(name: str) -> Problem:
    words = {word: word for word in _words(name)}
    return problem(name, field="left.lens_status", label="Lens", value="", eye="left", **words)


def _words(name: str) -> set[str]:
    row, found = table("checks")[name], set()
    for key in ("limit", "remedy"):
        text = row[key]
        found |= {part.partition("}")[0] for part in text.split("{")[1:]}
    return found


@pytest.mark.parametrize("name", OF_BOTH)
def test_a_check_of_both_eyes_withholds_whichever_eye_is_to_be_done(name: str) -> None:
    found = _problem(name)
    assert found.eye is None
    assert found.field == "left.lens_status"
    for side in SIDES:
        whole = replace(case("plain-eye"), eye_to_do=side)
        assert withheld_because(whole, [found]) == found.sentence()


@pytest.mark.parametrize("name", ["lens_setting_wrong", "length_impossible_for_refraction"])
def test_a_check_of_one_eye_withholds_that_eye_only(name: str) -> None:
    found = _problem(name)
    assert (found.eye, found.stops) == ("left", "power")
    other, mine = (replace(case("plain-eye"), eye_to_do=side) for side in SIDES)
    assert withheld_because(mine, [found]) == found.sentence()
    assert withheld_because(other, [found]) == ""


def _lengths_apart(side: Side) -> Case:
    """Return a plain pair of which one eye was given a length far too long."""
    whole = case("plain-eye")
    done = whole.eye_to_do
    changed = with_biometry(replace(whole, eye_to_do=side), axial_length_mm=26.5)
    return replace(changed, eye_to_do=done)


@pytest.mark.parametrize("longer", SIDES)
@pytest.mark.parametrize("to_do", SIDES)
def test_lengths_that_cannot_both_be_right_hide_the_power_of_either(
    longer: Side, to_do: Side
) -> None:
    whole = replace(_lengths_apart(longer), eye_to_do=to_do)
    (found,) = (one for one in check_case(whole, on=ON) if one.stops == "power")
    assert (found.check, found.eye) == ("lengths_cannot_both_be_right", None)
    plan = planned(whole)
    assert not plan.shows_a_power
    assert plan.power_withheld == found.sentence()


def test_lengths_that_agree_hide_nothing() -> None:
    assert planned(case("plain-eye")).power_withheld == ""


def test_a_length_not_known_is_not_held_against_the_other() -> None:
    whole = case("plain-eye")
    alone = with_eye(_lengths_apart("left"), replace(_lengths_apart("left").left, biometry=()))
    assert [one for one in check_case(alone, on=ON) if one.stops == "power"] == []
    assert planned(alone).power_withheld == planned(whole).power_withheld == ""
