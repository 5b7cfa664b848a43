"""What the rule files and the tables beside them may hold: words, names, conditions."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from zonule.errors import LibraryFault
from zonule.findings.conditions import parse
from zonule.findings.fellow import _IOL_PLACE, FELLOW
from zonule.findings.fields import Field, derived_names, sections
from zonule.library import rules as reader
from zonule.library.reading import STATUSES, table
from zonule.library.rules import FILES, SCOPES, STRENGTH_WORDS, Rule, rules
from zonule.library.tray import items
from zonule.plan.machine import GENTLE_BECAUSE_OF
from zonule.plan.states.triggers import usual_words

FOLDER = Path(reader.__file__).parent
STAGES = {
    *("workup", "device", "wound", "chamber", "rhexis", "hydro", "nucleus", "convert"),
    *("cortex", "polish", "lens", "close", "machine", "safety", "list", "teaching"),
}
LONGEST_TITLE = 75
SAID_TO_HANDS = ("title", "do", "avoid")
A_STRENGTH = re.compile(
    r"\d\s*(?:%|‰|per ?cent\b|(?:m|µ|u)?g\b|mcg\b|micrograms?\b|milligrams?\b|grams?\b"
    r"|(?:m|µ|u)l\b(?!\s*(?:/|per|in one|a) ?min)|millilit|IU\b|mmol)"
    r"|\b1\s*:\s*\d|\bdilut(?:e|ed|ing) (?:to|with|by)\b",
    re.IGNORECASE,
)
RAW = [row for file in FILES for row in table(f"rules/{file}")["rule"]]
OF_AN_EYE = [rule for rule in rules().values() if rule.scope == "eye"]


def ids(rule: Rule) -> str:
    return rule.id


every_rule = pytest.mark.parametrize("rule", rules().values(), ids=ids)


def test_every_file_of_the_folder_is_read_and_nothing_of_it_is_lost() -> None:
    on_disk = {path.stem for path in (FOLDER / "rules").glob("*.toml")}
    assert on_disk == {*FILES, "conflicts"}
    assert len(RAW) == len(rules()) == 118


# ---------------------------------------------------------------- a rule's own lines


@every_rule
def test_the_title_is_one_short_line_without_a_full_stop(rule: Rule) -> None:
    assert 10 <= len(rule.title) <= LONGEST_TITLE
    assert rule.title == rule.title.strip()
    assert not rule.title.endswith(".")
    assert "\n" not in rule.title


def test_no_two_rules_have_the_same_title() -> None:
    titles = [rule.title for rule in rules().values()]
    assert len(titles) == len(set(titles))


@every_rule
def test_it_says_what_to_do_and_why_and_where_that_comes_from(rule: Rule) -> None:
    assert rule.do
    assert all(line.strip().endswith((".", "?")) for line in (*rule.do, *rule.avoid))
    assert rule.why
    assert rule.sources


@every_rule
def test_no_strength_of_a_drug_is_said(rule: Rule) -> None:
    lines = [rule.title, *rule.do, *rule.avoid]
    assert [line for line in lines if A_STRENGTH.search(line)] == []


@pytest.mark.parametrize(
    "line",
    [
        "phenylephrine 1.5%",
        "cefuroxime 1 mg in 0.1 ml",
        "trypan blue 0.06 per cent",
        "50 micrograms",
        "500 mg by mouth",
        "adrenaline 1:1000",
        "dilute to half",
        "0.1 mL of it",
    ],
)
def test_a_strength_would_be_seen(line: str) -> None:
    assert A_STRENGTH.search(line)


@pytest.mark.parametrize(
    "line", ["10-0 nylon", "flow 20 to 25 mL/min", "13 mm", "10 mmHg", "4 clock hours", "27 gauge"]
)
def test_a_size_is_no_strength(line: str) -> None:
    assert not A_STRENGTH.search(line)


@every_rule
def test_its_words_are_of_the_lists(rule: Rule) -> None:
    assert rule.stage in STAGES
    assert rule.scope in SCOPES
    assert rule.strength in STRENGTH_WORDS
    assert rule.status in STATUSES
    assert rule.step == "" or rule.step in table("steps")["step"]


@pytest.mark.parametrize("rule", OF_AN_EYE, ids=ids)
def test_what_is_done_in_theatre_belongs_to_a_step(rule: Rule) -> None:
    if rule.stage not in ("workup", "safety"):
        assert rule.step
    if rule.stage == "workup":
        assert not rule.step


@every_rule
def test_a_duty_has_no_step_brings_nothing_and_always_holds(rule: Rule) -> None:
    if rule.scope == "program":
        assert (rule.step, rule.bring, rule.leave_out, rule.always) == ("", (), (), True)


@every_rule
def test_what_it_brings_and_keeps_out_is_in_the_table_of_items(rule: Rule) -> None:
    assert {one.item for one in rule.bring} <= set(items())
    assert set(rule.leave_out) <= set(items())
    assert not {one.item for one in rule.bring if not one.when} & set(rule.leave_out)
    assert all(one.count >= 1 and one.spare_sets >= 0 for one in rule.bring)
    brought = [one.item for one in rule.bring]
    assert len(brought) == len(set(brought))


def test_rules_bring_most_of_the_table_of_items() -> None:
    brought = {one.item for rule in rules().values() for one in rule.bring}
    assert len(brought) >= 25


@every_rule
def test_every_source_is_known(rule: Rule) -> None:
    assert [key for key in rule.sources if key not in table("references")] == []


@every_rule
def test_what_rests_on_usual_teaching_alone_is_graded_so(rule: Rule) -> None:
    if set(rule.sources) == {"common_practice"}:
        assert rule.strength == "D"
        assert rule.status != "confirmed"


def test_a_rule_needs_a_condition_or_holds_always() -> None:
    bare = {key: value for key, value in RAW[0].items() if key not in ("when_all", "when_any")}
    with pytest.raises(LibraryFault, match="needs either a condition or when = 'always'"):
        reader._rule(bare)
    with pytest.raises(LibraryFault, match="needs either a condition or when = 'always'"):
        reader._rule({**RAW[0], "when": "always"})


# ---------------------------------------------------------------- tables that name rules


def named_rules() -> dict[str, list[str]]:
    """Return every rule that a table beside the rule files names, by where it stands."""
    return {
        "conflicts": [key for one in _conflicts() for key in one["rules"]],
        "conflicts, gives way": [one["gives_way"] for one in _conflicts() if "gives_way" in one],
        "different": table("different")["order"],
        "anaesthesia": table("anaesthesia")["carry"]["rules"],
        "nucleus routes": [key for one in table("nucleus_routes")["route"] for key in one["rules"]],
        "to say": [one["when_rule"] for one in table("to_say")["line"] if "when_rule" in one],
        "clock map": [
            key
            for one in table("clock_map")["kind"].values()
            for key in (*one.get("when_rule", ()), *one.get("rules", ()))
        ],
        "steps, moved": [one["rule"] for one in table("steps")["moved"]],
        "machine": list(GENTLE_BECAUSE_OF),
    }


def _conflicts() -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = table("rules/conflicts")["conflict"]
    return found


@pytest.mark.parametrize("where", named_rules())
def test_the_rules_named_there_exist_and_speak_of_an_eye(where: str) -> None:
    named = named_rules()[where]
    assert named
    assert set(named) <= {rule.id for rule in OF_AN_EYE}


@pytest.mark.parametrize("where", ["different", "anaesthesia"])
def test_no_rule_is_named_twice(where: str) -> None:
    named = named_rules()[where]
    assert len(named) == len(set(named))


def test_steps_and_items_that_tables_name_exist() -> None:
    steps, moved = table("steps")["step"], table("steps")["moved"]
    hours = {one["step"] for one in table("clock_map")["kind"].values() if one.get("step")}
    assert hours
    assert hours | {one[key] for one in moved for key in ("step", "after")} <= set(steps)
    routes = table("nucleus_routes")["route"]
    assert routes
    assert {key for one in routes for key in one["items"]} <= set(items())


def test_every_step_says_something_or_a_rule_belongs_to_it() -> None:
    used = {rule.step for rule in OF_AN_EYE}
    steps = table("steps")["step"]
    assert len(steps) >= 15
    assert [key for key, row in steps.items() if "says" not in row and key not in used] == []


# ---------------------------------------------------------------- first words

TRIGGERS = [
    {**row, "words": usual_words(row["trigger"]).say} for row in table("triggers")["trigger"]
]
NEVER_SHOUTED = re.compile(r"\b(?:left|right|stain\w*|implant\w*|dioptres?)\b", re.IGNORECASE)


@pytest.mark.parametrize("row", TRIGGERS, ids=lambda row: row["key"])
def test_first_words_are_few_and_short(row: dict[str, Any]) -> None:
    words = [sentence.split() for sentence in row["words"]]
    assert 1 <= len(words) <= 7
    assert sum(map(len, words)) <= 36
    assert max(map(len, words)) <= 12
    assert all(sentence.endswith((".", "?")) for sentence in row["words"])


@pytest.mark.parametrize("row", TRIGGERS, ids=lambda row: row["key"])
def test_first_words_hold_none_that_is_misheard(row: dict[str, Any]) -> None:
    assert NEVER_SHOUTED.findall(" ".join([row["name"], *row["words"]])) == []


def test_there_are_triggers_and_their_own_limits_are_these() -> None:
    assert len(TRIGGERS) >= 10
    meta = table("theatre/first_words")["meta"]
    assert (meta["most_words"], meta["most_sentences"]) == (36, 7)
    assert len({row["key"] for row in TRIGGERS}) == len(TRIGGERS)


# ---------------------------------------------------------------- conditions

OF_THE_PLAN = {"sulcus_offered"}
WORKED_OUT = {"lens_status", "pupil_class", "brunescent_or_white", "depth_in_front_mm"}
WORDS_WORKED_OUT = {
    "fellow_pcr": {"not_operated", "no", "yes", "unknown"},
    "fellow_iol_place": {*_IOL_PLACE.values(), "unknown"},
    "pupil_class": {"large", "medium", "small"},
}
TABLES = ("anaesthesia", "nucleus_routes", "steps", "to_say", "triggers", "different")


def conditions_in(told: Any, where: str) -> Iterator[tuple[str, str]]:
    """Return every condition below a piece of a table, with where it stands."""
    if isinstance(told, dict):
        for key, value in told.items():
            if key in ("when_all", "when_any", "dense"):
                yield from ((f"{where}.{key}", text) for text in value)
            elif key == "when":
                yield f"{where}.{key}", value
            else:
                yield from conditions_in(value, f"{where}.{told.get('id', key)}")
    elif isinstance(told, list):
        for at, value in enumerate(told):
            yield from conditions_in(value, f"{where}[{at}]")


def _all_conditions() -> list[tuple[str, str]]:
    paths = [
        *sorted((FOLDER / "rules").glob("*.toml")),
        *(FOLDER / f"{one}.toml" for one in TABLES),
    ]
    return [
        (where, text)
        for path in paths
        for where, text in conditions_in(tomllib.loads(path.read_text("utf-8")), path.stem)
        if text != "always"
    ]


CONDITIONS = _all_conditions()


def findings_there_are() -> set[str]:
    """Return every name that a lookup answers to, or that theatre or the plan answers to."""
    case = sections("case")
    entered = {key for name in ("patient", "eye", "biometry") for key in case[name]}
    theatre = set(table("theatre_findings")["finding"])
    return entered | set(derived_names()) | set(FELLOW) | theatre | WORKED_OUT | OF_THE_PLAN


def field_of(finding: str) -> Field | None:
    """Return the field a finding is entered in; None where it is worked out or seen in theatre."""
    for section in ("patient", "eye", "biometry"):
        if finding in sections("case")[section]:
            return sections("case")[section][finding]
    return None


def words_of(finding: str) -> set[str] | None:
    """Return the words an answer can be; None where it is no word of a list."""
    field = field_of(finding)
    if field is not None and field.type == "choice":
        return set(field.choices)
    return WORDS_WORKED_OUT.get(finding)


def test_there_are_conditions_to_check() -> None:
    assert len(CONDITIONS) >= 200
    assert {where.partition(".")[0] for where, _ in CONDITIONS} >= {
        *("devices", "technique", "machine", "workup", "safety", "conflicts"),
        *("anaesthesia", "nucleus_routes", "triggers"),
    }


@pytest.mark.parametrize(("where", "text"), CONDITIONS)
def test_a_condition_can_be_read_and_names_a_finding_there_is(where: str, text: str) -> None:
    assert parse(text).finding in findings_there_are(), where


@pytest.mark.parametrize(("where", "text"), CONDITIONS)
def test_a_condition_asks_for_what_the_finding_can_be(where: str, text: str) -> None:
    one = parse(text)
    words, field = words_of(one.finding), field_of(one.finding)
    kind = field.type if field is not None else ""
    asked = one.value if one.operator == "in" else [one.value]
    if words is not None:
        assert set(asked) <= words, where
    if kind == "yes_no":
        assert one.value in (True, False), where
        assert one.operator in ("==", "!="), where
    if kind in ("number", "whole"):
        assert field is not None
        assert field.low is not None
        assert field.high is not None
        assert field.low <= one.value <= field.high, where
    assert (one.operator == "has") == (kind in ("texts", "choices")), where


@pytest.mark.parametrize("text", ["locs_no => 5.0", "locs_no >= five", "pxf", "pxf = true"])
def test_a_condition_of_another_form_is_refused(text: str) -> None:
    with pytest.raises(LibraryFault):
        parse(text)
