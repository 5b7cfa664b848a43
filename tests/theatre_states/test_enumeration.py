"""Every combination of answers, judged twice: by the engine, and without it."""

from __future__ import annotations

from itertools import product

import numpy as np
from benchmarks.state_engine import (
    different_answers,
    engine_disagrees,
    faults,
    proofs,
    sample,
    states,
)
from benchmarks.state_space import exact

from zonule.plan.states.engine import state_answer
from zonule.plan.states.records import LATER
from zonule.plan.states.space import names_in, space
from zonule.plan.states.truth import after_moot, all_true

SPACE = space()
TABLES = SPACE.tables
NAMES = list(TABLES.questions)
FULL = list(product(*(one.values for one in TABLES.questions.values())))


def test_the_space_has_the_size_it_should() -> None:
    assert len(FULL) == SPACE.consistent.size == 43_200
    assert int(SPACE.consistent.sum()) == 29_676
    assert int(np.prod([size + 1 for size in TABLES.shape])) == 544_320


def test_every_state_has_one_answer_and_there_are_191_of_them() -> None:
    told = states(SPACE)
    assert len(told) == 4_507
    assert different_answers(SPACE, told) == 191


def test_full_sets_of_one_state_are_judged_alike() -> None:
    seen: dict[tuple[str, ...], set[tuple[int, ...]]] = {}
    for number, full in enumerate(FULL):
        if SPACE.consistent[number]:
            state = tuple(after_moot(dict(zip(NAMES, full, strict=True)), TABLES).values())
            arrays = (SPACE.row, SPACE.offered, SPACE.ways, SPACE.applies, SPACE.done, SPACE.asks)
            seen.setdefault(state, set()).add(tuple(int(one[number]) for one in arrays))
    assert {len(found) for found in seen.values()} == {1}


def test_one_row_and_only_one_holds_of_every_state() -> None:
    for state in states(SPACE):
        answers = dict(zip(NAMES, state, strict=True))
        rows = [all_true(one.when_all, answers, TABLES.questions) for one in TABLES.rows]
        assert rows.count(True) == 1, answers
        assert rows.count(None) == 0, answers


def test_no_place_is_offered_that_its_needs_forbid() -> None:
    assert faults(SPACE) == []


def test_the_engine_says_of_every_full_set_what_the_arrays_say() -> None:
    for number, full in enumerate(FULL):
        told = state_answer(dict(zip(NAMES, full, strict=True)))
        if not SPACE.consistent[number]:
            assert told.contradictions, full
            assert [one.placement for one in told.offered] == [LATER], full
            assert told.first_choice is None
            continue
        row = TABLES.rows[int(SPACE.row[number])]
        offered = names_in(TABLES.placements, int(SPACE.offered[number]))
        order = [one for one in row.order if one in offered]
        assert told.rows == (row.id,), full
        assert [one.placement for one in told.offered] == order, full
        assert told.first_choice == order[0], full
        assert told.next_question is None
        assert told.open == ()
        refused = {one.placement for one in told.refused}
        assert refused == set(TABLES.placements) - set(offered), full


FOUND = proofs()


def test_with_answers_not_known_the_whole_space_holds_together() -> None:
    found = FOUND
    assert found["with_not_known"] == 544_320
    assert found["offers_lost_by_an_answer"] == 0
    assert found["three_valued_wider"] == 0
    assert found["clash_but_possible"] == 0


def test_where_the_three_valued_reading_falls_short_is_known_to_the_last() -> None:
    """A person reading condition by condition never offers more, in 7,701 combinations less.

    Each is settled by answers that exclude each other: a rim that carries a haptic says that a
    capsule is there, whatever else is not known. In 144 pairs one more answer makes an earlier one
    moot; what that had settled is then open again.
    """
    found = FOUND
    assert found["three_valued_narrower"] == 7_701
    assert found["clash_seen_late"] == 666
    assert found["offers_lost_by_an_answer_that_drops_another"] == 144


def test_the_engine_is_exact_on_a_sample_with_answers_not_known() -> None:
    """The whole of the space is asked by ``make soak``."""
    whole = exact(SPACE)
    assert engine_disagrees(sample(int(whole.every.size)), whole) == []
