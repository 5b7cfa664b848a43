"""What is outstanding because rules wait for it: all of it, in the order of what it decides."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.documents import sound_values
from rules.rule_eyes import CASES, NO_SULCUS, document_of, lookup_of, read
from zonule.assessment.measured import missing_for_power
from zonule.findings.allergies import not_placed
from zonule.findings.answers import Answer, Unknown
from zonule.findings.conditions import Lookup, parse
from zonule.findings.fields import sections
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.library.rules import Rule, rules
from zonule.plan import outstanding as ranking
from zonule.plan import rules as engine
from zonule.plan.outstanding import outstanding
from zonule.plan.parts import RuleReading
from zonule.plan.recorded_as import recorded_as
from zonule.plan.records import Outstanding
from zonule.plan.rules import read_rules

NOT_BEFORE_THEATRE = {*table("theatre_findings")["finding"], "sulcus_offered"}
ASKED_ANYWAY = {row["finding"] for row in table("outstanding")["row"]}
KEPT_AS = {
    "acd_mm": "anterior_chamber_depth_mm",
    "cct_um": "corneal_thickness_um",
    "wtw_mm": "white_to_white_mm",
    "age": "born",
}
"""The key of the case file under which a finding of that name is filled in."""
IN_WORDS = {
    Unknown.NOT_RECORDED: "not recorded",
    Unknown.NOT_EXAMINED: "not examined",
    Unknown.NOT_POSSIBLE: "not possible",
    Unknown.UNKNOWN: "asked, not known",
}

# ---------------------------------------------------------------- partial cases

HEARD = {
    KEPT_AS.get(name, name)
    for rule in rules().values()
    for name in (parse(text).finding for text in (*rule.when_all, *rule.when_any))
}
FELLOW = ("lens_status", "pxf", "anterior_chamber_depth_mm")
EVENTS = (
    *("placement", "posterior_capsule", "floppy_iris", "zonular_event", "note_seen"),
    *("cystoid_oedema", "suprachoroidal_haemorrhage", "cornea_failed"),
)
SITTING = ("measured_as", "anterior_chamber_depth_from", "measured_on", "method")


def _keys(section: str, wanted: set[str]) -> list[str]:
    return [key for key in sections("case")[section] if key in wanted]


@st.composite
def some_of(draw: st.DrawFn, section: str, keys: list[str]) -> dict[str, Any]:
    """Draw some keys of a section with sound values; any of them may be said to be unknown."""
    chosen = draw(st.lists(st.sampled_from(keys), unique=True))
    return {key: draw(sound_values(sections("case")[section][key])) for key in chosen}


@st.composite
def partial_cases(draw: st.DrawFn) -> Case:
    """Draw a case in which some findings that rules ask for are recorded, and some are not."""
    document = document_of({})
    measured = _keys("biometry", {*HEARD, *SITTING})
    document["patient"] |= draw(some_of("patient", _keys("patient", {*HEARD, "born"})))
    document["left"] = draw(some_of("eye", _keys("eye", {*HEARD, "lens_status"})))
    document["left"]["biometry"] = draw(st.lists(some_of("biometry", measured), max_size=2))
    document |= draw(some_of("top", ["surgery_planned_on"]))
    if draw(st.booleans()):
        document["right"] = draw(some_of("eye", ["lens_status", "pxf"]))
        document["right"]["biometry"] = draw(st.lists(some_of("biometry", measured), max_size=1))
        if draw(st.booleans()):
            document["right"]["operation"] = draw(some_of("operation", list(EVENTS)))
    return read(document)


def asked_of(case: Case) -> tuple[Lookup, list[RuleReading], tuple[Outstanding, ...]]:
    """Return a lookup, the rules that wait, and what is outstanding."""
    lookup = lookup_of(case, NO_SULCUS)
    waiting = [one for one in read_rules(case, lookup, ()) if one.state == "waits"]
    return lookup, waiting, outstanding(case, lookup, (), waiting)


def told(entry: Mapping[str, Any]) -> Case:
    return read(document_of(entry))


BLANK = told({})
EYES = [BLANK, *(told(road) for one in CASES.values() for road in one.get("fires", ()))]
"""An eye of which nothing is known, and one for each road to a rule."""

# ---------------------------------------------------------------- what must hold


def recorded(case: Case, lookup: Lookup, finding: str) -> Answer:
    """Return the answer recorded under the name that is listed."""
    if finding == "born":
        return case.patient.born
    if finding == "surgery_planned_on":
        return case.surgery_planned_on
    answer = lookup(finding)
    unheard = finding == "allergies" and (not answer or not_placed(answer))
    if answer in ("unknown", "not_done"):
        return Unknown.UNKNOWN if answer == "unknown" else Unknown.NOT_EXAMINED
    return Unknown.NOT_RECORDED if unheard else answer


def decides(rule: Rule) -> int:
    """Return 0 where a rule decides what lies in the room, 1 how it is done, 2 the work-up."""
    if rule.bring or rule.leave_out:
        return 0
    return 1 if rule.step else 2


def wanted_by(waiting: list[RuleReading], case: Case) -> dict[str, set[str]]:
    """Return the rules that wait for each key of the case file."""
    found: dict[str, set[str]] = {}
    for reading in waiting:
        for name in reading.waits_for:
            found.setdefault(recorded_as(name, case), set()).add(reading.rule.id)
    return found


def known_but_listed(case: Case) -> list[str]:
    lookup, _, items = asked_of(case)
    return [
        one.finding
        for one in items
        if one.finding != "biometry"
        and not isinstance(recorded(case, lookup, one.finding), Unknown)
    ]


def of_theatre(case: Case) -> set[str]:
    return {one.finding for one in asked_of(case)[2]} & NOT_BEFORE_THEATRE


def not_listed(case: Case) -> set[str]:
    _, waiting, items = asked_of(case)
    return set(wanted_by(waiting, case)) - {one.finding for one in items}


def out_of_order(case: Case) -> list[tuple[str, str]]:
    """Return pairs of which the second decides more than the first and stands after it.

    What a power needs, and what is asked in any case, may stand first for that reason.
    """
    _, waiting, items = asked_of(case)
    for_itself = {*ASKED_ANYWAY, *missing_for_power(case.operative_eye)}
    wanted = wanted_by(waiting, case)
    by_rules = [one.finding for one in items if one.finding in wanted]
    weight = {name: min(decides(rules()[key]) for key in wanted[name]) for name in by_rules}
    return [
        (first, second)
        for at, first in enumerate(by_rules)
        for second in by_rules[at + 1 :]
        if weight[second] < weight[first] and first not in for_itself
    ]


def otherwise_said(case: Case) -> list[tuple[str, str]]:
    """Return what is listed with another reason than the one recorded."""
    lookup, _, items = asked_of(case)
    return [
        (one.finding, one.why_unknown)
        for one in items
        if isinstance(answer := recorded(case, lookup, one.finding), Unknown)
        and not one.why_unknown.startswith((IN_WORDS[answer], "no word a rule"))
    ]


# ---------------------------------------------------------------- every partial case


@given(partial_cases())
def test_nothing_that_only_theatre_or_the_plan_shows_is_ever_listed(case: Case) -> None:
    assert of_theatre(case) == set()


@given(partial_cases())
def test_every_finding_that_a_rule_waits_for_is_listed_once_with_its_rules(case: Case) -> None:
    _, waiting, items = asked_of(case)
    assert not_listed(case) == set()
    listed = [one.finding for one in items]
    assert len(listed) == len(set(listed))
    wanted = wanted_by(waiting, case)
    assert {one.finding: set(one.rules) for one in items if one.rules} == wanted
    assert all(len(one.rules) == len(set(one.rules)) for one in items)


@given(partial_cases())
def test_what_decides_devices_stands_before_what_only_decides_the_work_up(case: Case) -> None:
    assert out_of_order(case) == []
    ranks = [one.rank for one in asked_of(case)[2]]
    assert ranks == sorted(ranks)


@given(partial_cases())
@settings(max_examples=200)
def test_nothing_that_is_known_is_listed(case: Case) -> None:
    assert known_but_listed(case) == []


@given(partial_cases())
def test_it_says_in_which_way_it_is_not_known(case: Case) -> None:
    assert otherwise_said(case) == []


@given(partial_cases())
def test_a_rule_set_aside_waits_for_nothing_and_leaves_the_rest_as_it_was(case: Case) -> None:
    lookup, waiting, items = asked_of(case)
    if not waiting:
        return
    gone = waiting[0].rule.id
    fewer = outstanding(case, lookup, (), [one for one in waiting if one.rule.id != gone])
    assert not any(gone in one.rules for one in fewer)
    before = {one.finding: {key for key in one.rules if key != gone} for one in items}
    assert {one.finding: set(one.rules) for one in fewer}.items() <= before.items()


# ---------------------------------------------------------------- one by one


@pytest.mark.parametrize("case", EYES)
def test_on_the_road_to_each_rule_what_is_outstanding_holds_too(case: Case) -> None:
    assert (of_theatre(case), not_listed(case), out_of_order(case)) == (set(), set(), [])


def test_of_a_blank_eye_nearly_everything_is_outstanding_in_three_ranks() -> None:
    _, waiting, items = asked_of(BLANK)
    assert len(waiting) >= 75
    assert len(items) >= 40
    assert {decides(one.rule) for one in waiting} == {0, 1, 2}
    ranks = {one.finding: one.rank for one in items}
    assert ranks["vitreous_in_ac"] == 2, "decides what lies in the room"
    assert ranks["intravitreal_injections"] == 3, "decides how it is done"
    assert ranks["rapd"] == 4, "decides the work-up"


@pytest.mark.parametrize(
    ("entry", "known"),
    [
        (
            {"acd_mm": 2.4, "anterior_chamber_depth_from": "endothelium"},
            "anterior_chamber_depth_mm",
        ),
        ({"acd_mm": 2.4, "anterior_chamber_depth_from": "unknown"}, "anterior_chamber_depth_mm"),
        ({"age": 80, "surgery_planned_on": None}, "born"),
    ],
    ids=["depth without the cornea's thickness", "depth from nobody knows where", "no day yet"],
)
def test_what_is_missing_is_named_and_not_what_is_there(entry: dict[str, Any], known: str) -> None:
    document = document_of({key: value for key, value in entry.items() if value is not None})
    if None in entry.values():
        del document["surgery_planned_on"]
    assert known_but_listed(read(document)) == []
    assert known not in {one.finding for one in asked_of(read(document))[2]}


def test_the_rule_that_weighs_most_is_the_one_that_is_named() -> None:
    _, waiting, items = asked_of(BLANK)
    first = next(one for one in items if one.finding == "alpha_blocker")
    named = rules()[first.rules[0]]
    assert decides(named) == 0
    assert named.title[1:] in first.changes
    assert f"{len(first.rules) - 1} rules more" in first.changes
    assert {one.rule.id for one in waiting} >= set(first.rules)


# ---------------------------------------------------------------- broken on purpose


def test_ranks_the_wrong_way_round_are_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    assert out_of_order(BLANK) == []
    monkeypatch.setattr(ranking, "_RANK_BY_WEIGHT", {3: 4, 2: 3, 1: 2})
    assert out_of_order(BLANK)


def test_waiting_for_theatre_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    assert of_theatre(BLANK) == set()
    monkeypatch.setattr(engine, "seen_only_in_theatre", frozenset)
    assert of_theatre(BLANK) >= {"rhexis_state", "posterior_capsule"}


def test_a_rule_that_is_forgotten_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    assert not_listed(BLANK) == set()
    truly = ranking._waiting_rules
    monkeypatch.setattr(
        ranking,
        "_waiting_rules",
        lambda waiting, case: truly([one for one in waiting if one.rule.id != "W-30"], case),
    )
    assert not_listed(BLANK) == {"rapd"}


def test_listing_what_is_known_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    case = told({"pxf": False})
    assert known_but_listed(case) == []
    blank = asked_of(BLANK)[1]
    truly = ranking._waiting_rules
    monkeypatch.setattr(
        ranking, "_waiting_rules", lambda waiting, case: truly([*waiting, *blank], case)
    )
    assert known_but_listed(case) == ["pxf"]
