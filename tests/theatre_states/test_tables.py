"""The theatre tables name only what there is, and say everything in words."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from zonule.findings.conditions import parse
from zonule.findings.fields import placements, sections
from zonule.library.placements import places
from zonule.library.reading import table
from zonule.plan.states.eye import eye_filters
from zonule.plan.states.refusals import label
from zonule.plan.states.tables import tables
from zonule.plan.states.then_orders import then_order
from zonule.plan.states.triggers import trigger_links

TABLES = tables()
NAMES = (
    *("contradictions", "eye_limits", "first_words", "inputs", "needs", "power_gate", "prefill"),
    *("priorities", "questions", "review_questions", "steps", "then_orders", "trigger_links"),
)


def _conditions() -> Iterator[str]:
    for when_all in (
        *(one.when_all for one in TABLES.moot),
        *(one.when_all for one in TABLES.contradictions),
        *(one.when_all for one in TABLES.ways),
        *(one.when_all for one in TABLES.rows),
        *(one.when_all for one in TABLES.firsts),
        *(one.when_all for one in TABLES.asks),
    ):
        yield from when_all
    for step in TABLES.steps.values():
        yield from step.done_when
    gate = table("theatre/power_gate")["gate"]
    yield from (*gate["closed_by_state_any"], *gate["opens_when_all"])


@pytest.mark.parametrize("text", sorted(set(_conditions())))
def test_a_condition_asks_for_answers_that_its_question_has(text: str) -> None:
    one = parse(text)
    assert one.finding in TABLES.questions
    asked = one.value if one.operator == "in" else [one.value]
    assert set(asked) <= set(TABLES.questions[one.finding].values)
    assert one.operator in ("==", "!=", "in")


def test_every_condition_of_a_way_has_words() -> None:
    wanted = {text for way in TABLES.ways for text in way.when_all}
    assert wanted <= set(TABLES.condition_says)


def test_every_answer_has_words_and_every_question_is_short_enough_to_say() -> None:
    assert len(TABLES.questions) == 9
    for one in TABLES.questions.values():
        assert tuple(one.says) == one.values
        assert one.ask.endswith("?")
        assert len(one.ask.split()) <= 12
        assert one.before in (*one.values, "not_known")
        assert one.asked_from in TABLES.stages


def test_places_steps_and_answers_are_those_there_are() -> None:
    assert set(TABLES.placements) == set(placements()) - {"none_final"}
    for row in TABLES.rows:
        assert set(row.order) <= set(TABLES.placements)
        assert len(set(row.order)) == len(row.order)
        assert "later" in row.order
    assert sorted(TABLES.unknown_order) == sorted(TABLES.placements)
    for one in TABLES.firsts:
        assert one.step in TABLES.steps
        assert one.placement in TABLES.placements
    for step in TABLES.steps.values():
        for name, value in step.gives.items():
            assert value in TABLES.questions[name].values


def test_every_place_has_a_label_without_its_variant() -> None:
    assert {label(one) for one in TABLES.placements} >= {"Scleral fixation", "Iris-claw lens"}
    assert not any(label(one).endswith(("behind", "in", ",")) for one in TABLES.placements)


def test_a_lens_class_never_goes_where_it_must_not() -> None:
    """PMMA has no row of its own; what the places allow must not meet a ban."""
    banned = {row["class"]: set(row["never"]) for row in table("theatre/eye_limits")["lens_class"]}
    assert len(banned) == 5
    for place in places().values():
        for lens_class in place.lens_classes:
            assert place.placement not in banned.get(lens_class, set()), place.key


def test_what_the_eye_is_asked_about_is_in_the_case_file_or_seen_in_theatre() -> None:
    known = {key for name in ("patient", "eye", "biometry") for key in sections("case")[name]}
    known |= set(table("fields/case")["derived"]) | set(table("theatre_findings")["finding"])
    rows = table("theatre/eye_limits")
    for row in (*rows["not_if"], *rows["warn_if"]):
        one = parse(row["when"])
        assert one.finding in known, row
        field = sections("case")["eye"].get(one.finding)
        if field is not None and field.choices:
            asked = one.value if one.operator == "in" else [one.value]
            assert set(asked) <= set(field.choices)
        assert ("ask" in row) == (row.get("if_unknown") == "ask")


def test_every_limit_is_read() -> None:
    found = eye_filters(_worst)
    assert {name for name, one in found.items() if one.refused_because} >= {
        *("bag_anchored", "scleral", "iris_claw", "iris_suture", "anterior_chamber"),
    }
    assert set(found["iris_claw"].closed_variants or {}) == {"in_front"}


def _worst(name: str) -> bool | float | str:
    limits = table("theatre/eye_limits")
    rows = (*limits["not_if"], *limits["warn_if"])
    return _breaking(next(row["when"] for row in rows if parse(row["when"]).finding == name))


def _breaking(text: str) -> bool | float | str:
    one = parse(text)
    if one.operator == "in":
        return str(one.value[0])
    if one.operator in ("<", ">"):
        return float(one.value) + (1.0 if one.operator == ">" else -1.0)
    return one.value if isinstance(one.value, bool) else str(one.value)


def test_the_choices_for_a_surgeon_touch_what_there_is() -> None:
    known = {way.id for way in TABLES.ways} | {row.id for row in TABLES.rows}
    known |= set(TABLES.placements) | set(TABLES.steps) | set(trigger_links())
    known |= {one.id for one in TABLES.contradictions} | {"choice_group"}
    known |= {f"inputs.{name}" for name in TABLES.questions}
    rows = table("theatre/review_questions")["review_question"]
    assert len(rows) == 22
    for row in rows:
        assert set(row["touches"]) <= known, row["id"]


# ---------------------------------------------------------------- the minutes after

ORDERS = {link.then for link in trigger_links().values()}


def test_every_trigger_has_its_minutes_after_and_only_one() -> None:
    rows = table("theatre/then_orders")["then_order"]
    assert {row["id"] for row in rows} == ORDERS
    of = {trigger: row["id"] for row in rows for trigger in row["triggers"]}
    assert of == {link.id: link.then for link in trigger_links().values()}
    assert sum(len(row["triggers"]) for row in rows) == 29


@pytest.mark.parametrize("name", sorted(ORDERS))
def test_usual_steps_keep_their_order(name: str) -> None:
    usual = table("theatre/then_orders")["meta"]["canonical"]
    mine = [usual.index(step.id) for step in then_order(name).steps if step.id in usual]
    assert mine == sorted(mine)
    assert all(step.do and step.event for step in then_order(name).steps)


@pytest.mark.parametrize(
    "name", sorted({one.then for one in trigger_links().values() if one.closes_gate})
)
def test_after_a_trigger_that_shuts_the_gate_come_vitrectomy_rim_and_place(name: str) -> None:
    steps = [step.id for step in then_order(name).steps]
    assert steps.index("vitrectomy") < steps.index("rim") < steps.index("place")
    events = {step.event for step in then_order(name).steps}
    assert events >= set(table("theatre/power_gate")["gate"]["opens_after_events"])


def test_no_text_of_the_tables_names_a_key_of_the_program() -> None:
    """What a person reads has no underscores in it."""
    for name in NAMES:
        for key, text in _texts(table(f"theatre/{name}")):
            if key in ("ask", "says", "short", "do", "about", "name", "note", "why", "say"):
                assert not re.search(r"\w_\w", text), (name, text)


def _texts(told: object, key: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(told, dict):
        for name, value in told.items():
            yield from _texts(value, name)
    elif isinstance(told, list):
        for value in told:
            yield from _texts(value, key)
    elif isinstance(told, str):
        yield key, told
