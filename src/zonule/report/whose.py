"""Whose eye a plan is for, in words."""

from __future__ import annotations

from zonule.findings.answers import is_known
from zonule.findings.records import Case
from zonule.plan.records import Plan
from zonule.report.words import age_on, day, underscored


def which_operation(case: Case) -> str:
    """Return whether this is the first or second eye, or a second operation on this one."""
    if case.operative_eye.operation is not None:
        return "second operation on this eye"
    return "first eye" if case.fellow_eye.operation is None else "second eye"


def about_the_patient(plan: Plan) -> list[str]:
    """Return name, number, day of birth, sex and allergies."""
    patient, on = plan.case.patient, plan.made_on
    name = patient.answer("name")
    told = [str(name)] if is_known(name) else []
    told.append(patient.record_number)
    if is_known(patient.born):
        told.append(f"born {day(patient.born)} ({age_on(patient.born, on)})")
    sex = patient.answer("sex")
    told.append(f"sex {sex}" if is_known(sex) else "sex not recorded")
    allergies = patient.answer("allergies")
    if not is_known(allergies):
        told.append("allergies not recorded")
    elif allergies == ("none_known",):
        told.append("no allergy known")
    else:
        assert isinstance(allergies, tuple)
        told.append(f"allergic to {', '.join(underscored(one) for one in allergies)}")
    return told
