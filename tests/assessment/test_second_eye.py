"""What a rupture in the first eye means for the second: a fact, a question, shared causes."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Any

import pytest

from plan.cases import case, example, planned, told, with_eye
from zonule.assessment.risk.second_eye import SecondEye, second_eye
from zonule.findings.answers import Unknown
from zonule.findings.records import Case, Operation

RISK = 0.06


def after(whole: Case, **operation: Any) -> SecondEye:
    fellow = whole.fellow_eye
    assert fellow.operation is not None
    answers = dict(fellow.operation.answers)
    known = Operation.__dataclass_fields__
    fields = {key: value for key, value in operation.items() if key in known}
    answers |= {key: value for key, value in operation.items() if key not in known}
    changed = replace(fellow.operation, **fields, answers=MappingProxyType(answers))
    found = second_eye(with_eye(whole, replace(fellow, operation=changed)), RISK)
    assert found is not None
    return found


def test_a_rupture_by_technique_or_chance_carries_nothing_over() -> None:
    for cause in ("technique", "chance"):
        found = after(case("hard-second-eye"), rupture_cause=cause)
        assert [(one.spread, one.value) for one in found.what_if] == [(0.0, RISK)]


# The table worked out for a marginal risk of 6 in a hundred: 7.41, 9.84, 15.05.
def test_the_what_if_shows_the_middle_spread_first_with_the_two_beside_it() -> None:
    found = after(case("hard-second-eye"), rupture_cause="shared")
    shown = {one.spread: 100.0 * one.value for one in found.what_if}
    assert list(shown) == [0.8, 0.5, 1.2]
    assert shown[0.5] == pytest.approx(7.41, abs=0.005)
    assert shown[0.8] == pytest.approx(9.84, abs=0.005)
    assert shown[1.2] == pytest.approx(15.05, abs=0.005)


def test_a_first_eye_whose_capsule_held_has_no_what_if() -> None:
    held = after(case("hard-second-eye"), posterior_capsule="intact")
    assert held.ruptured is False
    assert held.what_if == ()


def test_a_first_eye_nobody_knows_of_is_not_read_as_held() -> None:
    found = after(case("hard-second-eye"), posterior_capsule=Unknown.UNKNOWN)
    assert found.ruptured is None
    assert found.what_if == ()


def test_the_risk_that_is_shown_is_not_multiplied() -> None:
    plan = example("hard-second-eye")
    assert plan.risks is not None
    assert plan.risks.second_eye is not None
    alone = replace(plan.case.fellow_eye, operation=None, lens_status="phakic")
    first = planned(with_eye(plan.case, alone)).risks
    assert first is not None
    assert first.second_eye is None
    assert first.rupture.value == plan.risks.rupture.value


def test_a_cause_found_at_the_first_eye_becomes_a_question_of_the_second() -> None:
    whole = case("hard-second-eye")
    whole = with_eye(whole, told(whole.operative_eye, pxf=None, phacodonesis=None))
    whole = with_eye(whole, told(whole.operative_eye, dialysis_clock_hours=None))
    found = after(whole, zonular_event=True)
    told_of = {one.id: one.found for one in found.shared}
    assert told_of["pseudoexfoliation"] == "look"
    assert told_of["weak_zonule"] == "look"
    assert {one.finding for one in found.to_look_for} >= {"pxf", "phacodonesis"}
    looked = with_eye(whole, told(whole.operative_eye, pxf=False))
    assert {one.id: one.found for one in after(looked).shared}["pseudoexfoliation"] == "absent_here"
