"""What is outstanding before surgery: everything unknown that changes the plan, nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import (
    NAMES,
    case,
    example,
    planned,
    with_biometry,
    with_eye,
    with_findings,
    with_status,
)
from zonule.findings.answers import Unknown
from zonule.findings.facts import facts_of
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.parts import RuleReading
from zonule.plan.recorded_as import recorded_as

ROWS = table("outstanding")["row"]
ONLY_THEATRE_SHOWS = (
    "posterior_capsule",
    "vitreous_lost",
    "rhexis",
    "zonular_event",
    "floppy_iris",
    "rupture_cause",
)
WORDS = {
    Unknown.NOT_RECORDED: "not recorded",
    Unknown.NOT_EXAMINED: "not examined",
    Unknown.NOT_POSSIBLE: "not possible",
    Unknown.UNKNOWN: "asked, not known",
}
HALF = case("half-missing")


@pytest.mark.parametrize("name", NAMES)
def test_the_weightiest_comes_first(name: str) -> None:
    ranks = [item.rank for item in example(name).outstanding]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize("name", NAMES)
def test_exactly_what_is_unknown_and_asked_in_such_an_eye_is_listed(name: str) -> None:
    whole = case(name)
    lookup, status = facts_of(whole, whole.eye_to_do), whole.operative_eye.lens_status
    unknown = {
        row["finding"]
        for row in ROWS
        if isinstance(lookup(row["finding"]), Unknown) and row.get("lens_status", status) == status
    }
    items = example(name).outstanding
    waited_for = {
        finding for one in example(name).parts.waiting() for finding in _kept_as(one, whole)
    }
    risks = example(name).risks
    narrows = {recorded_as(finding, whole) for finding in risks.waits_for} if risks else set()
    assert {item.finding for item in items} == unknown | waited_for | narrows
    assert all(item.rules for item in items if item.finding not in unknown | narrows)


def _kept_as(one: RuleReading, whole: Case) -> list[str]:
    return [recorded_as(finding, whole) for finding in one.waits_for]


def test_the_half_missing_eye_lists_what_it_lacks() -> None:
    assert len(example("half-missing").outstanding) >= 10


def test_nothing_that_only_theatre_can_show_is_outstanding() -> None:
    asked = {row["finding"] for row in ROWS}
    assert asked
    assert not asked & set(ONLY_THEATRE_SHOWS)


@pytest.mark.parametrize("unknown", list(Unknown))
def test_each_way_of_not_knowing_is_said_in_its_own_words(unknown: Unknown) -> None:
    plan = planned(with_findings(case("plain-eye"), ecd=unknown))
    (item,) = [one for one in plan.outstanding if one.finding == "ecd"]
    assert item.why_unknown == WORDS[unknown]
    assert item.label == "Endothelial cell count"


def test_without_a_measurement_the_power_itself_is_outstanding() -> None:
    plan = planned(with_eye(HALF, replace(HALF.operative_eye, biometry=())))
    first = plan.outstanding[0]
    assert (first.finding, first.rank) == ("biometry", 0)
    assert first.changes == "no power can be computed without it"
    assert plan.power_withheld == "waits for biometry"


def test_a_missing_length_is_named() -> None:
    plan = planned(with_biometry(HALF, axial_length_mm=Unknown.NOT_POSSIBLE))
    assert plan.outstanding[0].finding == "axial_length_mm"
    assert plan.outstanding[0].why_unknown == "not possible"
    assert plan.power_withheld == "waits for axial length"


def test_a_phakic_question_is_not_asked_of_an_aphakic_eye() -> None:
    asked = {item.finding for item in planned(with_status(HALF, "aphakic")).outstanding}
    assert "phacodonesis" not in asked
    assert "capsule_present" in asked


def test_when_even_the_lens_status_is_unknown_everything_is_asked() -> None:
    asked = {item.finding for item in planned(with_status(HALF, Unknown.UNKNOWN)).outstanding}
    assert {"phacodonesis", "capsule_present"} <= asked
