"""The identity of a plan, and the code on paper that holds it."""

from __future__ import annotations

import hashlib
import json
import re

import pytest

from plan.cases import NAMES, case, example, planned, with_biometry
from report.sheets import called, page, sheet
from zonule.report.identity import as_scanned, as_shown, plan_identity
from zonule.report.plan_json import as_json, library_edition
from zonule.report.sheet.foot import code_of

HARD = "hard-second-eye"
HEX = re.compile(r"[0-9a-f]{64}")


@pytest.mark.parametrize("name", NAMES)
def test_the_identity_is_the_hash_of_the_plan_as_sorted_utf_8_json(name: str) -> None:
    plan = example(name)
    text = json.dumps(as_json(plan), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    assert plan_identity(plan) == hashlib.sha256(text.encode("utf-8")).hexdigest()
    assert HEX.fullmatch(plan_identity(plan))


def test_the_same_plan_has_the_same_identity_and_another_has_another() -> None:
    again = planned(case(HARD))
    other = planned(with_biometry(case(HARD), axial_length_mm=24.4))
    assert plan_identity(again) == plan_identity(example(HARD))
    assert plan_identity(other) != plan_identity(again)
    assert len({plan_identity(example(name)) for name in NAMES}) == len(NAMES)


def test_it_is_shown_as_twelve_characters_in_groups_of_four() -> None:
    identity = plan_identity(example(HARD))
    shown = as_shown(identity)
    assert re.fullmatch(r"[0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}", shown)
    assert identity.startswith(shown.replace(" ", ""))
    assert f" · plan {shown} · " in sheet(HARD).foot.lines[0]
    assert f" · library {library_edition()[:8]} · " in sheet(HARD).foot.lines[0]


def test_the_code_holds_the_whole_identity_and_nothing_about_the_patient() -> None:
    payload = sheet(HARD).foot.payload
    assert payload == as_scanned(plan_identity(example(HARD)))
    assert payload.removeprefix("zonule-plan-1:") == plan_identity(example(HARD))
    named = called(example(HARD), name="Edith Marlowe-Demo")
    assert "Marlowe" not in as_scanned(plan_identity(named))
    assert "0417" not in payload.removeprefix("zonule-plan-1:") or "demo" not in payload


def test_the_code_is_of_level_m_and_full_size() -> None:
    code = code_of(sheet(HARD).foot.payload)
    assert (code.error, code.is_micro, code.designator) == ("M", False, "5-M")
    assert page(HARD).startswith(b"%PDF-")
