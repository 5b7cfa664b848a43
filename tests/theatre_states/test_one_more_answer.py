"""Answers drawn at random: one more of them never takes an offer away."""

from __future__ import annotations

from typing import Final

from hypothesis import assume, given, note
from hypothesis import strategies as st

from zonule.plan.states.engine import state_answer
from zonule.plan.states.records import LATER, NOT_ASKED, NOT_KNOWN
from zonule.plan.states.tables import tables

QUESTIONS: Final = tables().questions
PLACES: Final = tuple(one for one in tables().placements if one != LATER)
answers = st.fixed_dictionaries(
    {name: st.sampled_from((*one.values, NOT_KNOWN, NOT_KNOWN)) for name, one in QUESTIONS.items()}
)
removed = st.dictionaries(st.sampled_from(PLACES), st.just("not in your repertoire"), max_size=6)
ranked = st.permutations(tables().choice_group)


def _forgets(before: dict[str, str], after: dict[str, str]) -> bool:
    """Tell whether an answer of before is dropped because its question became moot."""
    told, now = state_answer(before).answers, state_answer(after).answers
    return any(now[name] == NOT_ASKED and told[name] not in (NOT_ASKED, NOT_KNOWN) for name in told)


@given(answers, st.sampled_from(list(QUESTIONS)), st.data(), removed)
def test_knowing_one_more_answer_never_loses_an_offer(
    before: dict[str, str], name: str, data: st.DataObject, without: dict[str, str]
) -> None:
    before = before | {name: NOT_KNOWN}
    after = before | {name: data.draw(st.sampled_from(QUESTIONS[name].values))}
    told, now = (state_answer(one, removed=without) for one in (before, after))
    assume(not now.contradictions and not _forgets(before, after))
    note(f"{name}: {after[name]}")
    assert {one.placement for one in told.offered} <= {one.placement for one in now.offered}
    assert {one.placement for one in now.open} <= {one.placement for one in told.open}
    if told.first_choice is not None:
        assert now.first_choice == told.first_choice


@given(answers, removed, ranked)
def test_every_place_is_offered_open_or_refused_and_never_two_of_them(
    told: dict[str, str], without: dict[str, str], order: list[str]
) -> None:
    found = state_answer(told, removed=without, repertoire_order=order)
    places = [one.placement for one in found.offered]
    places += [one.placement for one in found.open] + [one.placement for one in found.refused]
    assert sorted(places) == sorted(tables().placements)
    assert LATER in [one.placement for one in found.offered]
    assert "none_final" not in places
    assert not {one.placement for one in found.offered} & set(without)


@given(answers, ranked)
def test_the_repertoire_orders_only_what_no_study_ranks(
    told: dict[str, str], order: list[str]
) -> None:
    plain, mine = state_answer(told), state_answer(told, repertoire_order=order)
    group = set(order)
    one, other = [x.placement for x in plain.offered], [x.placement for x in mine.offered]
    assert [x if x not in group else "*" for x in one] == [
        x if x not in group else "*" for x in other
    ]
    assert [x for x in other if x in group] == [x for x in order if x in other]


@given(answers)
def test_there_is_a_question_exactly_while_something_is_undecided(told: dict[str, str]) -> None:
    found = state_answer(told)
    assume(not found.contradictions)
    unsure = told["safe_to_go_on"] == NOT_KNOWN
    assert (found.next_question is None) == (found.undecided == 0 and not unsure)
    if found.next_question is not None:
        assert found.answers[found.next_question] == NOT_KNOWN
    if unsure:
        assert found.next_question == "safe_to_go_on"


@given(answers)
def test_asking_on_ends_with_nothing_open(told: dict[str, str]) -> None:
    """Whatever is answered, the questions asked lead to a settled answer or a contradiction."""
    asked = 0
    found = state_answer(told)
    while found.next_question is not None and not found.contradictions:
        name = found.next_question
        told = {**told, name: QUESTIONS[name].values[0]}
        found = state_answer(told)
        asked += 1
        assert asked <= len(QUESTIONS)
    assert found.contradictions or found.first_choice is not None
