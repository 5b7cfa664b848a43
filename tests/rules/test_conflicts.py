"""Rules that pull apart: each pair shows when both speak, and only then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

import pytest

from rules.rule_eyes import NO_SULCUS, decided, eye, lookup_of, set_aside, told_of
from zonule.findings.conditions import parse
from zonule.library.rules import Conflict, conflicts
from zonule.plan.parts import ConflictReading, RuleState
from zonule.plan.rules import read_conflicts, read_rules

BOTH: dict[tuple[str, str], dict[str, Any]] = {
    ("T-13", "F-06"): {"locs_no": 5.5, "phacodonesis": "slight"},
    ("T-04", "T-10"): {"lens_look": "brunescent"},
    ("D-09", "T-03"): {"phacodonesis": "marked"},
    ("D-11", "T-14"): {"dialysis_clock_hours": 2},
    ("D-06", "W-19"): {"pupil_dilated_mm": 4.0, "antithrombotic": "warfarin"},
    ("W-19", "W-32"): {"antithrombotic": "warfarin", "inr": 3.8},
    ("F-05", "F-04"): {"glaucoma": True, "phacodonesis": "slight"},
    ("W-13", "W-17"): {"ecd": 1500, "age": 92},
    ("D-05", "D-09"): {"pupil_dilated_mm": 4.0, "phacodonesis": "slight"},
    ("D-21", "W-24"): {
        "pxf": True,
        "fellow": {"operation": {"placement": "sulcus_three_piece"}},
    },
}
"""Each pair with the findings that make both of them speak."""
PAIRS = list(BOTH)
NOT_FIRING = [state for state in get_args(RuleState) if state != "fires"]


def pulling_apart(entry: Mapping[str, Any], *aside: str) -> tuple[ConflictReading, ...]:
    """Return the pairs that an eye shows, some rules set aside by the surgeon."""
    case = set_aside(entry, *aside)
    lookup = lookup_of(case, NO_SULCUS)
    return read_conflicts(read_rules(case, lookup, ()), case, lookup)


def shown(entry: Mapping[str, Any], *aside: str) -> list[tuple[str, str]]:
    return [one.conflict.rules for one in pulling_apart(entry, *aside)]


def test_the_ten_pairs_are_the_ones_tested() -> None:
    assert len(conflicts()) == 10
    assert {one.rules for one in conflicts()} == set(BOTH)


@pytest.mark.parametrize("pair", PAIRS)
def test_a_pair_shows_when_both_fire(pair: tuple[str, str]) -> None:
    (found,) = (one for one in pulling_apart(BOTH[pair]) if one.conflict.rules == pair)
    assert (found.first.id, found.second.id) == pair
    assert found.conflict.question.endswith("?")
    assert found.conflict.settled


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("state", NOT_FIRING)
@pytest.mark.parametrize("which", [0, 1])
def test_a_pair_does_not_show_when_one_of_it_does_not_fire(
    pair: tuple[str, str], state: RuleState, which: int
) -> None:
    case, lookup = eye(BOTH[pair])
    readings = [
        replace(one, state=state) if one.rule.id == pair[which] else one
        for one in read_rules(case, lookup, ())
    ]
    told = [one.conflict.rules for one in read_conflicts(readings, case, lookup)]
    assert pair not in told


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("which", [0, 1])
def test_a_pair_does_not_show_when_the_surgeon_set_one_aside(
    pair: tuple[str, str], which: int
) -> None:
    assert pair in shown(BOTH[pair])
    assert pair not in shown(BOTH[pair], pair[which])


def test_a_pair_shows_the_departments_wording() -> None:
    case, lookup = eye(BOTH["D-05", "D-09"])
    own = decided("changed", "D-05", title="Square of hooks")
    found = read_conflicts(read_rules(case, lookup, [own]), case, lookup)
    assert "Square of hooks" in {one.first.title for one in found}


def test_a_plain_eye_shows_no_pair() -> None:
    assert shown({"phacodonesis": "none", "locs_no": 3.0, "lens_look": "nuclear"}) == []


def test_a_rhexis_that_can_be_finished_does_not_pull_against_capsule_hooks() -> None:
    for loose in ({"phacodonesis": "slight"}, {"phacodonesis": "none", "dialysis_clock_hours": 4}):
        assert told_of("D-09", loose).state == told_of("T-03", loose).state == "fires"
        assert ("D-09", "T-03") not in shown(loose)


def test_while_nobody_knows_how_loose_the_lens_is_the_pair_is_shown() -> None:
    assert ("D-09", "T-03") in shown({"dialysis_clock_hours": 4})


def test_low_vacuum_is_weighed_against_a_hard_lens_only_where_the_zonule_is_weak() -> None:
    floppy = {"locs_no": 5.5, "alpha_blocker": "current"}
    sound = {"phacodonesis": "none", "dialysis_clock_hours": 0, "pxf": False}
    assert told_of("T-13", floppy | sound).state == "fires"
    assert ("T-13", "F-06") not in shown(floppy | sound)


@pytest.mark.parametrize("conflict", conflicts(), ids=lambda one: "-".join(one.rules))
def test_what_gives_way_is_one_of_the_pair(conflict: Conflict) -> None:
    assert conflict.gives_way in ("", *conflict.rules)
    assert all(parse(text) for text in conflict.when_all)
