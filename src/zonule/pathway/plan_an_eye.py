"""Work up both eyes, and plan the one to be done.

::

    read the case ──► judge it ──► read the first eye ──► place by place: lens, power, bands
    read the practice ────────────────┘                                    │
                                                            plan ◄─────────┘
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from zonule.errors import Problem
from zonule.findings.checks import check_case
from zonule.findings.records import Case
from zonule.intake.case_file import read_case_file
from zonule.intake.practice_file import read_practice_file
from zonule.learning.first_eye import read_first_eye
from zonule.plan.build import build_plan
from zonule.plan.records import Plan
from zonule.practice.records import Practice


def plan_an_eye(case: Case, practice: Practice, *, today: date) -> Plan:
    """Return the plan for the eye to be done.

    Parameters
    ----------
    case, practice
        As read from their files.
    today
        The day of the plan; nothing here asks the clock.
    """
    problems = check_case(case, on=today)
    return build_plan(
        case,
        practice,
        first_eye=read_first_eye(case, practice, problems=problems, today=today),
        problems=problems,
        made_on=today,
    )


def plan_files(case_file: Path, practice_file: Path, *, today: date) -> Plan:
    """Return the plan for the files of a case and a practice.

    Raises
    ------
    BadInput
        With every fault of the file that cannot be used.
    """
    return plan_an_eye(read_case_file(case_file), read_practice_file(practice_file), today=today)


def check_file(case_file: Path, *, today: date) -> tuple[Problem, ...]:
    """Return everything that is wrong or worth a look in a case file.

    Raises
    ------
    BadInput
        With every fault, when the file cannot be used.
    """
    case = read_case_file(case_file)
    return check_case(case, on=today)
