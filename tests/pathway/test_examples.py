"""The six examples, from their files to a plan: through functions and through the command."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from plan.cases import EXAMPLES, NAMES, TODAY, example
from zonule.errors import BadInput, NoSuchName
from zonule.findings.checks import interruptions
from zonule.intake.schema import json_schema
from zonule.pathway.describe_files import KINDS, schema_of
from zonule.pathway.plan_an_eye import check_file, plan_files
from zonule.pathway.show_a_plan import plan_as_json
from zonule.report.plan_schema import plan_schema

CONTRACT = [
    "placement",
    "variant",
    "lens",
    "power_d",
    "refraction_d",
    "bands",
    "within_0_50",
    "within_1_00",
    "hyperopic",
    "by_formula",
    "likelihood",
    "likelihood_range",
    "spread_status",
    "residual_cylinder_d",
    "wound_mm",
    "in_room",
    "refused_because",
    "why",
]
TOP_LEVEL = [
    "schema",
    "eye",
    "placements",
    "risks",
    "tray",
    "rules",
    "unknown",
    "checks",
    "first_eye",
    "sources",
    "versions",
]


def test_the_list_is_the_folder() -> None:
    files = {path.stem for path in EXAMPLES.glob("*.toml")} - {"practice"}
    assert files == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_command_and_the_functions_say_the_same(name: str, tmp_path: Path) -> None:
    case_file = EXAMPLES / f"{name}.toml"
    ran = subprocess.run(
        [sys.executable, "-m", "zonule", "plan", str(case_file), "--json", "--today", str(TODAY)],
        capture_output=True,
        check=False,
        cwd=tmp_path,
        env={"PYTHONIOENCODING": "utf-8", "PATH": ""},
        timeout=60,
    )
    assert (ran.returncode, ran.stderr) == (0, b"")
    plan = plan_files(case_file, EXAMPLES / "practice.toml", today=TODAY)
    assert json.loads(ran.stdout) == json.loads(json.dumps(plan_as_json(plan)))
    assert list(tmp_path.iterdir()) == [], "nothing is written where the command runs"


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_is_valid_under_its_schema(name: str) -> None:
    told = plan_as_json(example(name))
    jsonschema.Draft202012Validator(plan_schema()).validate(told)
    assert set(TOP_LEVEL) <= set(told)
    for place in told["placements"]:
        assert set(CONTRACT) <= set(place)


@pytest.mark.parametrize("kind", KINDS)
def test_every_schema_is_a_schema(kind: str) -> None:
    schema = schema_of(kind)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_case_and_practice_are_described_where_they_are_read() -> None:
    assert schema_of("case") == json_schema("case")
    assert schema_of("practice") == json_schema("practice")


def test_there_is_no_other_kind() -> None:
    with pytest.raises(NoSuchName) as caught:
        schema_of("plans")
    assert str(caught.value) == (
        "There is no kind of file 'plans'. Nearest: plan. All: case, practice, plan."
    )


def _broken(told: dict[str, object], path: list[str | int], value: object) -> dict[str, object]:
    copy = json.loads(json.dumps(told))
    at = copy
    for key in path[:-1]:
        at = at[key]
    if value is KeyError:
        del at[path[-1]]
    else:
        at[path[-1]] = value
    assert isinstance(copy, dict)
    return copy


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (["placements", 0, "power_d"], None),
        (["placements", 0, "power_d"], "20.50"),
        (["placements", 0, "bands"], KeyError),
        (["placements", 0, "bands", "p90"], [-1.0]),
        (["placements", 0, "within_0_50"], 1.01),
        (["placements", 0, "refused_because"], "no"),
        (["placements", -1, "refused_because"], None),
        (["placements", -1, "power_d"], 20.5),
        (["placements", 0, "placement"], "bagg"),
        (["placements", 0, "wound_mm"], {"value": None}),
        (["eye", "side"], "L"),
        (["eye", "colour"], "blue"),
        (["risks"], KeyError),
        (["risks"], []),
        (["unknown", 0, "why"], None),
        (["checks", 0, "severity"], "loud"),
        (["versions", "library"], "1"),
    ],
)
def test_the_schema_refuses_what_the_contract_does_not_allow(
    path: list[str | int], value: object
) -> None:
    told = plan_as_json(example("hard-second-eye"))
    validator = jsonschema.Draft202012Validator(plan_schema())
    assert validator.is_valid(told)
    assert not validator.is_valid(_broken(told, path, value))


@pytest.mark.parametrize("name", NAMES)
def test_a_value_that_is_not_there_says_why(name: str) -> None:
    for place in plan_as_json(example(name))["placements"]:
        assert place["residual_cylinder_d"] == {"value": None, "why": "not_computed"}
        for key in ("likelihood", "likelihood_range", "wound_mm"):
            value = place[key]
            assert value is not None
            assert not isinstance(value, dict) or set(value) == {"value", "why"}


@pytest.mark.parametrize("name", NAMES)
def test_refused_places_stay_in_the_list_with_their_reason(name: str) -> None:
    told = [one for one in plan_as_json(example(name))["placements"] if one["order"] is None]
    assert len(told) >= 4
    for place in told:
        assert place["power_d"] is None
        assert place["refused_because"] or place["waits_for"]


def test_a_plain_eye_meets_at_most_one_interruption() -> None:
    assert len(interruptions(example("plain-eye").problems)) <= 1


@pytest.mark.parametrize("name", NAMES)
def test_checking_a_file_finds_what_the_plan_finds(name: str) -> None:
    found = check_file(EXAMPLES / f"{name}.toml", today=TODAY)
    assert set(found) <= set(example(name).problems)


def test_a_missing_file_is_told_not_raised_as_something_else(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        plan_files(tmp_path / "no.toml", EXAMPLES / "practice.toml", today=TODAY)
    assert str(caught.value) == (
        f"File {tmp_path / 'no.toml'}: is not there. Check the name and the folder."
    )


@pytest.mark.parametrize("name", NAMES)
def test_the_same_files_on_the_same_day_give_the_same_plan(name: str) -> None:
    again = plan_files(EXAMPLES / f"{name}.toml", EXAMPLES / "practice.toml", today=TODAY)
    assert plan_as_json(again) == plan_as_json(example(name))
