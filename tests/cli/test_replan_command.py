"""``zonule replan``: what is asked, offered and refused, on the terminal and as JSON."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from cli.commands import PRACTICE, run
from plan.cases import EXAMPLES, example

Capture = pytest.CaptureFixture[str]
CASE = str(EXAMPLES / "hard-second-eye.toml")
DAY = ("--today", "2026-11-25")
TORN = (
    "safe_to_go_on=yes,lens_in_eye=none,ring_in=no,posterior_capsule=tear_large,gap_hours=0,"
    "usable_rim=360,capsule_opening_fit=yes,rhexis=continuous"
)


def asked(capsys: Capture, *arguments: str, case: str = CASE) -> dict[str, Any]:
    """Return what a replan says, as JSON."""
    told = run(capsys, "replan", case, *DAY, *arguments, "--json")
    assert (told.status, told.err) == (0, "")
    found: dict[str, Any] = json.loads(told.out)
    return found


def words(capsys: Capture, *arguments: str) -> str:
    told = run(capsys, "replan", CASE, *DAY, *arguments)
    assert (told.status, told.err) == (0, "")
    return " ".join(told.out.split())


def test_without_answers_it_starts_from_what_was_known_beforehand(capsys: Capture) -> None:
    found = asked(capsys)
    assert found["schema"] == "zonule-replan-1"
    assert found["answers"]["safe_to_go_on"] == "yes"
    assert found["answers"]["rhexis"] == "not_started"
    assert found["stage"] is None


def test_the_question_stands_before_the_places(capsys: Capture) -> None:
    page = words(capsys, "--state", "posterior_capsule=not_known")
    assert page.index("Posterior capsule: what is seen?") < page.index("Left eye: Not yet: ask.")


def test_each_place_has_lens_power_and_refraction_of_the_plan(capsys: Capture) -> None:
    found = asked(capsys, "--state", f"{TORN},vitreous=none")
    assert found["first_choice"] == "sulcus_capture"
    rungs = {one.place.key: one for one in example("hard-second-eye").rungs}
    seen = 0
    for place in found["offered"]:
        for lens in place["lenses"]:
            chosen = rungs[lens["place"]].chosen
            assert chosen is not None
            assert lens["power_d"] == chosen.power_d
            assert lens["expected_d"] == chosen.refraction_d
            seen += 1
    assert seen >= 4


def test_while_vitreous_is_there_no_lens_and_no_power_is_named(capsys: Capture) -> None:
    page = words(capsys, "--state", f"{TORN},vitreous=in_chamber")
    assert "Every lens stays in its sealed box." in page
    assert not re.search(r"[+−]\d+\.\d\d D", page)
    found = asked(capsys, "--state", f"{TORN},vitreous=in_chamber")
    assert {lens["power_d"] for one in found["offered"] for lens in one["lenses"]} == {None}
    assert found["offered"][0]["placement"] == "sulcus_capture"
    assert not found["offered"][0]["ready"]


def test_what_the_surgeon_does_not_do_is_refused_with_that_reason(capsys: Capture) -> None:
    found = asked(capsys, "--state", f"{TORN},vitreous=none")
    reasons = {one["placement"]: one["says"] for one in found["refused"]}
    assert reasons["iris_suture"].endswith("not in your repertoire.")
    assert "needs" in reasons["bag"]


def test_what_the_patient_refused_is_refused(capsys: Capture, tmp_path: Path) -> None:
    case = tmp_path / "case.toml"
    text = Path(CASE).read_text("utf-8")
    told = text.replace("[left]\n", '[left]\nrefused_placements = ["sulcus_capture"]\n', 1)
    case.write_text(told, encoding="utf-8")
    found = asked(
        capsys, "--state", f"{TORN},vitreous=none", "--practice", PRACTICE, case=str(case)
    )
    reasons = {one["placement"]: one["says"] for one in found["refused"]}
    assert reasons["sulcus_capture"].endswith("the patient does not want it.")
    assert found["first_choice"] == "sulcus_three_piece"


def test_a_place_without_a_lens_in_the_store_is_refused(capsys: Capture, tmp_path: Path) -> None:
    practice = tmp_path / "practice.toml"
    for beside in EXAMPLES.glob("*.csv"):
        (tmp_path / beside.name).write_bytes(beside.read_bytes())
    claws = r'quantity = 1(, kept = "\w+", device_identifier = "0200003)'
    text, gone = re.subn(claws, r"quantity = 0\1", Path(PRACTICE).read_text("utf-8"))
    assert gone > 10
    practice.write_text(text, encoding="utf-8")
    found = asked(capsys, "--state", f"{TORN},vitreous=none", "--practice", str(practice))
    reasons = {one["placement"]: one["says"] for one in found["refused"]}
    assert "no lens for it" in reasons["iris_claw"]


def test_a_trigger_says_the_first_words_and_what_is_asked_again(capsys: Capture) -> None:
    arguments = ("--trigger", "TR-13", "--stage", "nucleus", "--hands", "handpiece")
    page = words(capsys, *arguments)
    assert "Foot to position 1. Hold still, not one more piece." in page
    assert "Asked again: posterior capsule, vitreous, rhexis" in page
    found = asked(capsys, *arguments)
    assert found["answers"]["vitreous"] == "not_known"
    assert found["trigger"]["hands"] == "handpiece"
    assert found["trigger"]["then"][0]["step"] == "fragments"


def test_answers_given_since_the_trigger_hold(capsys: Capture) -> None:
    found = asked(capsys, "--trigger", "TR-12", "--state", f"{TORN},vitreous=none")
    assert found["trigger"]["hands"] == "handpiece"
    assert found["gate"]["state_allows"]
    assert "the rim looked at once more" in found["gate"]["missing"]
    assert found["first_choice"] == "sulcus_capture"


def test_answers_may_be_given_in_several_options(capsys: Capture) -> None:
    parts = [("--state", one) for one in f"{TORN},vitreous=none".split(",")]
    one = asked(capsys, *(word for part in parts for word in part))
    assert one == asked(capsys, "--state", f"{TORN},vitreous=none")


@pytest.mark.parametrize(
    ("arguments", "status", "says"),
    [
        (("--state", "rhexis"), 2, "write QUESTION=ANSWER"),
        (("--state", "ring_in=no", "--state", "ring_in=yes"), 2, "more than once"),
        (("--hands", "hand"), 2, "--hands needs --trigger"),
        (("--state", "rexis=continuous"), 1, "Nearest: rhexis"),
        (("--state", "rhexis=continous"), 1, "Nearest: continuous"),
        (("--stage", "lunch"), 1, "before_cut"),
        (("--trigger", "TR-77"), 1, "TR-17"),
        (("--trigger", "TR-13", "--stage", "close"), 1, "nucleus"),
        (("--trigger", "TR-13", "--hands", "injector"), 1, "handpiece"),
    ],
)
def test_wrong_use_and_wrong_names_are_told(
    arguments: tuple[str, ...], status: int, says: str, capsys: Capture
) -> None:
    told = run(capsys, "replan", CASE, *DAY, *arguments)
    assert told.status == status
    assert says in told.err
    assert told.out == ""


def test_one_answer_about_vitreous_does_not_end_in_a_drastic_place(capsys: Capture) -> None:
    """The gap that was absent before surgery is not held against what is seen now."""
    found = words(capsys, "--state", "vitreous=through_gap")
    assert "Not yet: ask" in found
    assert "zonular gap: not known" in found


def test_a_tear_makes_the_vitreous_of_before_surgery_stale(capsys: Capture) -> None:
    found = words(capsys, "--stage", "cortex", "--state", "posterior_capsule=tear_large")
    assert "vitreous: not known" in found
    assert "+20.50 D" not in found, "no power before vitreous was looked for"


def test_a_bag_that_is_gone_leaves_no_rim_to_ask_for(capsys: Capture) -> None:
    found = words(capsys, "--stage", "cortex", "--state", "posterior_capsule=absent,vitreous=none")
    assert "an answer: sound rim" not in found


def test_while_nothing_is_first_nobody_is_told_to_stop(capsys: Capture) -> None:
    found = words(capsys, "--state", "posterior_capsule=tear_large")
    assert "Only if it must stop here" in found
    assert "1 Leave aphakic" not in found


def test_an_empty_stage_is_refused(capsys: Capture) -> None:
    told = run(capsys, "replan", CASE, *DAY, "--stage", "")
    assert told.status == 2
    assert "--stage is empty" in told.err
