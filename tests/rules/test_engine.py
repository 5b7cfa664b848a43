"""The engine that reads rules: three values, what settles a rule, who may set it aside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.documents import to_toml
from intake.sample_cases import PRACTICE
from rules.rule_eyes import (
    NO_SULCUS,
    ON,
    REASON,
    WHO,
    decided,
    document_of,
    eye,
    lookup_of,
    read,
    told_of,
)
from zonule.findings.answers import Answer, Unknown
from zonule.findings.fields import sections
from zonule.findings.records import Overruling
from zonule.intake.practice_file import read_practice
from zonule.library.rules import rule, rules
from zonule.plan.parts import RuleState
from zonule.plan.rules import heard, read_rule, read_rules
from zonule.practice.department import RuleDecision

NAMES = ("a", "b", "c", "d", "e")
SAYS = {name: f"{name} == true" for name in NAMES}
UNKNOWN = st.sampled_from(list(Unknown))
KNOWLEDGE = st.fixed_dictionaries({name: st.booleans() | UNKNOWN for name in NAMES})


def never(_: str) -> bool:
    return False


# ---------------------------------------------------------------- three values


@st.composite
def lists(draw: st.DrawFn) -> tuple[list[str], list[str]]:
    """Draw two lists of conditions over distinct findings."""
    used = draw(st.lists(st.sampled_from(NAMES), unique=True, min_size=1))
    cut = draw(st.integers(0, len(used)))
    return [SAYS[name] for name in used[:cut]], [SAYS[name] for name in used[cut:]]


def outcome(when_all: list[str], when_any: list[str], told: Mapping[str, Answer]) -> bool:
    """Return what two lists say of an eye of which everything is known: written anew."""
    every = all(told[text[0]] is True for text in when_all)
    return every and (not when_any or any(told[text[0]] is True for text in when_any))


def completions(told: Mapping[str, Answer]) -> Iterator[dict[str, Answer]]:
    """Return every eye that what is known leaves possible."""
    open_ = [name for name, answer in told.items() if isinstance(answer, Unknown)]
    for values in product((True, False), repeat=len(open_)):
        yield {**told, **dict(zip(open_, values, strict=True))}


def could_still_matter(
    name: str, when_all: list[str], when_any: list[str], told: Mapping[str, Answer]
) -> bool:
    """Tell whether some eye that is possible reads otherwise once this one answer is turned."""
    return isinstance(told[name], Unknown) and any(
        outcome(when_all, when_any, {**one, name: True})
        != outcome(when_all, when_any, {**one, name: False})
        for one in completions(told)
    )


@given(lists(), KNOWLEDGE)
def test_what_is_said_holds_for_every_eye_that_is_possible(
    asked: tuple[list[str], list[str]], told: dict[str, Answer]
) -> None:
    found = heard(*asked, told.__getitem__, never)
    possible = {outcome(*asked, one) for one in completions(told)}
    assert possible == ({True, False} if found.holds is None else {found.holds})


@given(lists(), KNOWLEDGE)
def test_it_waits_for_exactly_the_findings_that_could_still_turn_it(
    asked: tuple[list[str], list[str]], told: dict[str, Answer]
) -> None:
    waits = heard(*asked, told.__getitem__, never).waits_for
    assert set(waits) == {name for name in NAMES if could_still_matter(name, *asked, told)}
    assert len(waits) == len(set(waits))


@given(lists(), KNOWLEDGE)
def test_the_reason_is_every_condition_that_holds_and_only_of_what_fires(
    asked: tuple[list[str], list[str]], told: dict[str, Answer]
) -> None:
    found = heard(*asked, told.__getitem__, never)
    holding = {text for text in (*asked[0], *asked[1]) if told[text[0]] is True}
    because = {SAYS[one.finding] for one in found.because}
    assert because == (holding if found.holds else set())


@given(lists(), KNOWLEDGE, st.sets(st.sampled_from(NAMES)))
def test_what_cannot_be_said_of_an_eye_is_heard_as_no_and_never_waited_for(
    asked: tuple[list[str], list[str]], told: dict[str, Answer], moot: set[str]
) -> None:
    found = heard(*asked, told.__getitem__, moot.__contains__)
    denied = {**told, **dict.fromkeys(moot, False)}
    assert found == heard(*asked, denied.__getitem__, never)
    assert not set(found.waits_for) & moot


LIMITS = st.builds(
    "{} {} {}".format,
    st.sampled_from(["x", "y"]),
    st.sampled_from(["==", "!=", "<", "<=", ">", ">="]),
    st.integers(0, 3),
)


@given(st.lists(LIMITS, max_size=3), st.lists(LIMITS, max_size=3), st.data())
def test_limits_on_one_finding_twice_never_say_more_than_is_known(
    when_all: list[str], when_any: list[str], data: st.DataObject
) -> None:
    told: dict[str, Answer] = {
        name: data.draw(st.integers(0, 3) | UNKNOWN, label=name) for name in ("x", "y")
    }
    found = heard(when_all, when_any, told.__getitem__, never)
    ranges = [range(4) if isinstance(a, Unknown) else (a,) for a in told.values()]
    whole = {
        heard(when_all, when_any, {"x": x, "y": y}.__getitem__, never).holds
        for x, y in product(*ranges)
    }
    assert None not in whole
    if found.holds is not None:
        assert whole == {found.holds}


def test_what_has_no_condition_always_holds() -> None:
    nothing: dict[str, Answer] = {}
    assert heard((), (), nothing.__getitem__, never).holds is True


@pytest.mark.parametrize("unknown", list(Unknown))
def test_every_way_of_not_knowing_is_unknown_to_a_rule(unknown: Unknown) -> None:
    case, _ = eye({})
    found = read_rule(rule("W-03"), case, lookup_of(case, {"pxf": unknown}))
    assert (found.state, found.waits_for) == ("waits", ("pxf",))


NOT_LOOKED_AT: dict[str, tuple[str, str, dict[str, Any]]] = {
    "a macular scan that was not done is no clear macula": (
        "W-18",
        "oct_macula",
        {"diabetes": "none", "hist_uveitis": False, "fellow": {"lens_status": "phakic"}}
        | {"oct_macula": "not_done"},
    ),
    "an operated first eye whose capsule nobody knows is no whole capsule": (
        "D-21",
        "fellow_pcr",
        {"phacodonesis": "none", "dialysis_clock_hours": 0, "pxf": False}
        | {"fellow": {"lens_status": "pseudophakic"}},
    ),
    "a lens in the first eye whose place nobody knows is no lens in the bag": (
        "W-24",
        "fellow_iol_place",
        {"fellow": {"lens_status": "pseudophakic"}},
    ),
    "an empty list of allergies is not none known": ("S-07", "allergies", {"allergies": []}),
}


@pytest.mark.parametrize("told", NOT_LOOKED_AT)
def test_what_nobody_looked_at_is_not_absent(told: str) -> None:
    key, finding, entry = NOT_LOOKED_AT[told]
    case, lookup = eye(entry)
    found = read_rule(rule(key), case, lookup)
    assert (found.state, found.waits_for) == ("waits", (finding,))


# ---------------------------------------------------------------- the department's word

FIRES: dict[str, Any] = {"pupil_dilated_mm": 4.0}
WAITS: dict[str, Any] = {}
SILENT: dict[str, Any] = {"pupil_dilated_mm": 7.0}


@pytest.mark.parametrize(
    ("entry", "state"), [(FIRES, "fires"), (WAITS, "waits"), (SILENT, "silent")]
)
def test_an_accepted_rule_speaks_as_before_and_keeps_the_decision(
    entry: dict[str, Any], state: RuleState
) -> None:
    accepted = decided("accepted")
    found = told_of("D-03", entry, accepted)
    assert found == replace(told_of("D-03", entry), decision=accepted)
    assert found.state == state


def test_a_changed_rule_says_it_in_the_departments_words_and_nothing_else_changes() -> None:
    before = told_of("D-03", FIRES)
    changed = decided("changed", title="Ring first", do=("Ring before hooks.",))
    found = told_of("D-03", FIRES, changed)
    assert (found.rule.title, found.rule.do) == ("Ring first", ("Ring before hooks.",))
    assert found.state == "fires"
    assert found.decision == changed
    assert replace(found.rule, title=before.rule.title, do=before.rule.do) == before.rule
    assert rule("D-03") == before.rule


@pytest.mark.parametrize("key", ["title", "do"])
def test_what_was_not_changed_stays_as_it_was(key: str) -> None:
    own: Any = {"title": "Ring first", "do": ("Ring before hooks.",)}[key]
    found = told_of("D-03", FIRES, decided("changed", **{key: own})).rule
    kept = "do" if key == "title" else "title"
    assert getattr(found, key) == own
    assert getattr(found, kept) == getattr(rule("D-03"), kept)


@pytest.mark.parametrize("decision", ["accepted", "switched_off"])
def test_only_a_changed_rule_takes_other_words(decision: str) -> None:
    worded = decided(decision, title="Ring first", do=("Ring before hooks.",))
    assert told_of("D-03", FIRES, worded).rule == rule("D-03")


@pytest.mark.parametrize(("entry", "would_be"), [(FIRES, "fires"), (WAITS, "waits")])
def test_a_rule_switched_off_stays_in_sight_and_says_what_it_would_say(
    entry: dict[str, Any], would_be: RuleState
) -> None:
    off = decided("switched_off")
    found = told_of("D-03", entry, off)
    assert (found.state, found.would_be, found.decision) == ("switched_off", would_be, off)
    assert found.waits_for == told_of("D-03", entry).waits_for


def test_a_rule_of_theatre_switched_off_says_so_too() -> None:
    found = told_of("D-12", {}, decided("switched_off", "D-12"))
    assert (found.state, found.would_be) == ("switched_off", "in_theatre")


def test_a_silent_rule_switched_off_is_silent() -> None:
    off = decided("switched_off")
    found = told_of("D-03", SILENT, off)
    assert (found.state, found.would_be, found.decision) == ("silent", None, off)


def test_the_last_decision_holds_and_touches_no_other_rule() -> None:
    off, on = decided("switched_off"), decided("accepted")
    assert told_of("D-03", FIRES, off, on).state == "fires"
    assert told_of("D-03", FIRES, on, off).state == "switched_off"
    assert told_of("D-05", FIRES, on, off) == told_of("D-05", FIRES)


def test_every_decision_is_kept_in_the_practice_in_its_order() -> None:
    rows = [
        {"rule": "D-03", "decision": word, "decided_by": by, "decided_on": day, "reason": why}
        for word, by, day, why in (
            ("switched_off", "B. Lead", date(2026, 1, 5), "no rings here"),
            ("changed", "C. Lead", date(2026, 3, 1), "rings bought"),
        )
    ]
    rows[1] |= {"title": "Ring first"}
    text = PRACTICE + to_toml({"rule_decision": rows})
    kept = read_practice(text.encode(), name="practice").rule_decisions
    assert [one.decision for one in kept] == ["switched_off", "changed"]
    assert kept[0] == RuleDecision(
        "D-03", "switched_off", "B. Lead", date(2026, 1, 5), "no rings here"
    )
    found = told_of("D-03", FIRES, *kept)
    assert (found.state, found.rule.title, found.decision) == ("fires", "Ring first", kept[1])


def test_a_decision_on_a_duty_brings_no_duty_onto_a_plan() -> None:
    duty = next(one for one in rules().values() if one.scope == "program")
    case, lookup = eye({})
    readings = read_rules(case, lookup, [decided("accepted", duty.id)])
    assert readings
    assert {one.rule.scope for one in readings} == {"eye"}


# ---------------------------------------------------------------- the surgeon's word

WHY = Overruling("D-03", WHO, ON, REASON)


@pytest.mark.parametrize(("entry", "would_be"), [(FIRES, "fires"), (WAITS, "waits")])
def test_an_overruled_rule_keeps_who_when_and_why(
    entry: dict[str, Any], would_be: RuleState
) -> None:
    before = told_of("D-03", entry)
    found = told_of("D-03", entry, overruled="D-03")
    assert found == replace(before, state="overruled", would_be=would_be, overruling=WHY)


def test_a_silent_rule_that_was_overruled_stays_silent() -> None:
    found = told_of("D-03", SILENT, overruled="D-03")
    assert (found.state, found.would_be, found.overruling) == ("silent", None, WHY)


def test_a_rule_switched_off_and_overruled_is_off_and_keeps_both() -> None:
    off = decided("switched_off")
    found = told_of("D-03", FIRES, off, overruled="D-03")
    assert (found.state, found.would_be) == ("switched_off", "fires")
    assert (found.decision, found.overruling) == (off, WHY)


def test_overruling_one_rule_touches_no_other() -> None:
    assert told_of("D-05", FIRES, overruled="D-03") == told_of("D-05", FIRES)


def test_what_was_overruled_in_the_other_eye_holds_for_that_eye_only() -> None:
    document = document_of(FIRES)
    document["right"] = {"overruled": [{"rule": "D-03", "by": "A", "on": ON, "reason": "b"}]}
    case = read(document)
    assert case.fellow_eye.overrulings
    readings = read_rules(case, lookup_of(case, NO_SULCUS), ())
    assert not any(one.overruling for one in readings)


# ---------------------------------------------------------------- what cannot be found out

WITHOUT = ("aphakic", "pseudophakic")
OF_ITS_OWN_LENS = {
    *(key for key, field in sections("case")["eye"].items() if field.phakic_only),
    "acd_mm",
    "acd_asymmetry_mm",
}


def waited_for(entry: Mapping[str, Any]) -> set[str]:
    case, lookup = eye(entry)
    return {name for one in read_rules(case, lookup, ()) for name in one.waits_for}


@pytest.mark.parametrize("status", WITHOUT)
def test_an_eye_without_its_lens_waits_for_nothing_about_one(status: str) -> None:
    asked = {"phacodonesis", "lens_look", "locs_no", "acd_mm", "acd_asymmetry_mm"}
    assert asked <= OF_ITS_OWN_LENS
    assert asked <= waited_for({"lens_status": "phakic"})
    assert not OF_ITS_OWN_LENS & waited_for({"lens_status": status})


def test_an_eye_without_any_lens_waits_for_no_place_of_one() -> None:
    assert "lens_decentration_mm" in waited_for({"lens_status": "phakic"})
    assert "lens_decentration_mm" not in waited_for({"lens_status": "aphakic"})


def test_while_the_lens_status_is_unknown_everything_is_waited_for() -> None:
    assert waited_for({}) == waited_for({"lens_status": "phakic"})
    assert waited_for({"lens_status": "unknown"}) == waited_for({"lens_status": "phakic"})


@pytest.mark.parametrize("status", WITHOUT)
def test_a_rule_about_removing_the_lens_is_silent_once_it_is_gone(status: str) -> None:
    for key in ("T-04", "T-06", "T-11", "F-07"):
        assert told_of(key, {"lens_status": "phakic"}).state == "fires", key
        assert told_of(key, {"lens_status": status}).state == "silent", key
    for key in ("T-01", "T-21", "D-23"):
        assert told_of(key, {"lens_status": status}).state == "fires", key


@pytest.mark.parametrize("status", WITHOUT)
def test_chamber_depths_are_not_compared_with_an_eye_that_has_no_own_lens(status: str) -> None:
    one_sided = {"lens_status": "phakic", "acd_mm": 2.2, "fellow": {"lens_status": status}}
    found = told_of("W-06", one_sided)
    assert (found.state, found.waits_for) == ("silent", ())


def test_chamber_depths_wait_while_the_other_eye_may_have_its_lens() -> None:
    for fellow in ({}, {"lens_status": "unknown"}, {"lens_status": "phakic"}):
        found = told_of("W-06", {"lens_status": "phakic", "acd_mm": 2.2, "fellow": fellow})
        assert (found.state, found.waits_for) == ("waits", ("acd_asymmetry_mm",))
