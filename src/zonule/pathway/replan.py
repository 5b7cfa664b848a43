"""Read a plan again in theatre: from the answers of the team to the places that remain.

::

    plan an eye ──► answers, and a trigger that was pressed ──► places, lens and power of each
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from zonule.pathway.plan_an_eye import plan_files
from zonule.plan.states.replanned import Replanned, replanned


def replan_files(
    case_file: Path,
    practice_file: Path,
    *,
    today: date,
    answers: Mapping[str, str],
    stage: str = "",
    trigger: str = "",
    hands: str = "",
) -> Replanned:
    """Return what remains of the plan for the files of a case and a practice.

    Parameters
    ----------
    case_file, practice_file, today
        As for the plan.
    answers
        Answers of the team by question.
    stage, trigger, hands
        Where the operation stands, what was pressed, what is in the eye; may be empty.

    Raises
    ------
    BadInput
        With every fault of a file that cannot be used.
    NoSuchName
        If a question, an answer, a stage or a trigger is not there.
    """
    plan = plan_files(case_file, practice_file, today=today)
    return replanned(plan, answers, stage=stage, trigger=trigger, hands=hands)


def write_replan_to_terminal(told: Replanned) -> None:
    """Write the page of what remains to the terminal."""
    from zonule.report.terminal.layout import Page  # noqa: PLC0415
    from zonule.report.terminal.replan_page import write_replan  # noqa: PLC0415

    write_replan(told, Page(highlight=False, soft_wrap=False))


def replan_as_json(told: Replanned) -> dict[str, Any]:
    """Return what remains as plain data."""
    from zonule.report.replan_json import as_json  # noqa: PLC0415

    return as_json(told)
