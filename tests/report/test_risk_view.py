"""The page of risks: what it says, and that it says it of what was computed."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from plan.cases import NAMES, case, example, planned, practice, with_findings
from zonule.learning.own_baseline import learnt
from zonule.practice.risk import RiskChoices
from zonule.report import sentences
from zonule.report.figures.dots import dots, filled
from zonule.report.figures.parted import Part, parted
from zonule.report.risk_view.build import risk_view
from zonule.report.risk_view.records import RiskView
from zonule.report.words import of_100

HARD = "hard-second-eye"
WITH_RISKS = [name for name in NAMES if example(name).risks is not None]


@pytest.mark.parametrize("name", WITH_RISKS)
def test_the_heading_is_the_finding(name: str) -> None:
    plan = example(name)
    assert plan.risks is not None
    view = risk_view(plan)
    assert view.heading == (
        f"Posterior capsule rupture: {of_100(plan.risks.rupture.value)} eyes like this"
    )
    assert view.places is not None
    assert len(view.places.rows) == sum(one.offered for one in plan.rungs)
    assert len(view.roots) == 3
    assert len(view.outcomes) == len(plan.risks.outcomes) == 8


def test_an_eye_without_its_own_lens_says_why_it_shows_none() -> None:
    view = risk_view(example("aphakic-eye"))
    assert "start with their own lens" in view.withheld
    assert view.factors == ()


def test_as_many_dots_are_filled_as_people_are_said() -> None:
    for chance, of, solid in ((0.0769, 100, 8), (0.0035, 1000, 4), (0.0, 100, 0), (1.0, 100, 100)):
        assert of in (100, 1000)
        drawn = dots(chance, of=1000 if of == 1000 else 100, title="t", described="d")
        assert drawn.count("<circle") == of
        assert drawn.count("solid-accent") == solid == filled(chance, 1000 if of == 1000 else 100)


def test_dots_within_the_range_carry_a_heavier_rim() -> None:
    drawn = dots(0.05, of=100, title="t", described="d", reaches=0.11)
    assert drawn.count("hollow-accent") == 6


def test_the_bar_is_parted_by_share() -> None:
    drawn = parted([Part("Bag", 0.9, True), Part("Sulcus", 0.1, False)], title="t", described="d")
    widths = [float(one) for one in re.findall(r'<rect[^>]* width="([\d.]+)"', drawn)]
    assert widths[0] / widths[1] == pytest.approx(9.0, rel=1e-3)
    assert "90 of 100" in drawn


def test_unknown_findings_are_named_where_they_would_narrow_it() -> None:
    plan = planned(with_findings(case(HARD), pxf=None, phacodonesis=None))
    view = risk_view(plan)
    said = " ".join(one.text for line in view.lead for one in line)
    assert "Not known, and would narrow it" in said
    assert "pseudoexfoliation" in said
    row = next(one for one in view.factors if one.factor.startswith("Pseudoexfoliation"))
    assert row.here == "not known: no or yes"
    assert row.ratio == "× 1.00 or 2.92"


def test_what_was_not_to_be_read_says_waiting() -> None:
    view = risk_view(example(HARD))
    waiting = [one for one in view.yardsticks if one.figure.text == "waiting"]
    assert len(waiting) == 4
    assert all(one.says.startswith("for ") for one in waiting)
    sight = next(one for one in view.outcomes if one.label == "Sight lost")
    assert sight.here.text == "waiting for the rate without it"


def test_devices_are_named_as_used_without_a_figure() -> None:
    assert "Iris hooks" in risk_view(example(HARD)).used
    assert "Low-flow settings" in risk_view(example(HARD)).used
    assert risk_view(example("plain-eye")).used == ()


def test_a_cause_of_the_first_eye_that_is_not_known_here_is_asked_for() -> None:
    plan = planned(with_findings(case(HARD), pxf=None))
    view = risk_view(plan)
    assert any("is to be looked for" in line for line in view.shared)
    item = next(one for one in plan.outstanding if one.finding == "pxf")
    assert "found at the first eye" in item.changes


def _lead(view: RiskView) -> str:
    return " ".join(one.text for line in view.lead for one in line)


def test_what_is_recorded_and_in_no_factor_stands_beside_the_figure() -> None:
    assert "NOT in the figure" not in _lead(risk_view(example("plain-eye")))
    plan = planned(with_findings(case(HARD), lens_look="posterior_polar", hist_trauma=True))
    said = _lead(risk_view(plan))
    assert "NOT in the figure" in said
    assert "posterior polar cataract" in said
    assert "eye trauma" in said
    unknown = planned(with_findings(case(HARD), hist_trauma=None))
    assert "eye trauma" not in _lead(risk_view(unknown)), "not recorded is not recorded as there"


def test_a_trainee_without_own_results_sees_what_the_group_had() -> None:
    bare = replace(practice(), risk=RiskChoices(), own_baseline=None)
    trainee = planned(case(HARD), replace(bare, grade="trainee"))
    assert "as a group trainee surgeons had 11 to 22 of 100" in _lead(risk_view(trainee))
    assert "as a group" not in _lead(risk_view(planned(case(HARD), bare)))
    assert "how surgeons differ" in _lead(risk_view(trainee))


def test_a_likelihood_of_a_wide_range_never_stands_alone() -> None:
    wide = next(one for one in example("half-missing").rungs if one.place.key == "bag")
    assert "(" in sentences.likely(wide)
    sure = next(one for one in example("plain-eye").rungs if one.place.key == "bag")
    assert sentences.likely(sure) == "more than 99 of 100"


def test_counts_without_what_was_expected_say_what_they_suppose() -> None:
    choices = RiskChoices(own_cases=200, own_ruptures=12)
    plan = planned(case(HARD), replace(practice(), risk=choices, own_baseline=learnt(choices)))
    said = " ".join(one.text for line in risk_view(plan).own for one in line)
    assert "if those eyes were harder than most" in said
