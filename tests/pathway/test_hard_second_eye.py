"""The hard second eye: what its plan must say, whatever else changes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import ONE_PIECE, case, example, lens_named, planned, rung, with_lenses
from zonule.pathway.show_a_plan import plan_as_json

HARD = case("hard-second-eye")
PLAN = example("hard-second-eye")


def test_at_least_eight_places_have_a_power_with_bands_or_a_refusal() -> None:
    told = [place for place in plan_as_json(PLAN)["placements"] if place["placement"] != "later"]
    powered = [one for one in told if one["power_d"] is not None]
    refused = [one for one in told if one["refused_because"] or one["waits_for"]]
    assert len(told) == len(powered) + len(refused)
    assert len(powered) >= 8
    assert all(set(one["bands"]) == {"p50", "p80", "p90"} for one in powered)


def test_the_sulcus_lies_well_below_the_bag_and_the_captured_sulcus_with_it() -> None:
    bag, sulcus = rung(PLAN, "bag"), rung(PLAN, "sulcus_three_piece")
    captured = rung(PLAN, "sulcus_capture")
    assert bag.chosen is not None
    assert sulcus.chosen is not None
    assert captured.chosen is not None
    assert bag.exact_power_d is not None
    assert sulcus.exact_power_d is not None
    assert 1.2 <= bag.exact_power_d - sulcus.exact_power_d <= 1.8
    assert 1.0 <= bag.chosen.power_d - sulcus.chosen.power_d <= 2.0
    assert captured.chosen.power_d == bag.chosen.power_d


@pytest.mark.parametrize("only", [False, True])
def test_the_one_piece_never_goes_loose_in_the_sulcus(*, only: bool) -> None:
    store = replace(with_lenses(lens_named(ONE_PIECE)), preferred_lens=ONE_PIECE)
    plan = planned(HARD, store) if only else PLAN
    for key in ("sulcus_three_piece", "sulcus_capture"):
        found = rung(plan, key)
        assert found.lens is None if only else found.lens != lens_named(ONE_PIECE)


def test_haigis_is_silent_because_the_lens_is_loose() -> None:
    told = plan_as_json(PLAN)["placements"][0]
    assert "haigis" not in told["by_formula"]
    assert told["silent_formulas"]["haigis"] == (
        "the lens is loose, so its measured depth does not tell where an implant will lie"
    )
    assert len(told["by_formula"]) >= 3


def test_the_anterior_chamber_is_refused_by_its_depth() -> None:
    found = rung(PLAN, "anterior_chamber")
    assert found.refused_because == "chamber depth 2.6 mm, needs 3.0"
    assert found.chosen is None


def test_next_to_nothing_is_carried_over_from_a_lens_loose_in_the_sulcus() -> None:
    told = plan_as_json(PLAN)["first_eye"]
    assert told["place"] == "sulcus_three_piece"
    assert told["withheld_because"] is None
    assert len(told["carried"]) >= 8
    assert all(abs(one["carried_d"]) < 0.05 for one in told["carried"].values())
    assert all(0.0 <= one["share"] < 0.25 for one in told["carried"].values())


def test_the_surprise_of_the_first_eye_belongs_to_its_place() -> None:
    told = plan_as_json(PLAN)["first_eye"]
    assert told["achieved_d"] - told["aim_d"] == pytest.approx(-0.85)
    assert told["predicted_d"] - told["in_the_bag_d"] < -0.8
    assert abs(told["error_d"]) < 0.3
    assert told["error_d"] == pytest.approx(told["achieved_d"] - told["predicted_d"])


def test_what_is_carried_from_a_bag_lens_with_the_same_error_is_much_more() -> None:
    first = HARD.fellow_eye
    assert first.operation is not None
    in_bag = replace(first.operation, placement="bag", settled_refraction_d=-1.10)
    told = plan_as_json(planned(replace(HARD, right=replace(first, operation=in_bag))))
    carried = told["first_eye"]["carried"]["bag"]
    sulcus = plan_as_json(PLAN)["first_eye"]["carried"]["bag"]
    assert carried["share"] > 2 * sulcus["share"]
    assert carried["carried_d"] < -0.2


def test_likelihoods_sum_to_one() -> None:
    found = [p["likelihood"] for p in plan_as_json(PLAN)["placements"] if p["order"] is not None]
    assert sum(found) == pytest.approx(1.0, abs=1e-9)
    assert len(found) >= 9


def test_a_lens_in_the_room_is_told_from_one_to_fetch() -> None:
    told = {place["why"]: place for place in plan_as_json(PLAN)["placements"]}
    assert told["placements.bag"]["in_room"] is True
    claw = told["placements.iris_claw:behind"]
    assert (claw["in_room"], claw["kept"]) == (False, "to_fetch")
    assert claw["wound_mm"] == 5.4


def test_assumed_spreads_are_marked() -> None:
    told = {place["why"]: place for place in plan_as_json(PLAN)["placements"]}
    assert told["placements.sulcus_three_piece"]["spread_status"] == "assumption"
    assert told["placements.bag"]["spread_status"] == "derived"
    bag = told["placements.bag"]["bands"]["p90"]
    sulcus = told["placements.sulcus_three_piece"]["bands"]["p90"]
    assert sulcus[1] - sulcus[0] > bag[1] - bag[0]
