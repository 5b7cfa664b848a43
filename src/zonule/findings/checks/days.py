"""Days in an impossible order."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem, Side
from zonule.findings.checks.catalogue import problem
from zonule.findings.fields import label
from zonule.findings.records import Case


def check(case: Case, on: date | None) -> Iterator[Problem]:
    """Ask about each day that lies before birth or out of turn, once about those after today."""
    born = case.patient.born
    past = list(_past_days(case))
    for path, said, day in past:
        if isinstance(born, date) and day < born:
            yield _asked(path, said, day, f"before the birth of {born}")
    late = [one for one in past if on is not None and one[2] > on]
    if late:
        others = "".join(f"; also {said} {day}" for _, said, day in late[1:])
        yield _asked(*late[0], f"after today, {on}{others}")
    yield from _settled_before_done(case)
    yield from _planned(case, born)


def _asked(path: str, said: str, day: date, why: str) -> Problem:
    side: Side = "right" if path.startswith("right") else "left"
    return problem("days_out_of_order", field=path, label=said, value=str(day), eye=side, why=why)


def _past_days(case: Case) -> Iterator[tuple[str, str, date]]:
    """Yield every day that can only lie in the past: path, label, day."""
    for eye in (case.right, case.left):
        for place, one in enumerate(eye.biometry):
            if isinstance(one.measured_on, date):
                path = f"{eye.side}.biometry[{place}].measured_on"
                yield path, label("biometry", "measured_on", eye.side), one.measured_on
        operation = eye.operation
        for key in ("done_on", "settled_on"):
            day = getattr(operation, key, None)
            if isinstance(day, date):
                yield f"{eye.side}.operation.{key}", label("operation", key, eye.side), day


def _settled_before_done(case: Case) -> Iterator[Problem]:
    for eye in (case.right, case.left):
        if eye.operation is None:
            continue
        done, settled = eye.operation.done_on, eye.operation.settled_on
        if isinstance(done, date) and isinstance(settled, date) and settled < done:
            path = f"{eye.side}.operation.settled_on"
            said = label("operation", "settled_on", eye.side)
            yield _asked(path, said, settled, f"before the operation of {done}")


def _planned(case: Case, born: object) -> Iterator[Problem]:
    planned = case.surgery_planned_on
    if isinstance(planned, date) and isinstance(born, date) and planned < born:
        yield problem(
            "days_out_of_order",
            field="surgery_planned_on",
            label=label("top", "surgery_planned_on"),
            value=str(planned),
            why=f"before the birth of {born}",
        )
