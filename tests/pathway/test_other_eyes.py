"""The half-missing, aphakic, long and short eyes, and eyes whose power is withheld."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any

import pytest

from plan.cases import (
    case,
    example,
    planned,
    rung,
    with_biometry,
    with_eye,
    with_findings,
    with_status,
)
from report.pages import flowing, page
from zonule.findings.answers import Unknown
from zonule.findings.records import Case
from zonule.pathway.show_a_plan import plan_as_json

PLAIN, HARD = case("plain-eye"), case("hard-second-eye")


def test_the_half_missing_eye_is_planned_all_the_same() -> None:
    told = plan_as_json(example("half-missing"))
    assert told["power_withheld_because"] is None
    assert sum(place["power_d"] is not None for place in told["placements"]) >= 8
    bag = told["placements"][0]
    assert "haigis" not in bag["by_formula"]
    assert "haigis" in bag["silent_formulas"]
    assert told["first_eye"] is None


def test_nothing_unknown_in_the_half_missing_eye_is_read_as_absent() -> None:
    told = plan_as_json(example("half-missing"))
    waiting = {p["why"]: p["waits_for"] for p in told["placements"] if p["waits_for"]}
    assert waiting["placements.iris_claw:behind"] == "uveitis"
    assert waiting["placements.anterior_chamber"] == "anterior chamber depth"
    says = [one["says"] for one in told["placements"][0]["caveats"]]
    assert "zonular dialysis not known" in says
    assert "ecd" in {item["finding"] for item in told["unknown"]}


@pytest.mark.parametrize("unknown", list(Unknown))
def test_recording_that_nobody_knows_closes_no_more_and_opens_no_more(unknown: Unknown) -> None:
    plain = planned(with_findings(case("half-missing"), hist_uveitis=unknown))
    assert rung(plain, "iris_claw:behind").waits_for == "uveitis"
    known = planned(with_findings(case("half-missing"), hist_uveitis=False))
    assert rung(known, "iris_claw:behind").chosen is not None


def test_a_band_is_wider_where_less_is_known() -> None:
    told = plan_as_json(example("half-missing"))["placements"][0]["bands"]["p90"]
    better = planned(
        with_biometry(
            with_findings(case("half-missing"), lens_look="nuclear"), method="optical_swept_source"
        )
    )
    plain = plan_as_json(better)["placements"][0]["bands"]["p90"]
    assert told[1] - told[0] > plain[1] - plain[0]


def test_an_aphakic_eye_has_no_bag_and_starts_with_the_captured_sulcus() -> None:
    told = plan_as_json(example("aphakic-eye"))
    offered = [p for p in told["placements"] if p["order"] is not None]
    assert offered[0]["placement"] == "sulcus_capture"
    assert offered[0]["power_d"] is not None
    assert not [p for p in offered if p["placement"].startswith("bag")]
    assert told["eye"]["order"] == "second_operation"
    assert told["first_eye"] is None


def test_an_aphakic_eye_without_a_capsule_goes_by_holladay_1_alone() -> None:
    plan = planned(with_findings(case("aphakic-eye"), capsule_present="none"))
    told = {place["why"]: place for place in plan_as_json(plan)["placements"]}
    sclera = told["placements.scleral:intrascleral_2_0_mm"]
    assert list(sclera["by_formula"]) == ["holladay1"]
    assert sclera["silent_formulas"]["srkt"] == "no capsule: Holladay 1"
    assert told["placements.sulcus_capture"]["refused_because"] == "no capsule is present"


def test_the_long_eye_is_sensible() -> None:
    told = plan_as_json(example("long-eye-after-vitrectomy"))
    bag = told["placements"][0]
    assert 5.0 < bag["power_d"] < 13.0
    assert abs(bag["refraction_d"] - told["eye"]["aim_d"]) < 0.5
    assert bag["silent_formulas"]["haigis"].startswith("the iris trembles")
    bag_exact, sulcus = bag["exact_power_d"], told["placements"][5]
    assert sulcus["placement"] == "sulcus_three_piece"
    assert 0.2 < bag_exact - sulcus["exact_power_d"] < 1.0, "a millimetre weighs less in a long eye"


def test_the_short_eye_is_sensible() -> None:
    told = plan_as_json(example("short-eye-white-lens"))
    bag = told["placements"][0]
    assert 25.0 < bag["power_d"] < 32.0
    assert abs(bag["refraction_d"] - told["eye"]["aim_d"]) < 0.5
    assert bag["silent_formulas"]["haigis"] == (
        "the lens is swollen, so its measured depth is too shallow"
    )
    sulcus = told["placements"][5]
    assert sulcus["placement"] == "sulcus_three_piece"
    assert bag["exact_power_d"] - sulcus["exact_power_d"] > 1.8, "a millimetre weighs more"


@pytest.mark.parametrize("name", ["long-eye-after-vitrectomy", "short-eye-white-lens"])
def test_every_silent_formula_says_why(name: str) -> None:
    plan = example(name)
    for place in plan_as_json(plan)["placements"]:
        assert all(place["silent_formulas"].values())
    text = flowing(page(plan))
    assert rung(plan, "bag").prediction is not None
    for use in rung(plan, "bag").prediction.uses:  # type: ignore[union-attr]
        if not use.applies:
            assert f"{use.label} is silent: {use.says}" in text


def _unmeasured() -> Case:
    return with_eye(PLAIN, replace(PLAIN.operative_eye, biometry=()))


WITHHELD = {
    "reshaped cornea": with_findings(PLAIN, hist_refractive_surgery="myopic_laser"),
    "reshaped cornea of a second eye": with_findings(HARD, hist_refractive_surgery="other"),
    "wrong lens setting": with_biometry(PLAIN, measured_as="aphakic"),
    "no biometry": _unmeasured(),
    "no length": with_biometry(HARD, axial_length_mm=Unknown.NOT_POSSIBLE),
    "lens status unknown": with_status(PLAIN, Unknown.UNKNOWN),
    "an implant already": with_status(PLAIN, "pseudophakic"),
}
OF_A_POWER = ("power_d", "exact_power_d", "refraction_d", "at_bounds_d", "core_sd_d")


def _none_of(told: Any, keys: tuple[str, ...]) -> bool:
    if isinstance(told, dict):
        return all(
            _none_of(value, keys) and (key not in keys or value is None)
            for key, value in told.items()
        )
    return not isinstance(told, list) or all(_none_of(one, keys) for one in told)


@pytest.mark.parametrize("name", WITHHELD)
def test_a_power_withheld_appears_nowhere_and_the_rest_is_still_told(name: str) -> None:
    plan = planned(WITHHELD[name])
    told = plan_as_json(plan)
    assert told["power_withheld_because"]
    assert told["expected"] == []
    places = told["placements"]
    assert len(places) == len(plan_as_json(example("plain-eye"))["placements"])
    assert _none_of(places, OF_A_POWER)
    assert all(place["by_formula"] == {} for place in places)
    text = flowing(page(plan))
    assert "No lens power is shown." in text
    assert plan.power_withheld[1:] in text
    before_first_eye = text.partition("What the first eye taught")[0]
    assert not re.search(r"[+−]\d+\.\d\d D(?!.{0,12}\))", _without_aim(before_first_eye))
    assert places[0]["label"] in text


def _without_aim(text: str) -> str:
    return re.sub(r"[Aa]im [+−]\d+\.\d\d D", "", text)


@pytest.mark.parametrize("name", WITHHELD)
def test_the_powers_that_would_have_been_are_not_in_the_text_either(name: str) -> None:
    whole = HARD if "second eye" in name or name == "no length" else PLAIN
    shown = planned(whole)
    powers = {f"{one.chosen.power_d:+.2f}" for one in shown.rungs if one.chosen}
    assert powers
    told = plan_as_json(planned(WITHHELD[name]))
    first = told.pop("first_eye")
    assert first is None or first["carried"] == {}
    assert not [power for power in powers if power in json.dumps(told)]


def test_a_withheld_power_is_never_the_first_eyes_fault() -> None:
    told = plan_as_json(planned(WITHHELD["reshaped cornea of a second eye"]))
    assert told["first_eye"]["lens_power_d"] == 20.5
    assert "carried over: no power is shown" in " ".join(told["first_eye"]["says"])
