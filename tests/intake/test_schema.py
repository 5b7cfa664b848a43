"""The schema and the reader agree: what the reader accepts, the schema accepts."""

from __future__ import annotations

import json
import tomllib
from datetime import date
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.documents import cases, to_toml
from intake.sample_cases import DEPARTMENT, PLAIN, PRACTICE, SKELETON
from zonule.errors import BadInput
from zonule.findings.fields import Which
from zonule.intake import read_case, read_practice
from zonule.intake.schema import json_schema

VALIDATORS = {
    which: jsonschema.Draft202012Validator(json_schema(which)) for which in ("case", "practice")
}


OVERRULED = """
[[right.overruled]]
rule = "D-25"
by = "A. Surgeon"
on = 2026-11-24
reason = "Own routine"
"""


def as_json(text: str) -> Any:
    """Return a TOML text as JSON would have it: days as texts."""

    def day(value: object) -> str:
        assert isinstance(value, date)
        return value.isoformat()

    return json.loads(json.dumps(tomllib.loads(text), default=day))


@pytest.mark.parametrize("which", ["case", "practice"])
def test_each_is_a_schema(which: Which) -> None:
    schema = json_schema(which)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert json.loads(json.dumps(schema)) == schema


@pytest.mark.parametrize(
    ("which", "text"),
    [
        ("case", SKELETON),
        ("case", PLAIN),
        ("case", PLAIN + OVERRULED),
        ("practice", PRACTICE),
        ("practice", DEPARTMENT),
    ],
)
def test_samples_are_valid(which: str, text: str) -> None:
    assert [fault.message for fault in VALIDATORS[which].iter_errors(as_json(text))] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("axial_length_mm = 23.42", "axial_length_mm = 2.342"),
        ('lens_status = "phakic"', 'lens_status = "phakik"'),
        ("pupil_dilated_mm = 7.5", "pupil_dilated_mm = true"),
        ("locs_no = 3.2", "locs_number = 3.2"),
        ('record_number = "demo-0001"', 'record_number = ""'),
        ("[right]", "[nothing]"),
    ],
)
def test_both_refuse(old: str, new: str) -> None:
    text = PLAIN.replace(old, new, 1)
    assert text != PLAIN
    assert not VALIDATORS["case"].is_valid(as_json(text))
    with pytest.raises(BadInput):
        read_case(text.encode(), name="case.toml")


def test_practice_both_refuse() -> None:
    text = PRACTICE.replace("a0 = -0.5914\n", "")
    assert not VALIDATORS["practice"].is_valid(as_json(text))
    with pytest.raises(BadInput):
        read_practice(text.encode(), name="practice.toml")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"D-25"', '"D-52"'),
        ('"D-25"', '"L-01"'),
        ('by = "A. Surgeon"\n', ""),
        ('"Own routine"', '"unknown"'),
        ("2026-11-24", '"not_examined"'),
        ("[[right.overruled]]", "[right.overruled]"),
        ('"male"', '"male"\nlongest_time_flat_min = 601'),
        ('"male"', '"male"\nanaesthesia_route = "needle"'),
        ('"male"', '"male"\ntremor_or_cough = 1'),
        ('"male"', '"male"\nname = 7'),
    ],
)
def test_both_refuse_what_is_no_overruling_and_no_patient(old: str, new: str) -> None:
    text = (PLAIN + OVERRULED).replace(old, new, 1)
    assert text != PLAIN + OVERRULED
    assert not VALIDATORS["case"].is_valid(as_json(text))
    with pytest.raises(BadInput):
        read_case(text.encode(), name="case.toml")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("main_wound_mm = 2.4", "main_wound_mm = 7.1"),
        ('"temporal"', '"nasal"'),
        ('["chop", "larger_wound"]', '["chops"]'),
        ("iris_hooks =", "iris_hoops ="),
        ("quantity = 10", "quantity = 2.5"),
        ('{ kept = "in_room", quantity = 10 }', "{ quantity = 10 }"),
        ('item = "miotic"', 'item = "iris_hooks"'),
        ('card = "card 4"\n', ""),
        ('"from the sealed box"', '"unknown"'),
        ('"L-01"', '"L-99"'),
        ('"accepted"', '"agreed"'),
        ('"accepted"', '"changed"'),
        ('"accepted"', '"changed"\ndo = []'),
        ('"accepted"', '"accepted"\ntitle = "Own words"'),
        ('"accepted"', '"switched_off"\ndo = ["Own words."]'),
        ('"As we do it"', '""'),
    ],
)
def test_both_refuse_what_no_department_settles(old: str, new: str) -> None:
    text = DEPARTMENT.replace(old, new, 1)
    assert text != DEPARTMENT
    assert not VALIDATORS["practice"].is_valid(as_json(text))
    with pytest.raises(BadInput):
        read_practice(text.encode(), name="practice.toml")


@given(cases())
def test_what_the_reader_accepts_is_valid(document: dict[str, Any]) -> None:
    text = to_toml(document)
    try:
        read_case(text.encode(), name="case.toml")
    except BadInput:
        return
    assert VALIDATORS["case"].is_valid(as_json(text))


@given(cases(sound=True))
def test_sound_documents_are_accepted_by_both(document: dict[str, Any]) -> None:
    text = to_toml(document)
    assert VALIDATORS["case"].is_valid(as_json(text))
    assert read_case(text.encode(), name="case.toml").eye_to_do == document["eye_to_do"]


@given(st.data())
def test_drawn_documents_are_often_refused_by_both(data: st.DataObject) -> None:
    """Guard of the guard: unsound documents do occur and are told apart."""
    document = data.draw(cases(sound=True))
    document["aim"]["spherical_equivalent_d"] = data.draw(st.floats(10, 99))
    text = to_toml(document)
    assert not VALIDATORS["case"].is_valid(as_json(text))
    with pytest.raises(BadInput):
        read_case(text.encode(), name="case.toml")
