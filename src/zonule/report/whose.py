"""Whose eye a plan is for, in words."""

from __future__ import annotations

from typing import Final, TypeGuard

from zonule.findings.answers import Answer, is_known, number
from zonule.findings.records import Case, Eye, Patient
from zonule.plan.records import Plan
from zonule.report.words import age_on, day, dioptres, underscored

BLEEDS_NO_MORE: Final = ("none", "aspirin")
"""Answers about antithrombotic drugs for which nothing is done otherwise."""


def which_operation(case: Case) -> str:
    """Return whether this is the first or second eye, or a second operation on this one."""
    if case.operative_eye.operation is not None:
        return "second operation on this eye"
    return "first eye" if case.fellow_eye.operation is None else "second eye"


def allergies(patient: Patient) -> tuple[str, bool]:
    """Return what is known of allergies, and whether it must stand out: one, or nobody knows."""
    found = patient.answer("allergies")
    if not is_known(found):
        return "allergies not recorded", True
    if found == ("none_known",):
        return "no allergy known", False
    assert isinstance(found, tuple)
    return f"allergic to {', '.join(underscored(one) for one in found)}", True


def alerts(patient: Patient, eye: Eye) -> tuple[str, ...]:
    """Return what, beside allergies, the whole room must know: blood that does not clot, one eye.

    Examples
    --------
    >>> one_eye = Eye(side="left", answers={"only_eye": True})
    >>> alerts(Patient("demo", answers={"antithrombotic": "warfarin", "inr": 3.6}), one_eye)
    ('takes warfarin, INR 3.6', 'only useful eye')
    """
    drug, inr = patient.answer("antithrombotic"), patient.answer("inr")
    told = []
    if is_known(drug) and drug not in BLEEDS_NO_MORE:
        told.append(f"takes {underscored(str(drug))}" + (f", INR {inr:g}" if _known(inr) else ""))
    if eye.answer("only_eye") is True:
        told.append("only useful eye")
    return tuple(told)


def _known(inr: Answer) -> TypeGuard[float]:
    return number(inr) is not None


def name_of(patient: Patient) -> str:
    """Return the name, or that none is recorded."""
    name = patient.answer("name")
    return str(name) if is_known(name) else "name not recorded"


def born_on(plan: Plan) -> str:
    """Return day of birth and age, or that the day is not recorded."""
    born = plan.case.patient.born
    if not is_known(born):
        return "day of birth not recorded"
    return f"born {day(born)} ({age_on(born, plan.made_on)})"


def surgery_on(case: Case) -> str:
    """Return the day of surgery, or that it is not recorded."""
    planned = case.surgery_planned_on
    return f"surgery {day(planned)}" if is_known(planned) else "day of surgery not recorded"


def about_the_patient(plan: Plan) -> list[str]:
    """Return name, number, day of birth, sex and allergies."""
    patient = plan.case.patient
    told = [name_of(patient)] if is_known(patient.answer("name")) else []
    told.append(patient.record_number)
    if is_known(patient.born):
        told.append(born_on(plan))
    sex = patient.answer("sex")
    told.append(f"sex {sex}" if is_known(sex) else "sex not recorded")
    return [*told, allergies(patient)[0]]


def asked_for(plan: Plan) -> str:
    """Return what was asked for beside the files, in words; empty where nothing was."""
    wish = plan.wish
    asked = (
        f"aim {dioptres(wish.aim_d)}" if wish.aim_d is not None else "",
        f"powers by {underscored(wish.aim_rule)}" if wish.aim_rule else "",
        f"lens {wish.lens}" if wish.lens else "",
        f"power {dioptres(wish.power_d)}{_where(plan)}" if wish.power_d is not None else "",
    )
    return ", ".join(one for one in asked if one)


def _where(plan: Plan) -> str:
    rung = plan.rung(plan.wish.hand) if plan.wish.hand else plan.intended
    return f" ({rung.place.label})" if rung is not None else ""


def differs_from_the_files(plan: Plan) -> str:
    """Return that something was asked for beside the files; empty where the plan is theirs."""
    told = asked_for(plan)
    return f"differs from the files: {told}" if told else ""
