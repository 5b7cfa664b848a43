"""Proofs about the state engine, by enumeration: part of ``make soak``, and of the tests.

What is checked of the tables is said here a second time, in words of its own: a list of what no
place may be offered for. So a row of the tables that is changed by a slip is caught.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import product
from typing import Any, Final

import numpy as np

from benchmarks.state_space import Exact, ThreeValued, answers_at, dropped_answers, exact, loses
from zonule.plan.states.engine import state_answer
from zonule.plan.states.records import LATER, NOT_KNOWN, Tables
from zonule.plan.states.space import Space, names_in, space
from zonule.plan.states.truth import after_moot, all_true

Answers = Mapping[str, str]
SAMPLE: Final = 6_000
TORN: Final = ("incomplete", "radial_tear_rim", "radial_tear_equator", "posterior_extension")
SOUND: Final = ("not_started", "continuous")
ROUND: Final = ("tear_small_round", "tear_convertible")
HOLE: Final = (*ROUND, "tear_large")
BEYOND_4: Final = ("up_to_7", "over_7")
FIXED: Final = ("scleral", "iris_claw", "iris_suture", "anterior_chamber")
SULCUS: Final = ("sulcus_capture", "sulcus_three_piece")

BY_ROW: Final = "loose sulcus while the bag is whole"
"""Forbidden by the row alone: the rim itself would carry it."""

Forbids = Callable[[Answers, frozenset[str]], bool]
"""Whether a place must not be offered: by the answers, and by the steps outstanding for it."""


def _capture_held(told: Answers, steps: frozenset[str]) -> bool:
    """Tell whether a gap up to 4 hours is held by a ring, or none is that wide."""
    if told["gap_hours"] in ("0", "up_to_3"):
        return True
    ring = told["ring_in"] == "yes" or "ring_put_in" in steps
    sound = told["posterior_capsule"] == "intact"
    round_hole = told["posterior_capsule"] == "tear_small_round" and told["ring_in"] == "yes"
    return told["gap_hours"] == "up_to_4" and ((sound and ring) or round_hole)


FORBIDDEN: Final[tuple[tuple[str, tuple[str, ...], Forbids], ...]] = (
    (
        "bag over a large tear",
        ("bag",),
        lambda a, _: a["posterior_capsule"] in ("tear_large", "absent"),
    ),
    ("bag behind a wide gap", ("bag",), lambda a, _: a["gap_hours"] in BEYOND_4),
    (
        "bag with a rim torn to the back",
        ("bag",),
        lambda a, _: a["rhexis"] == "posterior_extension",
    ),
    (
        "bag with torn rim and ring",
        ("bag",),
        lambda a, _: a["rhexis"] in TORN and a["ring_in"] == "yes",
    ),
    (
        "new bag lens, torn rim, and a gap or a hole",
        ("bag",),
        lambda a, _: (
            a["rhexis"] in TORN
            and a["lens_in_eye"] != "in_bag"
            and (a["gap_hours"] != "0" or a["posterior_capsule"] != "intact")
        ),
    ),
    (
        "bag with a gap and no ring",
        ("bag",),
        lambda a, steps: (
            a["gap_hours"] not in ("0", "not_asked")
            and a["ring_in"] == "no"
            and "ring_put_in" not in steps
            and a["lens_in_eye"] != "in_bag"
        ),
    ),
    (
        "anchored bag that is not whole",
        ("bag_anchored",),
        lambda a, _: a["posterior_capsule"] != "intact" or a["rhexis"] not in SOUND,
    ),
    ("anchor without a gap", ("bag_anchored",), lambda a, _: a["gap_hours"] == "0"),
    (
        "posterior capture without a round hole, a sound rhexis and zonule, or with vitreous",
        ("bag_posterior_capture",),
        lambda a, _: (
            a["posterior_capsule"] not in ROUND
            or a["rhexis"] not in SOUND
            or a["gap_hours"] != "0"
            or a["vitreous"] != "none"
        ),
    ),
    (
        "capture in an edge that will not hold it",
        ("sulcus_capture",),
        lambda a, steps: (
            not (
                (a["rhexis"] == "not_started" and "make_rhexis" in steps)
                or (a["rhexis"] == "continuous" and a["capsule_opening_fit"] == "yes")
            )
        ),
    ),
    (
        "capture over a gap that is not held",
        ("sulcus_capture",),
        lambda a, s: not _capture_held(a, s),
    ),
    (
        "sulcus with a short rim or a gap beyond 3 hours",
        ("sulcus_three_piece",),
        lambda a, _: a["usable_rim"] == "under_270" or a["gap_hours"] not in ("0", "up_to_3"),
    ),
    ("sulcus without a capsule", SULCUS, lambda a, _: a["posterior_capsule"] == "absent"),
    (
        BY_ROW,
        ("sulcus_three_piece",),
        lambda a, _: a["posterior_capsule"] == "intact" and a["rhexis"] in SOUND,
    ),
    (
        "optic forward without a lens in the bag over a hole",
        ("reverse_capture",),
        lambda a, _: (
            a["lens_in_eye"] != "in_bag"
            or a["posterior_capsule"] not in HOLE
            or a["rhexis"] != "continuous"
            or a["capsule_opening_fit"] != "yes"
            or a["gap_hours"] not in ("0", "up_to_3")
        ),
    ),
    (
        "fixation while bag and zonule are whole",
        FIXED,
        lambda a, _: (
            a["posterior_capsule"] == "intact" and a["rhexis"] in SOUND and a["gap_hours"] == "0"
        ),
    ),
    (
        "fixation before a whole bag behind a wide gap is given up",
        FIXED,
        lambda a, steps: (
            a["posterior_capsule"] == "intact"
            and a["gap_hours"] in BEYOND_4
            and "bag_out" not in steps
        ),
    ),
)
OF_EVERY_LENS: Final[tuple[tuple[str, Forbids], ...]] = (
    ("a lens in an eye that is not safe", lambda a, _: a["safe_to_go_on"] != "yes"),
    (
        "a lens before vitreous is cleared",
        lambda a, steps: a["vitreous"] != "none" and not steps & {"clear_vitreous", "bag_out"},
    ),
    (
        "a lens elsewhere that nobody holds",
        lambda a, steps: a["lens_in_eye"] == "elsewhere" and "lens_held" not in steps,
    ),
    (
        "a ring into a bag that is not whole",
        lambda a, steps: (
            "ring_put_in" in steps
            and (a["posterior_capsule"] != "intact" or a["rhexis"] not in SOUND)
        ),
    ),
)


def states(found: Space) -> dict[tuple[str, ...], int]:
    """Return the different consistent states after moot, each with the number of one full set."""
    tables = found.tables
    told: dict[tuple[str, ...], int] = {}
    names, values = list(tables.questions), [one.values for one in tables.questions.values()]
    for number, full in enumerate(product(*values)):
        if found.consistent[number]:
            after = after_moot(dict(zip(names, full, strict=True)), tables)
            told.setdefault(tuple(after.values()), number)
    return told


def _outstanding(found: Space, number: int, placement: str) -> frozenset[str]:
    bits = int(found.applies[number] & ~found.done[number])
    firsts = names_in(found.tables.firsts, bits)
    return frozenset(one.step for one in firsts if one.placement == placement)


def _offered(found: Space, number: int) -> tuple[str, ...]:
    return names_in(found.tables.placements, int(found.offered[number]))


def faults(found: Space) -> list[str]:
    """Return what is wrong with a set of tables; nothing, where all is well."""
    told = states(found)
    return [
        *_faults_of_rows(found, told),
        *dict.fromkeys(_forbidden_offers(found, told)),
        *dict.fromkeys(_out_of_reach(found, told)),
        *_idle(found),
    ]


def _faults_of_rows(found: Space, told: Mapping[tuple[str, ...], int]) -> Iterator[str]:
    tables = found.tables
    for state in told:
        answers = dict(zip(tables.questions, state, strict=True))
        rows = [one.id for one in tables.rows if all_true(one.when_all, answers, tables.questions)]
        if len(rows) != 1:
            yield f"{len(rows)} rows ({', '.join(rows)}) hold of {answers}"
            return


def _forbidden_offers(found: Space, told: Mapping[tuple[str, ...], int]) -> Iterator[str]:
    """Yield what is offered and must not be; a need must forbid by itself, not by its row."""
    for state, number in told.items():
        answers = dict(zip(found.tables.questions, state, strict=True))
        offered = _offered(found, number)
        for placement in (*_has_way(found, number), LATER):
            steps = _outstanding(found, number, placement)
            of_lens = OF_EVERY_LENS if placement != LATER else ()
            own = (
                (name, test)
                for name, where, test in FORBIDDEN
                if placement in where and (name != BY_ROW or placement in offered)
            )
            yield from (
                f"{placement}: {name}" for name, test in (*of_lens, *own) if test(answers, steps)
            )


def _has_way(found: Space, number: int) -> tuple[str, ...]:
    ways = names_in(found.tables.ways, int(found.ways[number]))
    return tuple(dict.fromkeys(one.placement for one in ways))


def _out_of_reach(found: Space, told: Mapping[tuple[str, ...], int]) -> Iterator[str]:
    """Yield places whose steps, once done, lead to a state that does not offer them, ready."""
    tables = found.tables
    for state, number in told.items():
        answers = dict(zip(tables.questions, state, strict=True))
        for placement in _offered(found, number):
            steps = _outstanding(found, number, placement)
            done = dict(answers)
            for one in tables.firsts:
                if one.placement == placement and one.step in steps:
                    done |= tables.steps[one.step].gives
            if steps and not _offers_ready(found, done, placement):
                yield f"{placement}: after {', '.join(sorted(steps))} it is not offered, ready"


def _offers_ready(found: Space, answers: Answers, placement: str) -> bool:
    full = {name: _some_value(found.tables, name, value) for name, value in answers.items()}
    cells = found.completions(after_moot(full, found.tables))
    return bool(cells.size) and all(
        placement in _offered(found, cell) and not _outstanding(found, cell, placement)
        for cell in cells[:1].tolist()
    )


def _some_value(tables: Tables, name: str, value: str) -> str:
    """Return an answer; for a moot question any will do."""
    return tables.questions[name].values[0] if value == "not_asked" else value


def _idle(found: Space) -> Iterator[str]:
    good = found.consistent
    ways, offered = (int(np.bitwise_or.reduce(one[good])) for one in (found.ways, found.offered))
    yield from (
        f"way {way.id} never holds"
        for at, way in enumerate(found.tables.ways)
        if not ways >> at & 1
    )
    yield from (
        f"{one} is never offered"
        for at, one in enumerate(found.tables.placements)
        if not offered >> at & 1
    )


def different_answers(found: Space, told: Mapping[tuple[str, ...], int]) -> int:
    """Return how many answers differ in row, places in order, or steps outstanding."""
    seen = set()
    for number in told.values():
        row = found.tables.rows[int(found.row[number])]
        offered = _offered(found, number)
        order = [one for one in row.order if one in offered]
        seen.add((row.id, *((one, _outstanding(found, number, one)) for one in order)))
    return len(seen)


def proofs() -> dict[str, int]:
    """Return counts over the whole space, worked out without the engine's own asking."""
    found = space()
    told, whole, three = states(found), exact(found), ThreeValued(found.tables)
    possible, clash = whole.count > 0, three.contradicted()
    short = three.offered()
    narrower = possible & ~clash & (short != whole.every)
    lost, lost_dropping = loses(
        np.where(possible, whole.every, 0), possible, dropped_answers(three)
    )
    return {
        "full_answers": int(found.consistent.size),
        "consistent": int(found.consistent.sum()),
        "states": len(told),
        "different_answers": different_answers(found, told),
        "with_not_known": int(whole.every.size),
        "possible_with_not_known": int(possible.sum()),
        "three_valued_wider": int((((short & ~whole.every) != 0) & possible).sum()),
        "three_valued_narrower": int(narrower.sum()),
        "clash_seen_late": int((~possible & ~clash)[:-1].sum()),
        "clash_but_possible": int((possible & clash).sum()),
        "offers_lost_by_an_answer": lost,
        "offers_lost_by_an_answer_that_drops_another": lost_dropping,
        "faults": len(faults(found)),
    }


