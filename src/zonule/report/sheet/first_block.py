"""The first block of the sheet: whose eye, which lens where, and what must not be overlooked."""

from __future__ import annotations

from typing import Final

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.records import Case, Patient
from zonule.plan.records import Plan
from zonule.report.sheet.places import placed
from zonule.report.sheet.records import FirstBlock
from zonule.report.sheet.wording import NO_POWER
from zonule.report.words import day, dioptres, sentence_case, underscored

MOST_NOTICES: Final = 2
MOST_NOT_KNOWN: Final = 4


def first_block(plan: Plan) -> FirstBlock:
    """Return what is read from two metres away."""
    case, intended = plan.case, plan.intended
    allergies, allergic = _allergies(case.patient)
    has_power = intended is not None and intended.chosen is not None
    return FirstBlock(
        side=f"{case.eye_to_do} eye".upper(),
        name=_name(case.patient),
        numbers=(case.patient.record_number, _born(case.patient)),
        surgery=_surgery(case),
        aim=dioptres(case.aim.spherical_equivalent_d),
        intended=placed(plan, intended) if intended is not None else None,
        no_power="" if has_power else NO_POWER,
        no_power_because="" if has_power else sentence_case(_because(plan)),
        allergies=allergies,
        allergic=allergic,
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


def _name(patient: Patient) -> str:
    name = patient.answer("name")
    return str(name) if is_known(name) else "name not recorded"


def _born(patient: Patient) -> str:
    return f"born {day(patient.born)}" if is_known(patient.born) else "day of birth not recorded"


def _surgery(case: Case) -> tuple[str, ...]:
    planned = case.surgery_planned_on
    when = f"surgery {day(planned)}" if is_known(planned) else "day of surgery not recorded"
    if case.operative_eye.operation is not None:
        return when, "second operation on this eye"
    return when, "first eye" if case.fellow_eye.operation is None else "second eye"


def _allergies(patient: Patient) -> tuple[str, bool]:
    """Return the line about allergies, and whether there is one or nobody knows."""
    found = patient.answer("allergies")
    if not is_known(found):
        return "Allergies not recorded: ask", True
    if found == ("none_known",):
        return "No allergy known", False
    assert isinstance(found, tuple)
    return f"ALLERGIC TO {', '.join(underscored(one) for one in found)}", True


def _because(plan: Plan) -> str:
    intended = plan.intended
    if plan.power_withheld or intended is None:
        return plan.power_withheld
    return intended.refused_because or intended.waits_for or intended.place.note


def _notices(plan: Plan) -> tuple[str, ...]:
    """Return what was asked for beside the files, then what must still be confirmed."""
    return (*_differs(plan), *_to_confirm(plan))


def _differs(plan: Plan) -> tuple[str, ...]:
    wish = plan.wish
    if not wish.changes_the_plan:
        return ()
    asked = [
        f"aim {dioptres(wish.aim_d)}" if wish.aim_d is not None else "",
        f"aim rule {underscored(wish.aim_rule)}" if wish.aim_rule else "",
        f"lens {wish.lens}" if wish.lens else "",
        f"power {dioptres(wish.power_d)} {_where(plan)}" if wish.power_d is not None else "",
    ]
    return (f"DIFFERS FROM THE FILES, asked for once: {', '.join(one for one in asked if one)}.",)


def _where(plan: Plan) -> str:
    rung = plan.rung(plan.wish.hand) if plan.wish.hand else plan.intended
    return f"({rung.place.label})" if rung is not None else ""


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
