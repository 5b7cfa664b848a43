"""Judges a case: everything that is wrong with it, or that someone must look at.

One idea per file; words, thresholds and loudness stand in ``library/checks.toml``. A check whose
inputs are not known never fires. What concerns only the other eye never warns: it is a mark, so
that a plain eye meets at most one interruption.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from typing import Final

from zonule.errors import SEVERITIES, Problem
from zonule.findings.checks import (
    acuity,
    corneas,
    days,
    dialysis_seen,
    first_eye,
    front_segment,
    group_entry,
    history,
    length_against_refraction,
    lens_presence,
    lens_setting,
    other_sittings,
    outstanding,
    provenance,
    pupil,
    read_back,
    signal,
    stale_measurement,
    unequal_lengths,
    unusual_measurement,
)
from zonule.findings.checks.lens_powers import check_lens_powers
from zonule.findings.records import Case

__all__ = ["check_case", "check_lens_powers", "interruptions"]

Check = Callable[[Case, date | None], Iterator[Problem]]

CHECKS: Final[tuple[Check, ...]] = (
    provenance.check,
    lens_presence.check,
    lens_setting.check,
    other_sittings.check,
    unequal_lengths.check,
    length_against_refraction.check,
    unusual_measurement.check,
    corneas.check,
    front_segment.check,
    signal.check,
    stale_measurement.check,
    history.check,
    group_entry.check,
    pupil.check,
    dialysis_seen.check,
    acuity.check,
    first_eye.check,
    days.check,
    read_back.check,
    outstanding.check,
)
_ABOUT_BOTH_EYES: Final = ("not_settled", "lengths_look_again", "lengths_differ")
_LENGTH_IN_DOUBT: Final = (
    "lengths_cannot_both_be_right",
    "lengths_hardly_fit",
    "refractions_differ_at_equal_length",
    "lengths_explained_in_words",
    "lengths_differ_much",
    "lengths_differ_beyond_pairs",
)
_SAYS_THE_SAME: Final = ("length_against_refraction", "unusual_measurement", "same_length")
_IMPOSSIBLE: Final = "length_impossible_for_refraction"
_STOPS_THE_POWER: Final = (
    "lengths_cannot_both_be_right",
    _IMPOSSIBLE,
    "lengths_differ_beyond_pairs",
)
"""The one that says most comes first."""


def check_case(case: Case, *, on: date | None = None) -> tuple[Problem, ...]:
    """Return every problem of a case, loudest first.

    Parameters
    ----------
    case
        The case as read.
    on
        Today; ages and overdue measurements are judged on the planned day of surgery, else on
        this day. None where neither is known: such checks then stay silent.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Eye, Patient
    >>> patient = Patient("demo", answers={"allergies": ("none_known",)})
    >>> left = Eye(side="left", lens_status="phakic")
    >>> case = Case("left", patient, Aim(0.0), Eye(side="right"), left)
    >>> [problem.check for problem in check_case(case)]
    ['outstanding']
    """
    found = [problem for check in CHECKS for problem in check(case, _day(case, on, check))]
    found = [_quietened(case, problem) for problem in _said_once(found)]
    return tuple(sorted(found, key=lambda problem: SEVERITIES.index(problem.severity)))


def _day(case: Case, on: date | None, check: Check) -> date | None:
    """Return the day a check is judged on: days that must be past, against today itself."""
    if check is days.check:
        return on
    planned = case.surgery_planned_on
    return planned if isinstance(planned, date) else on


def _said_once(found: list[Problem]) -> list[Problem]:
    """Leave out what repeats that the lengths are in doubt; what stops the power is told alone."""
    names = {problem.check for problem in found}
    told_alone = [name for name in _STOPS_THE_POWER if name in names]
    if told_alone:
        doubts = {*_LENGTH_IN_DOUBT, _IMPOSSIBLE} - {told_alone[0]}
        found = [problem for problem in found if problem.check not in doubts]
    elif not names.intersection(_LENGTH_IN_DOUBT):
        return found
    return [problem for problem in found if not _repeats(problem)]


def _repeats(problem: Problem) -> bool:
    return problem.check in _SAYS_THE_SAME and problem.field.endswith("axial_length_mm")


def _quietened(case: Case, problem: Problem) -> Problem:
    other = problem.eye is not None and problem.eye != case.eye_to_do
    if not other or problem.severity != "warn" or problem.check in _ABOUT_BOTH_EYES:
        return problem
    return replace(problem, severity="mark")


def interruptions(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Return those problems that interrupt: block, confirm and warn."""
    return tuple(one for one in problems if one.severity in ("block", "confirm", "warn"))
