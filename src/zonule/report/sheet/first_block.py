"""The first block of the sheet: whose eye, which lens where, and what must not be overlooked."""

from __future__ import annotations

from typing import Final

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.records import Eye, Patient
from zonule.plan.records import Plan
from zonule.report.sheet.places import placed
from zonule.report.sheet.records import FirstBlock
from zonule.report.sheet.wording import NO_POWER
from zonule.report.whose import (
    alerts,
    allergies,
    asked_for,
    name_of,
    surgery_on,
    which_operation,
)
from zonule.report.words import day, dioptres, sentence_case

MOST_NOTICES: Final = 2
MOST_NOT_KNOWN: Final = 4


def first_block(plan: Plan) -> FirstBlock:
    """Return what is read from two metres away."""
    case, intended = plan.case, plan.intended
    said, stands_out = _said_of(case.patient, case.operative_eye)
    has_power = intended is not None and intended.chosen is not None
    return FirstBlock(
        side=f"{case.eye_to_do} eye".upper(),
        name=name_of(case.patient),
        numbers=(case.patient.record_number, _born(case.patient)),
        surgery=(surgery_on(case), which_operation(case)),
        aim=dioptres(case.aim.spherical_equivalent_d),
        intended=placed(plan, intended) if intended is not None else None,
        no_power="" if has_power else NO_POWER,
        no_power_because="" if has_power else sentence_case(_because(plan)),
        allergies=said,
        allergic=stands_out,
        notices=_notices(plan),
    )


def not_known(plan: Plan) -> str:
    """Return what is outstanding before surgery, in one line; empty when nothing is."""
    items = plan.outstanding
    if not items:
        return ""
    said = "; ".join(f"{one.label} ({one.why_unknown})" for one in items[:MOST_NOT_KNOWN])
    return f"Outstanding before surgery: {said}{_and_more(len(items) - MOST_NOT_KNOWN)}."


def _and_more(count: int) -> str:
    return f"; and {count} more in the plan" if count > 0 else ""


def _said_of(patient: Patient, eye: Eye) -> tuple[str, bool]:
    """Return allergies and whatever else the room must know, and whether it stands out."""
    said, stands_out = allergies(patient)
    said = said.replace("allergic to", "ALLERGIC TO").replace("not recorded", "not recorded: ask")
    told = alerts(patient, eye)
    return " · ".join((sentence_case(said), *told)), stands_out or bool(told)


def _born(patient: Patient) -> str:
    return f"born {day(patient.born)}" if is_known(patient.born) else "day of birth not recorded"


def _because(plan: Plan) -> str:
    intended = plan.intended
    if plan.power_withheld or intended is None:
        return plan.power_withheld
    return intended.refused_because or intended.waits_for or intended.place.note


def _notices(plan: Plan) -> tuple[str, ...]:
    """Return what was asked for beside the files, then what must still be confirmed."""
    return (*_differs(plan), *_to_confirm(plan))


def _differs(plan: Plan) -> tuple[str, ...]:
    told = asked_for(plan)
    return (f"DIFFERS FROM THE FILES, asked for once: {told}.",) if told else ()


def _to_confirm(plan: Plan) -> tuple[str, ...]:
    asked = [one for one in plan.problems if _interrupts(one, plan)]
    told = [f"To be cleared up: {one.sentence()}" for one in asked[:MOST_NOTICES]]
    if len(asked) > MOST_NOTICES:
        told.append(f"And {len(asked) - MOST_NOTICES} more to be cleared up: see the plan.")
    return tuple(told)


def _interrupts(problem: Problem, plan: Plan) -> bool:
    withheld = plan.power_withheld.startswith(problem.sentence())
    said_already = withheld or problem.field == "patient.allergies"
    return problem.severity in ("block", "confirm") and not said_already
