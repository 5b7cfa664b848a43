"""Where a number comes from: every number answers, and answers with itself."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from contracts.sources import ROOT
from plan.cases import NAMES, example, rung
from zonule.errors import NoSuchName
from zonule.library.reading import STATUSES, table
from zonule.pathway.show_a_plan import paths_of, plan_as_json
from zonule.report.why import held_by
from zonule.report.why.paths import explanations, why
from zonule.report.words import of_100, signed

CHANCES = (
    "within_0_50",
    "within_1_00",
    "above_0",
    "above_0_50",
    "likelihood",
    "likelihood_range",
    "tail_weight",
)
NOT_FIGURES = ("order", "rank")
Number = tuple[str, str, float]


def _numbers(told: Any, path: str) -> Iterator[Number]:
    """Return path, last name and value of every number below a piece of plain data."""
    if isinstance(told, bool) or told is None or isinstance(told, str):
        return
    if isinstance(told, dict):
        for key, value in told.items():
            if key not in NOT_FIGURES:
                yield from _numbers(value, f"{path}.{key}")
    elif isinstance(told, list):
        for value in told:
            yield from _numbers(value, path)
    else:
        yield path, path.rpartition(".")[2], float(told)


def _shown(name: str) -> list[Number]:
    told = plan_as_json(example(name))
    found = [n for place in told["placements"] for n in _numbers(place, place["why"])]
    for at, row in enumerate(told["expected"]):
        found += _numbers(row, f"expected[{at}]")
    if told["first_eye"] is not None:
        found += _numbers(told["first_eye"], "first_eye")
    return [*found, ("eye.aim_d", "aim_d", told["eye"]["aim_d"])]


def _written(name: str, value: float) -> tuple[str, ...]:
    """Return how a number may be written for a person."""
    if name in CHANCES:
        return (of_100(value),)
    if name in ("core_sd_d", "share"):
        return (f"{value:.2f}",)
    if name in ("wound_mm", "a_constant"):
        return (f"{value:.1f}",)
    return (signed(value),)


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_the_json_has_a_path_that_answers_with_it(name: str) -> None:
    plan, missing, wrong = example(name), [], []
    known = explanations(plan)
    shown = _shown(name)
    assert len(shown) > 120
    for path, last, value in shown:
        if path not in known:
            missing.append(path)
        elif not any(one in known[path]().value for one in _written(last, value)):
            wrong.append((path, value, known[path]().value))
    assert missing == []
    assert wrong == []


@pytest.mark.parametrize("name", NAMES)
def test_the_why_of_every_place_answers(name: str) -> None:
    plan = example(name)
    for place in plan_as_json(plan)["placements"]:
        told = why(plan, place["why"])
        assert place["label"] in told.title


@pytest.mark.parametrize("name", NAMES)
def test_every_explanation_is_whole(name: str) -> None:
    every = explanations(example(name))
    assert len(every) > 80
    for path, explain in every.items():
        told = explain()
        assert told.title
        assert told.value
        assert told.how
        assert told.status in STATUSES, path
        assert told.held_by, path
        for key in told.sources:
            assert key in table("references"), (path, key)
        for one in told.inputs:
            assert one.source == "" or one.source in table("references"), (path, one)
            assert one.status == "" or one.status in STATUSES, (path, one)


def test_a_refused_place_says_by_what_rule() -> None:
    told = why(example("hard-second-eye"), "placements.anterior_chamber")
    assert told.value == "chamber depth 2.6 mm, needs 3.0"
    assert told.sources


def test_the_power_of_the_bag_carried_elsewhere_says_so_only_where_it_is() -> None:
    unchanged = "The power chosen for the bag: the same lens, unchanged."
    path = "placements.sulcus_capture.power_d"
    assert why(example("hard-second-eye"), path).how == unchanged
    assert why(example("aphakic-eye"), path).how != unchanged


def test_the_rule_of_thumb_stands_beside_the_sulcus_and_is_not_used() -> None:
    plan = example("hard-second-eye")
    told = why(plan, "placements.sulcus_three_piece.rule_of_thumb")
    bag, sulcus = rung(plan, "bag").exact_power_d, rung(plan, "sulcus_three_piece").exact_power_d
    assert bag is not None
    assert sulcus is not None
    assert f"{signed(sulcus - bag)} D" in told.value
    assert "takes −1.0 D" in told.value


def test_a_wrong_path_offers_the_nearest() -> None:
    with pytest.raises(NoSuchName) as caught:
        why(example("plain-eye"), "placements.bag.pwer_d")
    assert caught.value.nearest[0] == "placements.bag.power_d"


def test_the_paths_listed_are_those_that_answer() -> None:
    plan = example("plain-eye")
    assert set(paths_of(plan)) == set(explanations(plan))


def test_every_test_that_is_said_to_hold_a_number_exists() -> None:
    assert len(held_by.EVERY) >= 10
    missing = [name for name in held_by.EVERY if not (ROOT / name).is_file()]
    assert missing == []


@pytest.mark.parametrize("name", NAMES)
def test_no_explanation_names_a_test_beyond_the_list(name: str) -> None:
    named = {one for explain in explanations(example(name)).values() for one in explain().held_by}
    assert named <= set(held_by.EVERY)


def test_paths_are_named_as_the_json_names_them() -> None:
    pattern = re.compile(
        r"(placements|first_eye|eye|expected\[\d+\]|after_rupture_elsewhere|"
        r"rules|tray|steps|clock_map|machine|anaesthesia|nucleus|triggers|to_say|"
        r"cornea|energy|risks)(\.|$)"
    )
    assert all(pattern.match(path) for path in explanations(example("hard-second-eye")))