def engine_disagrees(numbers: Iterable[int], whole: Exact) -> list[str]:
    """Run the engine on combinations, and return where it differs from the exact telling."""
    tables = space().tables
    every, some, firsts, count = (
        one.ravel() for one in (whole.every, whole.some, whole.firsts, whole.count)
    )
    wrong = []
    for number in numbers:
        answers = answers_at(tables, number)
        told, unsure = state_answer(answers), answers["safe_to_go_on"] == NOT_KNOWN
        if count[number] == 0:
            agrees = [one.placement for one in told.offered] == [LATER] and not told.open
        else:
            offered = set(names_in(tables.placements, int(every[number])))
            allowed = set(names_in(tables.placements, int(some[number])))
            first = names_in(tables.placements, int(firsts[number]))
            agrees = (
                {one.placement for one in told.offered} == offered
                and {one.placement for one in told.open} == allowed - offered
                and {one.placement for one in told.refused} == set(tables.placements) - allowed
                and told.first_choice == (first[0] if len(first) == 1 else None)
                and (told.next_question is None) == (told.undecided == 0 and not unsure)
            )
        if not agrees:
            wrong.append(f"{number}: {answers}")
    return wrong


def sample(size: int, count: int = SAMPLE) -> list[int]:
    """Return combinations drawn once and for all."""
    drawn = np.random.default_rng(20261125).choice(size, size=count, replace=False)
    return [int(one) for one in drawn]


def state_engine(every: int | None = None) -> dict[str, Any]:
    """Return the proofs, and what the engine said of every combination of answers.

    ``every``: no more than that many combinations, drawn once; all where omitted.
    """
    whole, begun = exact(space()), time.perf_counter()
    size = int(whole.every.size)
    numbers = range(size) if every is None else sample(size, every)
    wrong = engine_disagrees(numbers, whole)
    print(f"state engine: {len(numbers):,} asked, {time.perf_counter() - begun:.0f} s")
    for one in wrong[:5]:
        print(one, file=sys.stderr)
    return {
        "what": "theatre answers enumerated: the engine against the tables told a second time",
        **proofs(),
        "engine_runs": len(numbers),
        "engine_disagrees": len(wrong),
    }
