"""Whatever is known or not known of an eye: a plan is made, and it contradicts itself nowhere."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plan.cases import NAMES, case, planned, practice, with_biometry, with_eye, with_findings
from zonule.findings.answers import Unknown
from zonule.findings.records import Case, Eye
from zonule.library.placements import places
from zonule.pathway.show_a_plan import plan_as_json
from zonule.practice.records import Practice
from zonule.report.plan_schema import plan_schema
from zonule.report.why.paths import explanations

UNKNOWN = st.sampled_from(list(Unknown))
YES_NO = st.booleans() | UNKNOWN
FINDINGS: dict[str, st.SearchStrategy[Any]] = {
    "phacodonesis": st.sampled_from(["none", "slight", "marked"]) | UNKNOWN,
    "iridodonesis": YES_NO,
    "dialysis_clock_hours": st.integers(0, 12) | UNKNOWN,
    "lens_look": st.sampled_from(["nuclear", "brunescent", "white_intumescent"]) | UNKNOWN,
    "ecd": st.integers(500, 4000) | UNKNOWN,
    "glaucoma": YES_NO,
    "hist_angle_closure": YES_NO,
    "hist_uveitis": YES_NO,
    "hist_refractive_surgery": st.sampled_from(["none", "myopic_laser"]) | UNKNOWN,
    "pxf": YES_NO,
    "capsule_present": st.sampled_from(["none", "rim", "posterior_torn", "complete"]) | UNKNOWN,
}
LENGTHS, CORNEAS = st.floats(19.0, 34.0), st.floats(36.0, 52.0)
METHODS = ["optical_swept_source", "ultrasound_immersion", "ultrasound_contact"]
BIOMETRY: dict[str, st.SearchStrategy[Any]] = {
    "axial_length_mm": LENGTHS,
    "k_flat_d": CORNEAS,
    "k_steep_d": CORNEAS,
    "anterior_chamber_depth_mm": st.floats(1.5, 6.0) | UNKNOWN,
    "axial_length_sd_mm": st.floats(0.0, 1.0) | UNKNOWN,
    "method": st.sampled_from(METHODS),
}
AT_THE_LIMITS: dict[str, st.SearchStrategy[Any]] = {
    "axial_length_mm": st.floats(15.0, 40.0) | UNKNOWN,
    "k_flat_d": st.floats(30.0, 60.0) | UNKNOWN,
    "k_steep_d": st.floats(30.0, 60.0) | UNKNOWN,
    "method": UNKNOWN,
    "measured_as": st.sampled_from(["phakic", "pseudophakic", "aphakic"]) | UNKNOWN,
}


def _some(draw: st.DrawFn, of: dict[str, st.SearchStrategy[Any]], most: int) -> dict[str, Any]:
    names = draw(st.lists(st.sampled_from(sorted(of)), unique=True, max_size=most))
    return {name: draw(of[name]) for name in names}


@st.composite
def cases(draw: st.DrawFn, *, wild: bool) -> Case:
    """Draw a case: an eye that can mostly be planned, or a wild one that mostly cannot."""
    whole = case(draw(st.sampled_from(NAMES)))
    dropped = draw(st.lists(st.sampled_from(sorted(whole.operative_eye.answers)), max_size=4))
    whole = with_findings(whole, **dict.fromkeys(dropped))
    whole = with_findings(whole, **_some(draw, FINDINGS, 5))
    whole = with_biometry(whole, **_some(draw, BIOMETRY, 6))
    eye = whole.operative_eye
    if wild:
        whole = with_biometry(whole, **_some(draw, AT_THE_LIMITS, 3))
        status = draw(st.sampled_from(["phakic", "aphakic", "pseudophakic", *Unknown]))
        eye = replace(whole.operative_eye, lens_status=status)
        eye = replace(eye, biometry=draw(st.sampled_from([eye.biometry, ()])))
    elif draw(st.booleans()):  # the other eye unmeasured: nothing to contradict this one
        whole = _alone(whole)
    places_ = st.lists(st.sampled_from(sorted(places())), max_size=3)
    whole = with_eye(whole, replace(eye, refused_placements=tuple(draw(places_))))
    aim = replace(
        whole.aim,
        spherical_equivalent_d=draw(st.floats(-6.0, 3.0)),
        rule=draw(st.sampled_from(["best_chance", "nearest", "asymmetric"])),
    )
    return replace(whole, aim=aim)


def _alone(whole: Case) -> Case:
    alone = Eye(side=whole.fellow_eye.side)
    whole = with_eye(whole, alone)
    refraction = "old_refraction_spherical_equivalent_d"
    return with_findings(whole, **{refraction: None})


@st.composite
def stores(draw: st.DrawFn) -> Practice:
    """Draw a practice with lenses, places and shares taken out, or the whole of it."""
    store = practice()
    if draw(st.booleans()):
        return store
    lenses = draw(st.lists(st.sampled_from(range(len(store.lenses))), unique=True))
    repertoire = draw(st.lists(st.sampled_from(store.repertoire), unique=True))
    kept = {key: share for key, share in store.shares.items() if draw(st.booleans())}
    return replace(
        store,
        lenses=tuple(store.lenses[at] for at in lenses),
        repertoire=draw(st.sampled_from([store.repertoire, tuple(repertoire)])),
        shares=MappingProxyType(kept),
    )


def numbers(told: Any, path: str = "") -> Iterator[tuple[str, float]]:
    """Return every number of plain data with where it stands."""
    if isinstance(told, dict):
        for key, value in told.items():
            yield from numbers(value, f"{path}.{key}")
    elif isinstance(told, list):
        for at, value in enumerate(told):
            yield from numbers(value, f"{path}[{at}]")
    elif isinstance(told, int | float) and not isinstance(told, bool):
        yield path, float(told)


VALIDATOR = jsonschema.Draft202012Validator(plan_schema())


def _agrees(place: dict[str, Any], withheld: str | None, *, shows_a_power: bool) -> None:
    offered, powered = place["order"] is not None, place["power_d"] is not None
    reason = place["refused_because"] or place["waits_for"]
    if powered:
        assert offered
        assert reason is None
        bands = place["bands"]
        assert bands["p90"][0] <= bands["p80"][0] <= bands["p50"][0] <= place["refraction_d"]
        assert place["refraction_d"] <= bands["p50"][1] <= bands["p80"][1] <= bands["p90"][1]
        assert place["within_0_50"] <= place["within_1_00"]
        assert place["hyperopic"]["above_0_50"] <= place["hyperopic"]["above_0"]
    elif offered and place["placement"] != "later":
        assert reason, "offered without a power: only with a reason"
        if place["order"] == 0:
            assert withheld
            own = f"{place['label']}: {reason}"
            assert withheld == own or not shows_a_power, "backups have powers: why not this one?"
        else:
            assert reason == withheld, "a backup without a power: only where all are withheld"
    elif not offered:
        assert reason


def _is_sound(told: dict[str, Any]) -> None:
    VALIDATOR.validate(told)
    assert all(math.isfinite(value) for _, value in numbers(told))
    json.dumps(told, allow_nan=False)
    shows_a_power = any(place["power_d"] is not None for place in told["placements"])
    for place in told["placements"]:
        _agrees(place, told["power_withheld_because"], shows_a_power=shows_a_power)
    shares = [p["likelihood"] for p in told["placements"] if isinstance(p["likelihood"], float)]
    closing = next(place for place in told["placements"] if place["placement"] == "later")
    if shares and closing["order"] is not None:
        assert sum(shares) == pytest.approx(1.0, abs=1e-9)
    assert sum(shares) <= 1.0 + 1e-9, "what a refused second operation would have had is in none"
    in_hand = next((place for place in told["placements"] if place["order"] == 0), None)
    has_power = in_hand is not None and in_hand["power_d"] is not None
    assert has_power is (told["power_withheld_because"] is None)
    if told["power_withheld_because"]:
        assert told["expected"] == []


@settings(max_examples=60)
@given(cases(wild=False), stores())
def test_a_plan_agrees_with_itself_in_any_eye(whole: Case, store: Practice) -> None:
    _is_sound(plan_as_json(planned(whole, store)))


@settings(max_examples=60)
@given(cases(wild=True), stores())
def test_a_plan_agrees_with_itself_however_odd_the_eye(whole: Case, store: Practice) -> None:
    _is_sound(plan_as_json(planned(whole, store)))


def test_the_draws_do_reach_eyes_with_powers() -> None:
    reached: list[bool] = []

    @settings(max_examples=150)
    @given(cases(wild=False), stores())
    def draw(whole: Case, store: Practice) -> None:
        reached.append(any(one.chosen for one in planned(whole, store).rungs))

    draw()
    assert sum(reached) >= len(reached) / 4


@settings(max_examples=20)
@given(cases(wild=False), stores())
def test_every_explanation_of_any_plan_can_be_written(whole: Case, store: Practice) -> None:
    for path, explain in explanations(planned(whole, store)).items():
        found = explain()
        assert found.value
        assert path.startswith(found.path.rpartition(".")[0])
