"""The example cases, and changes to them, for every test of a plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from zonule.findings.records import Biometry, Case, Eye
from zonule.intake import read_case_file, read_practice_file
from zonule.pathway.plan_an_eye import plan_an_eye
from zonule.plan.records import Plan, Rung
from zonule.practice.records import Lens, Practice

EXAMPLES: Final = Path(__file__).parents[2] / "examples"
NAMES: Final = (
    "plain-eye",
    "hard-second-eye",
    "half-missing",
    "aphakic-eye",
    "long-eye-after-vitrectomy",
    "short-eye-white-lens",
)
TODAY: Final = date(2026, 11, 25)


@cache
def case(name: str) -> Case:
    return read_case_file(EXAMPLES / f"{name}.toml")


@cache
def practice() -> Practice:
    return read_practice_file(EXAMPLES / "practice.toml")


@cache
def example(name: str) -> Plan:
    return plan_an_eye(case(name), practice(), today=TODAY)


def planned(whole: Case, store: Practice | None = None) -> Plan:
    return plan_an_eye(whole, store or practice(), today=TODAY)


def with_eye(whole: Case, eye: Eye) -> Case:
    return replace(whole, right=eye) if eye.side == "right" else replace(whole, left=eye)


def told(eye: Eye, **answers: Any) -> Eye:
    """Return an eye with findings changed; None takes a finding out."""
    kept = {**eye.answers, **answers}
    known = {name: answer for name, answer in kept.items() if answer is not None}
    return replace(eye, answers=MappingProxyType(known))


def with_findings(whole: Case, **answers: Any) -> Case:
    return with_eye(whole, told(whole.operative_eye, **answers))


def with_biometry(whole: Case, **values: Any) -> Case:
    eye = whole.operative_eye
    changed: tuple[Biometry, ...] = tuple(replace(one, **values) for one in eye.biometry)
    return with_eye(whole, replace(eye, biometry=changed))


def with_status(whole: Case, status: Any) -> Case:
    return with_eye(whole, replace(whole.operative_eye, lens_status=status))


def refusing(whole: Case, *places: str) -> Case:
    return with_eye(whole, replace(whole.operative_eye, refused_placements=places))


def lens_named(name: str) -> Lens:
    return next(lens for lens in practice().lenses if lens.name == name)


def with_lenses(*lenses: Lens) -> Practice:
    return replace(practice(), lenses=lenses)


def rung(plan: Plan, key: str) -> Rung:
    found = plan.rung(key)
    assert found is not None, key
    return found


THREE_PIECE: Final = "three-piece acrylic 13.0"
ONE_PIECE: Final = "one-piece acrylic 13.0"
