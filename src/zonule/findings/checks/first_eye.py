"""The result of an operated eye: settled or not yet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import of_operation, row, threshold
from zonule.findings.records import Case, Operation

_NAME = "not_settled"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Warn of a refraction taken too soon: it is asked of the other eye for this one."""
    eye = case.fellow_eye
    operation = eye.operation
    if operation is None or not is_known(operation.settled_refraction_d):
        return
    done, settled = operation.done_on, operation.settled_on
    if not isinstance(done, date) or not isinstance(settled, date) or settled < done:
        return
    days, needed = (settled - done).days, _needed_days(operation)
    if days < needed:
        yield of_operation(
            _NAME,
            eye,
            "settled_on",
            value=str(settled),
            days=str(days),
            needed=f"{needed:g}",
        )


def _needed_days(operation: Operation) -> float:
    sutured = operation.answer("wound_sutured_or_large")
    by_place = operation.placement in row(_NAME)["sutured_or_large"]
    longer = sutured is True or (by_place and sutured is not False)
    return threshold(_NAME, "days_sutured_or_large" if longer else "days")
