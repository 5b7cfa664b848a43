"""Work up both eyes, and plan the one to be done.

::

    read the case ──► judge it ──► read the first eye ──► place by place: lens, power, bands
    read the practice ────────────────┘                                    │
                                                            plan ◄─────────┘
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TypeVar

from zonule.errors import BadInput, Problem
from zonule.findings.checks import check_case
from zonule.findings.records import Case
from zonule.intake.case_file import read_case_file
from zonule.intake.practice_file import read_practice_file, says_practice
from zonule.learning.first_eye import read_first_eye
from zonule.plan.build import build_plan
from zonule.plan.records import NO_WISH, Plan
from zonule.plan.wish import Wish, wished_case, wished_practice
from zonule.practice.records import Practice

Read = TypeVar("Read")


def plan_an_eye(case: Case, practice: Practice, *, today: date, wish: Wish = NO_WISH) -> Plan:
    """Return the plan for the eye to be done.

    Parameters
    ----------
    case, practice
        As read from their files.
    today
        The day of the plan; nothing here asks the clock.
    wish
        The place in hand, another aim, lens or power, asked for this once.

    Raises
    ------
    NoSuchName
        If the wish names a place, lens or power that is not there.
    """
    case, practice = wished_case(case, wish), wished_practice(practice, wish)
    problems = check_case(case, on=today)
    return build_plan(
        case,
        practice,
        first_eye=read_first_eye(case, practice, problems=problems, today=today),
        problems=problems,
        made_on=today,
        wish=wish,
    )


def plan_files(case_file: Path, practice_file: Path, *, today: date, wish: Wish = NO_WISH) -> Plan:
    """Return the plan for the files of a case and a practice.

    Raises
    ------
    BadInput
        With every fault of the file that cannot be used.
    NoSuchName
        If the wish names a place, lens or power that is not there.
    """
    case, practice = read_files(case_file, practice_file)
    return plan_an_eye(case, practice, today=today, wish=wish)


def read_files(case_file: Path, practice_file: Path) -> tuple[Case, Practice]:
    """Return the case and the practice of two files.

    Raises
    ------
    BadInput
        With every fault of either file.
    """
    faults: list[Problem] = []
    case = _read(read_case_file, case_file, faults)
    if faults and not any(problem.line for problem in faults):
        raise BadInput(faults)  # there is no such file to plan, whatever the practice says
    practice = _read(read_practice_file, practice_file, faults)
    if case is None or practice is None:
        raise BadInput(faults)
    return case, practice


def check_file(file: Path, *, today: date) -> tuple[Problem, ...]:
    """Return everything that is wrong or worth a look in a case file, or in a practice file.

    Of a practice file faults are raised; rows of its own files that were set aside are returned.

    Raises
    ------
    BadInput
        With every fault, when the file cannot be used.
    """
    faults: list[Problem] = []
    if says_practice(file):
        found: Practice | Case | None = _read(read_practice_file, file, faults)
    else:
        found = _read(read_case_file, file, faults)
    if found is None:
        raise BadInput(faults)
    return check_case(found, on=today) if isinstance(found, Case) else rows_set_aside(found)


def rows_set_aside(practice: Practice) -> tuple[Problem, ...]:
    """Return the rows of a practice's own files that could not be used, each with its reason."""
    told: list[tuple[str, str, str]] = []
    if practice.own_baseline is not None:
        name = practice.risk.own_cases_file
        told += [("risk.own_cases_file", name, row) for row in practice.own_baseline.set_aside]
    log = practice.energy.log if practice.energy is not None else None
    if log is not None:
        told += [("energy.log", log.file, f"line {r.line}: {r.because}") for r in log.set_aside]
    return tuple(
        Problem(
            check="row_set_aside",
            field=field,
            label="Row set aside",
            value=f"of {name}, {row.partition(':')[0]}",
            limit=row.partition(": ")[2],
            remedy="It is not counted; mend it if that is wrong.",
            severity="warn",
        )
        for field, name, row in told
    )


def _read(reader: Callable[[Path], Read], file: Path, faults: list[Problem]) -> Read | None:
    """Read a file; keep its faults, with its name, instead of raising them."""
    try:
        return reader(file)
    except BadInput as bad:
        faults += [_in_file(problem, file) for problem in bad.problems]
        return None


def _in_file(problem: Problem, file: Path) -> Problem:
    """Return a problem that says which file it is in; one about a whole file names it already."""
    about_a_line = problem.line is not None and problem.label != "File"
    return replace(problem, file=file.name) if about_a_line else problem
