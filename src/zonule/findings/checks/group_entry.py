"""Single entries that say otherwise than "examined, nothing abnormal" beside them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import Answer, is_known
from zonule.findings.checks.catalogue import of_eye, problem
from zonule.findings.fields import Field, group_of, label, shown
from zonule.findings.records import Case

_NAME = "not_as_the_group_says"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Ask once per eye about every entry at odds with its group."""
    for eye in (case.right, case.left):
        what = _at_odds(eye.answer("nothing_abnormal"), eye.answer, "eye")
        if what:
            yield of_eye(_NAME, eye, "nothing_abnormal", what=what)
    patient = case.patient
    what = _at_odds(patient.answer("nothing_abnormal"), patient.answer, "patient")
    if what:
        key = "nothing_abnormal"
        yield problem(_NAME, field=f"patient.{key}", label=label("patient", key), what=what)


def _at_odds(groups: Answer, answer: object, section: str) -> str:
    named = groups if isinstance(groups, tuple) else ()
    items = [item for group in named for item in group_of(group, section=section)]
    return ", ".join(said for item in items if (said := _said(item, answer)))


def _said(item: Field, answer: object) -> str:
    assert callable(answer)
    found = answer(item.key)
    if item.normal is None or not is_known(found) or found == item.normal:
        return ""
    return f"{item.label} {shown(found, item.unit)}"
