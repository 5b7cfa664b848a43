"""The page of risks: what it says, and that it says it of what was computed."""

from __future__ import annotations

import re

import pytest

from plan.cases import NAMES, case, example, planned, with_findings
from zonule.report.figures.dots import dots, filled
from zonule.report.figures.parted import Part, parted
from zonule.report.risk_view.build import risk_view
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
