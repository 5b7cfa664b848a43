"""Energy of a plan: from the own log alone, and silent while the log does not reach this eye."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from plan.cases import NAMES, case, example, planned, practice, with_findings, with_status
from zonule.findings.answers import Unknown
from zonule.findings.facts import facts_of
from zonule.findings.fields import field
from zonule.library.reading import table
from zonule.plan import energy as plan_energy
from zonule.plan.energy_parts import Energy
from zonule.practice.energy import EnergyCase, EnergyLog, EnergyMeasure
from zonule.report import cornea_words as said

HARD = case("hard-second-eye")
DAY = date(2026, 1, 5)


def measure(*cases: tuple[float, float], was_read: bool = True) -> EnergyMeasure:
    rows = tuple(EnergyCase(DAY, colour, energy) for colour, energy in cases)
    log = EnergyLog("own.csv", rows, was_read=was_read)
    return EnergyMeasure("weighted_seconds", "theatre 2", "torsional", "bent", log=log)


def read(given: EnergyMeasure | None, **findings: object) -> Energy:
    whole = with_findings(HARD, **findings)
    return plan_energy.energy_of(whole, given, facts_of(whole, whole.eye_to_do))


MANY = tuple((2.0 + 0.2 * at, 5.0 * 1.15**at + at % 3) for at in range(20))


def test_the_example_is_what_another_program_makes_of_its_log() -> None:
    told = example("hard-second-eye").parts.energy
    own = practice().energy
    assert own is not None
    log = own.log
    assert log is not None
    colour = np.array([one.nuclear_colour for one in log.cases])
    logs = np.log([one.energy for one in log.cases])
    line = stats.linregress(colour, logs)
    rest = logs - line.intercept - line.slope * colour
    n, at = len(colour), 5.9
    sd = np.sqrt(np.sum(rest**2) / (n - 2))
    far = (at - colour.mean()) ** 2 / np.sum((colour - colour.mean()) ** 2)
    wanted = line.intercept + line.slope * at
    wanted += stats.t.ppf(0.9, n - 2) * sd * np.sqrt(1 + 1 / n + far)
    assert told.limit == pytest.approx(float(np.exp(wanted)), rel=1e-9)
    assert told.expected is not None
    assert told.limit is not None
    assert told.expected.half[1] < told.limit < told.expected.nine_in_ten[1]
    assert "90 of 100" in said.how_limit(told)


def test_without_the_section_or_the_log_there_is_no_limit_and_it_says_which() -> None:
    assert read(None).why_none == plan_energy.NOT_IN_THE_FILE
    assert read(replace(measure(), log=None)).why_none == plan_energy.NO_LOG
    assert read(measure(*MANY, was_read=False)).why_none == plan_energy.NOT_READ
    for given_ in (None, replace(measure(), log=None)):
        assert read(given_).limit is None
        assert "no limit" in said.energy_line(read(given_))


@pytest.mark.parametrize("cases", [0, 1, 9])
def test_too_few_cases_say_how_many_are_needed(cases: int) -> None:
    told = read(measure(*MANY[-cases:] if cases else ()))
    assert told.limit is None
    assert told.expected is None
    assert told.log is not None
    assert told.log.more_cases_needed == 10 - cases
    assert told.why_none == f"{cases} own cases, and 10 are needed"


def test_cases_of_one_density_draw_no_line() -> None:
    told = read(measure(*((5.9, 20.0 + at) for at in range(12))))
    assert told.limit is None
    assert "span" in told.why_none


def test_a_lens_beyond_the_own_log_has_no_limit() -> None:
    soft = tuple((colour, energy) for colour, energy in MANY if colour < 5.3)
    assert len(soft) > 10
    told = read(measure(*soft))
    assert told.limit is None
    assert told.expected is None
    assert "the own log ends at colour 5.2" in told.why_none


@pytest.mark.parametrize("answer", [None, Unknown.NOT_POSSIBLE])
def test_an_unknown_density_waits_and_still_shows_the_own_line(answer: object) -> None:
    told = read(measure(*MANY), locs_nc=answer)
    assert told.limit is None
    assert told.waits_for == ("locs_nc",)
    assert told.log is not None
    assert told.log.line
    assert said.energy_line(told) == "no limit, waits for LOCS III nuclear colour"


def test_opalescence_does_not_stand_in_for_colour() -> None:
    assert read(measure(*MANY), locs_nc=None, locs_no=5.8).limit is None


def test_an_eye_without_its_lens_needs_no_energy() -> None:
    told = example("aphakic-eye").parts.energy
    assert told.limit is None
    assert told.log is None
    assert told.why_none == plan_energy.NO_OWN_LENS
    waits = planned(with_status(HARD, Unknown.NOT_RECORDED)).parts.energy
    assert waits.waits_for == ("lens_status",)
    assert waits.limit is None


def test_a_small_log_says_that_its_scatter_is_not_well_known() -> None:
    few, many = read(measure(*MANY[:12]), locs_nc=3.0), read(measure(*MANY, *MANY), locs_nc=3.0)
    assert few.log is not None
    assert many.log is not None
    assert "25 cases" in said.not_firm(few.log)
    assert said.not_firm(many.log) == ""


@given(st.floats(2.0, 5.8), st.floats(2.0, 5.8))
def test_a_darker_lens_is_expected_to_need_more(one: float, other: float) -> None:
    low, high = sorted((one, other))
    first, second = (read(measure(*MANY), locs_nc=colour) for colour in (low, high))
    assert first.expected is not None
    assert second.expected is not None
    assert first.expected.middle <= second.expected.middle * (1 + 1e-12)
    assert first.limit is not None
    assert first.expected.middle < first.limit


def test_printed_means_are_of_the_same_measure_and_feed_nothing() -> None:
    told, other = (
        read(measure(*MANY)),
        read(replace(measure(*MANY), definition="full_power_seconds")),
    )
    assert len(told.printed) == 8
    assert other.printed == ()
    assert told.limit == other.limit


def test_the_measures_that_can_be_named_are_those_of_the_library() -> None:
    listed = tuple(row["id"] for row in table("energy")["definition"])
    assert field("energy", "definition", which="practice").choices == (*listed, "own")


@pytest.mark.parametrize("name", NAMES)
def test_every_plan_says_something_of_energy(name: str) -> None:
    told = example(name).parts.energy
    assert said.energy_line(told)
    assert (told.limit is None) == bool(told.why_none)
