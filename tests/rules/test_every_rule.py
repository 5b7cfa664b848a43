"""Each rule on disk against a case written by hand: every road fires it, limits do not.

A rule and its case were written apart from each other, so a slip in one shows in the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import pytest

from rules.rule_eyes import CASES, eye
from zonule.findings.answers import is_known
from zonule.findings.conditions import parse
from zonule.findings.labels import named
from zonule.library.rules import Rule, rules
from zonule.plan import rules as engine
from zonule.plan.parts import RuleReading
from zonule.plan.rules import read_rule, read_rules

BLANK: dict[str, Any] = {}
KEYS_OF_A_CASE = {
    "fires",
    "silent",
    "waits_for",
    "seen_in_theatre",
    "always",
    "program",
    "by_the_plan",
}
OF_AN_EYE = sorted(key for key, told in CASES.items() if not told.get("program", False))
ALWAYS = sorted(key for key in OF_AN_EYE if CASES[key].get("always", False))
CONDITIONAL = sorted(set(OF_AN_EYE) - set(ALWAYS))
ROADS = [(key, at) for key in CONDITIONAL for at in range(len(CASES[key].get("fires", ())))]
SILENT = [(key, at) for key in CONDITIONAL for at in range(len(CASES[key].get("silent", ())))]
IN_THEATRE = [key for key in CONDITIONAL if "seen_in_theatre" in CASES[key]]


def reading(rule: Rule, entry: Mapping[str, Any]) -> RuleReading:
    case, lookup = eye(entry)
    return read_rule(rule, case, lookup)


def names_of(entry: Mapping[str, Any]) -> list[str]:
    """Return the findings that an entry's reason has to name."""
    return list(entry.get("names") or entry)


def unnamed(found: RuleReading, names: list[str]) -> list[str]:
    """Return what differs between the reason that was given and the findings behind it."""
    labels = [named(name) for name in names]
    missing = [one for one in labels if not any(why.startswith(one) for why in found.because)]
    strange = [why for why in found.because if not any(why.startswith(one) for one in labels)]
    return missing + strange


