"""Do the bands hold what they say, and what if the stated spread of the position is wrong.

Eyes drawn from the law itself test the coding only: they say nothing about the world. That the
spreads outside the bag are assumed is why the second half computes what a wrong one costs.
"""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from assessment.eyes import AIM_D, WITH_A_LENS, eye_of, predicted
from zonule.assessment.prediction import Prediction
from zonule.formulas.uncertainty import law
from zonule.library.placements import place
from zonule.library.reading import table

WRITTEN = Path(__file__).parents[2] / "docs" / "measured" / "soak.json"
FACTORS = {"stated": 1.0, "0.7": 0.7, "1.4": 1.4}


@cache
def written() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(WRITTEN.read_text(encoding="utf-8"))
    return found


def coverage() -> dict[str, Any]:
    found: dict[str, Any] = written()["coverage"]
    return found


def row_of(eye: str, place_key: str) -> dict[str, Any]:
    rows = [row for row in coverage()["rows"] if (row["eye"], row["place"]) == (eye, place_key)]
    assert len(rows) == 1, (eye, place_key)
    found: dict[str, Any] = rows[0]
    return found


@pytest.mark.parametrize("place_key", WITH_A_LENS)
def test_bands_hold_eyes_drawn_from_the_law(place_key: str) -> None:
    """Tests the coding only."""
    found = predicted(place_key, eye_of())
    draws = law.sample(found.law, rng=np.random.default_rng(10), count=10_000)[0]
    for level in table("prediction")["bands"]["levels"]:
        low, high = law.band(found.law, level=level)
        held = np.mean((draws >= low[0]) & (draws <= high[0]))
        assert held == pytest.approx(level, abs=0.02)


def true_outcomes_d(found: Prediction, *, factor: float, eyes: int, seed: int) -> np.ndarray:
    """Return outcomes of eyes whose position scatters by so many times what is stated.

    The lens is put where it came to rest and the light is traced through every formula's eye;
    all else is added as a normal error, and the gross error of a few eyes on top.
    """
    rng, at = np.random.default_rng(seed), found.place
    rest_mm = at.move_mm + factor * at.position_sd_mm * rng.standard_normal(eyes)
    rest_mm += at.position_mean_sd_mm * rng.standard_normal(eyes)
    traced = found.optics.refraction_d(found.powers_d[0], move_mm=rest_mm).mean(axis=-1)
    budget, tail = found.budget, table("prediction")["tail"]
    others = budget.length + budget.cornea + budget.chamber + budget.length_with_chamber
    others = others + budget.label + budget.refraction + budget.tilt + budget.disagreement
    gross = rng.random(eyes) < tail[at.tail]["weight"]
    added = np.sqrt(others[0]) * rng.standard_normal(eyes)
    return np.asarray(traced + added + gross * tail["sd_d"] * rng.standard_normal(eyes))


def percent_held(found: Prediction, *, factor: float) -> float:
    low, high = law.band(found.law, level=0.9)
    outcomes = true_outcomes_d(found, factor=factor, eyes=40_000, seed=7)
    return float(100.0 * np.mean((outcomes >= low[0]) & (outcomes <= high[0])))


def test_the_measurement_is_there_and_says_of_what_and_when() -> None:
    assert written()["schema"] == "zonule-soak-1"
    assert re.fullmatch(r"[0-9a-f]{12}", written()["coverage"]["commit"])
    assert re.fullmatch(r"\d{4}-\d{2}-\d{2}", written()["coverage"]["date"])
    assert (coverage()["level"], coverage()["aim_d"]) == (0.9, AIM_D)


def test_the_random_tests_were_drawn_anew_and_held() -> None:
    found = written()["random_tests"]
    assert found["seeds"] >= 20
    assert found["passed"] >= 20 * 100
    assert found["failed"] == 0


def test_every_place_is_measured_in_every_eye() -> None:
    eyes = coverage()["eyes"]
    assert set(eyes) == {"short", "average", "long"}
    assert len(WITH_A_LENS) > 12
    measured = [(row["eye"], row["place"]) for row in coverage()["rows"]]
    assert sorted(measured) == sorted((eye, key) for eye in eyes for key in WITH_A_LENS)


@pytest.mark.parametrize("eye", ["short", "average", "long"])
@pytest.mark.parametrize("place_key", WITH_A_LENS)
def test_what_was_written_is_what_draws_through_the_optics_give(eye: str, place_key: str) -> None:
    row = row_of(eye, place_key)
    found = predicted(place_key, eye_of(**coverage()["eyes"][eye]))
    assert row["power_d"] == pytest.approx(found.powers_d[0], abs=0.01)
    for name, factor in FACTORS.items():
        assert row[name] == pytest.approx(percent_held(found, factor=factor), abs=1.5), name
    drawn = true_outcomes_d(found, factor=1.0, eyes=40_000, seed=8)
    width = np.diff(np.quantile(drawn, [0.05, 0.95]))[0]
    assert row["width_d"] == pytest.approx(width, rel=0.04)


@pytest.mark.parametrize("row", coverage()["rows"], ids=lambda row: f"{row['eye']} {row['place']}")
def test_less_scatter_than_stated_is_held_more_often(row: dict[str, Any]) -> None:
    assert row["1.4"] < row["stated"] < row["0.7"]
    assert row["stated"] == pytest.approx(90.0, abs=0.2)


@pytest.mark.parametrize(
    ("place_key", "less", "more", "within"),
    [("bag", 91.9, 85.7, 1.0), ("sulcus_three_piece", 94.4, 81.0, 2.5)],
)
def test_the_size_is_plausible(place_key: str, less: float, more: float, within: float) -> None:
    """Against an earlier reckoning over a whole population; the sulcus there carried tilt too."""
    row = row_of("average", place_key)
    assert row["0.7"] == pytest.approx(less, abs=within)
    assert row["1.4"] == pytest.approx(more, abs=within)


def test_where_the_position_matters_little_a_wrong_spread_costs_little() -> None:
    for place_key in WITH_A_LENS:
        held = [row_of(eye, place_key)["1.4"] for eye in ("short", "average", "long")]
        assert held == sorted(held), place_key
    assert place("bag").position_sd_mm < place("sulcus_three_piece").position_sd_mm
    assert row_of("average", "bag")["1.4"] > row_of("average", "sulcus_three_piece")["1.4"]


def test_what_is_known_to_be_turned_round_in_long_eyes() -> None:
    """Told in docs/measured: the weight of gross errors, not knowledge, narrows a torn bag."""
    for eye, torn_is_wider in (("short", True), ("average", True), ("long", False)):
        bag, torn = (row_of(eye, key)["width_d"] for key in ("bag", "bag:posterior_tear"))
        assert (torn > bag) is torn_is_wider, eye
