"""The header that never scrolls away, and what must be acted on before anything else."""

from __future__ import annotations

from typing import Final

from zonule.errors import Problem
from zonule.plan.records import Plan
from zonule.report.plan_view.records import HeaderView, Interruption, Shown
from zonule.report.whose import (
    alerts,
    allergies,
    born_on,
    differs_from_the_files,
    name_of,
    surgery_on,
    which_operation,
)
from zonule.report.words import day, dioptres, underscored

WORDS: Final = {"block": "Stop", "confirm": "Confirm", "warn": "Look again"}


def header_of(plan: Plan) -> HeaderView:
    """Return whose eye, which aim, which plan."""
    case, patient = plan.case, plan.case.patient
    allergic_to, allergic = allergies(patient)
    told = alerts(patient, case.operative_eye)
    return HeaderView(
        eye=f"{case.eye_to_do.capitalize()} eye",
        aim=Shown(f"aim {dioptres(case.aim.spherical_equivalent_d)}", "eye.aim_d"),
        rule=underscored(case.aim.rule),
        who=f"{name_of(patient)} ({patient.record_number})",
        born=born_on(plan),
        allergies=" · ".join((allergic_to, *told)),
        allergic=allergic or bool(told),
        order=which_operation(case),
        surgery=surgery_on(case),
        plan=f"plan of {day(plan.made_on)}, not signed",
        differs=differs_from_the_files(plan),
    )


def interruptions_of(plan: Plan) -> tuple[Interruption, ...]:
    """Return what holds up the plan, or is to be confirmed; said once, not with the power again."""
    return tuple(
        Interruption(WORDS[one.severity], one.sentence(), holds_up(one))
        for one in plan.problems
        if one.severity in ("block", "confirm")
        and not plan.power_withheld.startswith(one.sentence())
    )


def holds_up(problem: Problem) -> str:
    """Return what a problem holds up; empty where it holds up nothing."""
    if problem.stops == "power":
        return "No lens power is shown until it is settled."
    return "" if problem.stops == "nothing" else f"Holds up the {underscored(problem.stops)}."


def checks_of(plan: Plan) -> tuple[str, ...]:
    """Return what is worth a look in the measurements."""
    return tuple(
        " ".join(part for part in (_word(one), one.sentence(), holds_up(one)) if part)
        for one in plan.problems
        if one.severity in ("warn", "mark", "info") and one.check != "outstanding"
    )


def _word(problem: Problem) -> str:
    return f"{WORDS[problem.severity]}:" if problem.severity in WORDS else ""