def without_one(entry: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Return the entry with each of its keys taken out in turn."""
    for taken in entry:
        if taken != "names":
            yield {key: value for key, value in entry.items() if key not in (taken, "names")}


def blank_faults(rule: Rule, told: Mapping[str, Any]) -> list[str]:
    """Return how an eye of which nothing is known is read otherwise than told."""
    found = reading(rule, BLANK)
    waits, theatre = set(told["waits_for"]), set(told.get("seen_in_theatre", ()))
    if waits:
        state, open_ = "waits", waits
    elif theatre:
        state, open_ = "in_theatre", theatre
    else:
        state, open_ = "silent", set()
    same = found.state == state and set(found.waits_for) == open_
    return [] if same else [f"blank: {state} {open_}, got {found.state} {found.waits_for}"]


def faults(rule: Rule, told: Mapping[str, Any]) -> list[str]:
    """Return everything in which a rule differs from its case."""
    wrong = blank_faults(rule, told)
    for road in told["fires"]:
        found = reading(rule, road)
        if found.state != "fires" or unnamed(found, names_of(road)):
            wrong.append(f"{road}: got {found.state} because {found.because}")
        wrong += [
            f"{fewer}: fires with less than told"
            for fewer in without_one(road)
            if reading(rule, fewer).state == "fires"
        ]
    wrong += [
        f"{one}: not silent" for one in told["silent"] if reading(rule, one).state != "silent"
    ]
    return wrong


# ---------------------------------------------------------------- rules and cases are the same


def test_there_are_118_rules_and_93_of_them_speak_of_an_eye() -> None:
    assert len(rules()) == 118
    assert sum(rule.scope == "eye" for rule in rules().values()) == 93


@pytest.mark.parametrize("key", rules())
def test_the_rule_has_a_case(key: str) -> None:
    assert key in CASES


@pytest.mark.parametrize("key", CASES)
def test_the_case_has_a_rule(key: str) -> None:
    assert key in rules()


@pytest.mark.parametrize("key", CASES)
def test_the_case_says_everything_it_has_to(key: str) -> None:
    told = CASES[key]
    assert set(told) <= KEYS_OF_A_CASE
    kinds = [kind for kind in ("always", "program") if told.get(kind, False)]
    if kinds:
        assert set(told) == set(kinds)
        assert len(kinds) == 1
        return
    assert told["fires"]
    assert told["silent"]
    assert told["waits_for"] or told.get("seen_in_theatre") or told.get("by_the_plan", False)


def test_there_is_something_to_check() -> None:
    assert len(CONDITIONAL) >= 80
    assert len(ROADS) >= 200
    assert len(SILENT) >= 100
    assert len(ALWAYS) >= 5
    assert len(IN_THEATRE) >= 5


# ---------------------------------------------------------------- each rule against its case


@pytest.mark.parametrize("key", [key for key in CASES if key not in OF_AN_EYE])
def test_a_duty_of_the_program_is_on_no_plan(key: str) -> None:
    assert rules()[key].scope == "program"
    case, lookup = eye(BLANK)
    assert key not in {one.rule.id for one in read_rules(case, lookup, ())}


@pytest.mark.parametrize("key", OF_AN_EYE)
def test_what_speaks_of_an_eye_is_read_for_every_eye(key: str) -> None:
    case, lookup = eye(BLANK)
    assert [one.rule.id for one in read_rules(case, lookup, ())].count(key) == 1


@pytest.mark.parametrize("key", ALWAYS)
def test_what_always_holds_fires_in_an_eye_of_which_nothing_is_known(key: str) -> None:
    found = reading(rules()[key], BLANK)
    assert (found.state, found.because, found.waits_for) == ("fires", (), ())


@pytest.mark.parametrize(("key", "at"), ROADS)
def test_each_road_fires_it_and_is_named(key: str, at: int) -> None:
    road = CASES[key]["fires"][at]
    found = reading(rules()[key], road)
    assert found.state == "fires"
    assert found.waits_for == ()
    assert unnamed(found, names_of(road)) == []


@pytest.mark.parametrize(("key", "at"), ROADS)
def test_a_reason_is_given_once(key: str, at: int) -> None:
    because = reading(rules()[key], CASES[key]["fires"][at]).because
    assert because
    assert len(because) == len(set(because))


@pytest.mark.parametrize(("key", "at"), ROADS)
def test_no_road_is_longer_than_it_needs_to_be(key: str, at: int) -> None:
    shorter = list(without_one(CASES[key]["fires"][at]))
    assert shorter
    assert all(reading(rules()[key], fewer).state != "fires" for fewer in shorter)


@pytest.mark.parametrize(("key", "at"), SILENT)
def test_it_is_silent_when_every_condition_is_known_and_false(key: str, at: int) -> None:
    told = CASES[key]
    entry = told["silent"][at]
    lookup = eye(entry)[1]
    asked = [*told["waits_for"], *told.get("seen_in_theatre", ())]
    assert [name for name in asked if not is_known(lookup(name))] == []
    found = reading(rules()[key], entry)
    assert (found.state, found.waits_for, found.because) == ("silent", (), ())


@pytest.mark.parametrize("key", CONDITIONAL)
def test_a_blank_eye_waits_for_exactly_what_could_settle_it(key: str) -> None:
    assert blank_faults(rules()[key], CASES[key]) == []


@pytest.mark.parametrize("key", IN_THEATRE)
def test_when_only_theatre_can_say_more_it_reads_in_theatre(key: str) -> None:
    told = CASES[key]
    before = {name: value for name, value in told["silent"][0].items() if name != "theatre"}
    found = reading(rules()[key], before)
    assert found.state == "in_theatre"
    assert set(found.waits_for) == set(told["seen_in_theatre"])


def test_a_rule_of_the_plan_hears_the_plan_that_is_made() -> None:
    by_the_plan = [key for key in CONDITIONAL if CASES[key].get("by_the_plan", False)]
    assert by_the_plan
    for key in by_the_plan:
        asked = {parse(text).finding for text in (*rules()[key].when_all, *rules()[key].when_any)}
        assert asked == set(CASES[key]["fires"][0]["plan"])


# ---------------------------------------------------------------- broken on purpose


def _nudged(text: str) -> Iterator[str]:
    """Return a condition with its limit moved, its operator turned, or one of its values gone."""
    one = parse(text)
    turned = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "=="}
    if one.operator in turned:
        yield f"{one.finding} {turned[one.operator]} {one.value!r}"
    if one.operator == "has":
        yield f"{one.finding} has 'chlorhexidine'"
    if one.operator == "in":
        for gone in one.value:
            yield f"{one.finding} in {[kept for kept in one.value if kept != gone]!r}"
    if isinstance(one.value, int | float) and not isinstance(one.value, bool):
        by = 1.0 if one.value in (0, 1) else 0.05 * abs(one.value)
        yield f"{one.finding} {one.operator} {one.value + by!r}"
        yield f"{one.finding} {one.operator} {one.value - by!r}"


def broken(rule: Rule) -> Iterator[Rule]:
    """Return a rule broken in every small way: a condition lost, moved, or in the wrong list."""
    for which in ("when_all", "when_any"):
        texts: tuple[str, ...] = getattr(rule, which)
        for at, text in enumerate(texts):
            kept = (*texts[:at], *texts[at + 1 :])
            if kept:
                yield replace(rule, **{which: kept})  # type: ignore[arg-type]
            for other in _nudged(text):
                changed = (*texts[:at], other, *texts[at + 1 :])
                yield replace(rule, **{which: changed})  # type: ignore[arg-type]
    if len(rule.when_any) > 1:
        yield replace(rule, when_all=(*rule.when_all, *rule.when_any), when_any=())
    if len(rule.when_all) > 1:
        yield replace(rule, when_all=(), when_any=(*rule.when_all, *rule.when_any))


@pytest.mark.parametrize("key", CONDITIONAL)
def test_a_rule_broken_on_purpose_is_caught(key: str) -> None:
    variants, known = list(broken(rules()[key])), faults(rules()[key], CASES[key])
    assert variants
    unseen = [(v.when_all, v.when_any) for v in variants if faults(v, CASES[key]) == known]
    assert unseen == []


def test_an_engine_that_reads_unknown_as_absent_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    truly = engine._holds
    monkeypatch.setattr(engine, "_holds", lambda *given: bool(truly(*given)))
    plain = [key for key in CONDITIONAL if not CASES[key].get("by_the_plan", False)]
    assert all(blank_faults(rules()[key], CASES[key]) for key in plain)


def test_an_engine_that_waits_for_theatre_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "seen_only_in_theatre", frozenset)
    caught = {key for key in CONDITIONAL if blank_faults(rules()[key], CASES[key])}
    assert caught == set(IN_THEATRE)
