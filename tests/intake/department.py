"""A practice file with a department, and what is told when one piece of it is changed."""

from __future__ import annotations

import pytest

from intake.sample_cases import DEPARTMENT
from zonule.errors import BadInput, Problem
from zonule.intake import read_practice
from zonule.practice.records import Practice


def read(text: str) -> Practice:
    return read_practice(text.encode(), name="practice.toml")


def faults(old: str, new: str) -> tuple[Problem, ...]:
    assert DEPARTMENT.count(old) >= 1
    with pytest.raises(BadInput) as caught:
        read(DEPARTMENT.replace(old, new, 1))
    return caught.value.problems


def only(old: str, new: str) -> Problem:
    found = faults(old, new)
    assert len(found) == 1, [one.sentence() for one in found]
    return found[0]


def line_of(text: str) -> int:
    return DEPARTMENT[: DEPARTMENT.index(text)].count("\n") + 1
