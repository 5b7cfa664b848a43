"""Risk of one eye: the printed cases by findings, what is not known, what is waited for."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings

from assessment.risk_eyes import PLAIN, eyes, lookup_of
from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.of_a_model import risk_of
from zonule.assessment.risk.outcomes import Outcome, outcomes_of
from zonule.assessment.risk.own import surgeons_in_general
from zonule.assessment.risk.points import points_of
from zonule.assessment.risk.rupture import headline_risk, mixed_line, rupture_risk
from zonule.findings.answers import Answer, Unknown
from zonule.library.reading import table
from zonule.library.risk_models import model, models, read_model, scores
from zonule.practice.risk import RiskChoices

IN_GENERAL = surgeons_in_general(RiskChoices())
MAN_OF_84 = PLAIN | {
    "age": 84,
    "sex": "male",
    "brunescent_or_white": True,
    "pupil_class": "small",
}
CASES: list[tuple[dict[str, Answer], str, float]] = [
    (PLAIN, "uk_2016_2022", 0.383),
    (PLAIN | {"age": 72}, "uk_2016_2022", 0.543),
    (PLAIN | {"age": 72}, "uk_2023_2024", 0.370),
    (MAN_OF_84, "uk_2016_2022", 3.26),
    (MAN_OF_84 | {"pxf": True}, "uk_2016_2022", 8.96),
    (MAN_OF_84 | {"pxf": True}, "uk_2023_2024", 6.27),
    (MAN_OF_84 | {"phacodonesis": "marked"}, "uk_2016_2022", 8.96),
]
"""Worked-out risks of the 2009 table at later rates, in a hundred."""


@pytest.mark.parametrize(("findings", "years", "percent"), CASES)
def test_a_worked_case_comes_out_of_the_findings(
    findings: dict[str, Answer], years: str, percent: float
) -> None:
    found = headline_risk(lookup_of(findings), rebased_to=years)
    assert found.waits_for == ()
    assert found.value is not None
    assert found.value == found.low == found.high
    assert 100.0 * found.value == pytest.approx(percent, abs=0.005)


def test_the_line_of_two_fits_mixed_is_the_one_worked_out() -> None:
    found = mixed_line(lookup_of(MAN_OF_84 | {"pxf": True}), rebased_to="uk_2016_2022")
    assert found is not None
    assert 100.0 * found == pytest.approx(8.62, abs=0.005)
    assert mixed_line(lookup_of(PLAIN)) is None
    assert mixed_line(lookup_of(PLAIN | {"pxf": Unknown.NOT_RECORDED})) is None


def test_an_eye_of_which_nothing_is_known_is_not_the_reference_eye() -> None:
    found = headline_risk(lookup_of({}))
    reference = headline_risk(lookup_of(PLAIN)).value
    assert found.value is not None
    assert reference is not None
    assert found.low is not None
    assert found.high is not None
    assert found.low == pytest.approx(reference)
    assert found.low < found.value < found.high
    assert found.value > 1.2 * reference
    assert {"age", "sex", "pxf", "brunescent_or_white"} <= set(found.waits_for)


def test_with_nothing_known_the_mean_is_near_the_rate_it_was_brought_to() -> None:
    found = headline_risk(lookup_of({}), rebased_to="uk_2016_2022")
    assert found.value == pytest.approx(0.0101, rel=0.25)


@settings(max_examples=150)
@given(eyes())
def test_the_range_holds_every_completion(
    drawn: tuple[dict[str, Answer], dict[str, Answer]],
) -> None:
    whole, partly = drawn
    for key in ("rupture_uk_2009", "macular_oedema_2016", "endophthalmitis"):
        complete, open_ = (risk_of(model(key), lookup_of(one)) for one in (whole, partly))
        if complete.value is None or open_.value is None:
            assert complete.waits_for_rows or open_.waits_for_rows
            continue
        assert open_.low is not None
        assert open_.high is not None
        assert open_.low - 1e-12 <= complete.value <= open_.high + 1e-12
        assert open_.low - 1e-12 <= open_.value <= open_.high + 1e-12


@settings(max_examples=100)
@given(eyes())
def test_the_range_of_every_outcome_holds_every_completion(
    drawn: tuple[dict[str, Answer], dict[str, Answer]],
) -> None:
    whole, partly = drawn
    of_whole, of_partly = (_outcomes(one) for one in (whole, partly))
    for key, complete in of_whole.items():
        open_ = of_partly[key]
        if complete.here is None or open_.here is None:
            continue
        assert open_.here.low - 1e-12 <= complete.here.value <= open_.here.high + 1e-12


@settings(max_examples=150)
@given(eyes())
def test_the_points_hold_every_completion(
    drawn: tuple[dict[str, Answer], dict[str, Answer]],
) -> None:
    whole, partly = drawn
    for one in scores().values():
        complete, open_ = (points_of(one.items, lookup_of(told)) for told in (whole, partly))
        assert set(complete.weights) <= set(open_.weights)
        assert sum(open_.weights.values()) == pytest.approx(1.0)


def _outcomes(findings: dict[str, Answer]) -> dict[str, Outcome]:
    found = rupture_risk(lookup_of(findings), IN_GENERAL)
    chance = Chance(found.value, found.low, found.high)
    told = outcomes_of(lookup_of(findings), chance, national_rate=0.010123)
    return {one.id: one for one in told}


def test_a_model_with_a_missing_row_waits_and_names_it() -> None:
    found = risk_of(model("rupture_uk_2024"), lookup_of(PLAIN | {"glaucoma": True}))
    assert found.value is None
    assert "baseline" in found.waits_for_rows
    assert "Glaucoma: yes" in found.waits_for_rows


def test_typing_the_rows_in_makes_a_model_speak() -> None:
    row = next(one for one in table("risk/rupture")["model"] if one["id"] == "rupture_uk_2024")
    whole = read_model(_typed_in(row))
    rest: dict[str, Answer] = {"amblyopia": False, "intravitreal_injections": 0}
    found = risk_of(whole, lookup_of(PLAIN | rest | {"glaucoma": True}))
    plain = risk_of(whole, lookup_of(PLAIN | rest))
    assert found.value is not None
    assert plain.value is not None
    assert found.value / (1.0 - found.value) == pytest.approx(
        1.25 * plain.value / (1.0 - plain.value)
    )


def _typed_in(row: dict[str, Any]) -> dict[str, Any]:
    """Return a table with invented figures where rows are missing."""
    base = {**row["baseline"], "value": 0.005, "status": "assumption"}
    factors = []
    for factor in row["factor"]:
        if factor.get("reference_missing"):
            continue
        levels = [
            {**level, "ratio": 1.25, "status": "assumption"} if "ratio" not in level else level
            for level in factor["level"]
        ]
        factors.append({**factor, "level": levels})
    return {**row, "baseline": base, "factor": factors}


def test_no_model_with_a_missing_row_ever_gives_a_figure() -> None:
    waiting = [one for one in models().values() if one.baseline.value is None]
    assert len(waiting) >= 5
    for one in waiting:
        assert risk_of(one, lookup_of(PLAIN)).value is None, one.id


def test_no_group_is_ever_shown_better_than_the_reference_grade() -> None:
    found = rupture_risk(lookup_of(MAN_OF_84), IN_GENERAL)
    assert found.of_model.value is not None
    assert {one.level.level for one in found.comparisons} >= {"staff_grade", "fellow"}
    for one in found.comparisons:
        assert one.value >= found.of_model.value - 1e-15
        assert one.held_at_reference == (one.level.ratio is not None and one.level.ratio < 1.0)


def test_an_uncounted_surgeon_may_lie_anywhere_that_surgeons_lie() -> None:
    found = rupture_risk(lookup_of(MAN_OF_84), IN_GENERAL)
    assert found.value == found.of_model.value
    odds = [one / (1.0 - one) for one in (found.band[0], found.value, found.band[1])]
    assert odds[0] / odds[1] == pytest.approx(np.exp(-0.5 * 1.6449), rel=1e-3)
    assert odds[2] / odds[1] == pytest.approx(np.exp(0.5 * 1.6449), rel=1e-3)


# Worked-out conditional figures of the sources, in a hundred.
def test_outcomes_are_those_worked_out_from_the_printed_figures() -> None:
    found = _outcomes(PLAIN | {"age": 70})
    oedema, bleed, infection = (found[key] for key in ("oedema", "haemorrhage", "infection"))
    nucleus = found["dropped_nucleus"]
    assert oedema.without is not None
    assert oedema.after is not None
    assert 100.0 * oedema.without.value == pytest.approx(1.17, abs=0.005)
    assert 100.0 * oedema.after.value == pytest.approx(3.05, abs=0.005)
    assert bleed.without is not None
    assert bleed.after is not None
    # The source has 0.024 and 0.42; the share of ruptures it took is not stated.
    assert 100.0 * bleed.without.value == pytest.approx(0.0245, abs=0.0005)
    assert 100.0 * bleed.after.value == pytest.approx(0.43, abs=0.01)
    assert infection.after is not None
    assert 100.0 * infection.after.low == pytest.approx(0.13, abs=0.005)
    assert 100.0 * infection.after.high == pytest.approx(0.28, abs=0.005)
    assert nucleus.after is not None
    assert 100.0 * nucleus.after.value == pytest.approx(6.4, abs=0.05)


def test_detachment_starts_from_the_reference_eye_and_not_from_the_whole_series() -> None:
    found = _outcomes(PLAIN | {"age": 70})["detachment"]
    assert found.without is not None
    assert found.after is not None
    assert found.without.value < 0.0030
    assert 1.0 - (1.0 - found.without.value) ** 12.83 == pytest.approx(found.after.value)
    # 9 of 508 ruptured eyes detached in another series; the range holds that.
    assert found.after.low < 9 / 508 < found.after.high


def test_a_cornea_with_enough_cells_has_no_figure_and_says_so() -> None:
    found = _outcomes(PLAIN)["decompensation"]
    assert found.here is None
    assert found.waits_for_rows
    few = _outcomes(PLAIN | {"ecd": 800})["decompensation"]
    assert few.here is not None
    assert few.here.value == pytest.approx(9 / 61)
    open_ = _outcomes(PLAIN | {"ecd": Unknown.NOT_EXAMINED})["decompensation"]
    assert open_.waits_for == ("ecd",)


def test_lost_sight_waits_for_the_rate_that_was_not_to_be_read() -> None:
    assert _outcomes(PLAIN)["sight"].waits_for_rows == ("baseline",)


def test_a_macula_nobody_looked_at_cannot_have_two_findings_at_once() -> None:
    found = risk_of(model("macular_oedema_2016"), lookup_of(PLAIN | {"oct_macula": "not_done"}))
    assert found.high is not None
    assert found.high == pytest.approx(0.0117 * 5.60)
