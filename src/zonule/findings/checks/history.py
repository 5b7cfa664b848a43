"""Drugs, allergies and age: asked, and not at odds with each other."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import Unknown, is_known
from zonule.findings.checks.catalogue import problem, threshold
from zonule.findings.derived import age_at
from zonule.findings.fields import label
from zonule.findings.records import Case, Patient


def _of_patient(name: str, key: str, value: str = "") -> Problem:
    return problem(name, field=f"patient.{key}", label=label("patient", key), value=value)


def check(case: Case, on: date | None) -> Iterator[Problem]:
    """Judge the patient's history as recorded."""
    yield from _allergies(case.patient)
    yield from _alpha_blocker(case.patient, on)
    yield from _age(case.patient, on)


def _allergies(patient: Patient) -> Iterator[Problem]:
    known = patient.answer("allergies")
    if not isinstance(known, tuple) or not known:
        yield _of_patient("allergies_not_asked", "allergies")
    elif "none_known" in known and len(known) > 1:
        yield _of_patient("allergies_contradict", "allergies", ", ".join(known))


def _alpha_blocker(patient: Patient, on: date | None) -> Iterator[Problem]:
    if patient.answer("alpha_blocker") != "never":
        return
    drugs = patient.answer("alpha_blocker_drugs")
    if isinstance(drugs, tuple) and drugs:
        yield _of_patient("drug_without_history", "alpha_blocker_drugs", ", ".join(drugs))
        return
    age = age_at(patient, on) if on is not None else Unknown.NOT_RECORDED
    over = is_known(age) and age > threshold("ask_alpha_blocker_again", "over_age")
    if over and patient.answer("sex") == "male" and patient.answer("urology_history") is True:
        yield _of_patient("ask_alpha_blocker_again", "alpha_blocker")


def _age(patient: Patient, on: date | None) -> Iterator[Problem]:
    age = age_at(patient, on) if on is not None else Unknown.NOT_RECORDED
    if not is_known(age):
        return
    low, high = (threshold("age_out_of_range", f"{end}_years") for end in ("low", "high"))
    if not low <= age <= high:
        yield problem(
            "age_out_of_range",
            field="patient.born",
            label="Age",
            value=f"{age} years",
            low_years=f"{low:g}",
            high_years=f"{high:g}",
        )
