"""Puts the plan page together from a plan."""

from __future__ import annotations

from zonule import __version__
from zonule.findings.answers import is_known
from zonule.plan.records import Plan
from zonule.report import part_words, sentences
from zonule.report.identity import as_shown, plan_identity
from zonule.report.plan_view import parts
from zonule.report.plan_view.expected import expected_of
from zonule.report.plan_view.places import refused_of, rungs_of
from zonule.report.plan_view.records import HeaderView, Pair, PlanView, Shown
from zonule.report.whose import about_the_patient, which_operation
from zonule.report.words import day, dioptres, sentence_case, underscored


def _header(plan: Plan) -> HeaderView:
    case = plan.case
    planned = case.surgery_planned_on
    when = f"surgery {day(planned)}" if is_known(planned) else "day of surgery not recorded"
    aim = f"aim {dioptres(case.aim.spherical_equivalent_d)} ({underscored(case.aim.rule)})"
    return HeaderView(
        eye=f"{case.eye_to_do.capitalize()} eye",
        order=which_operation(case),
        aim=Shown(aim),
        about=tuple(about_the_patient(plan)),
        when=f"{when} · plan of {day(plan.made_on)}, not signed",
    )


def _interruptions(plan: Plan) -> tuple[str, ...]:
    return tuple(
        problem.sentence()
        for problem in plan.problems
        if problem.severity in ("block", "confirm")
        and not plan.power_withheld.startswith(problem.sentence())
    )


def _checks(plan: Plan) -> tuple[str, ...]:
    return tuple(
        problem.sentence()
        for problem in plan.problems
        if problem.severity in ("warn", "mark", "info") and problem.check != "outstanding"
    )


def _outstanding(plan: Plan) -> tuple[Pair, ...]:
    return tuple(
        Pair(f"{item.label} ({item.why_unknown})", item.changes) for item in plan.outstanding
    )


def _shares(plan: Plan) -> tuple[str, ...]:
    told = (sentences.BANDS, sentences.shares(plan), sentences.sulcus_against_rule(plan))
    return tuple(one for one in told if one)


def _first_eye_heading(plan: Plan) -> str:
    if plan.first_eye is None:
        return ""
    return "What the first eye taught"


def plan_view(plan: Plan) -> PlanView:
    """Return everything the plan page says."""
    long, rare = rungs_of(plan)
    return PlanView(
        header=_header(plan),
        plain=not plan.parts.different,
        interruptions=_interruptions(plan),
        withheld=sentence_case(plan.power_withheld),
        rungs=long,
        rare=rare,
        refused=refused_of(plan),
        shares=_shares(plan),
        expected=expected_of(plan),
        outstanding=_outstanding(plan),
        first_eye=sentences.first_eye_lines(plan),
        first_eye_heading=_first_eye_heading(plan),
        steps=parts.steps_of(plan),
        conflicts=parts.conflicts_of(plan),
        nucleus=parts.nucleus_of(plan),
        tray=parts.tray_of(plan),
        tray_heading=parts.tray_heading(plan),
        machine_heading=part_words.machine_heading(plan),
        machine=tuple(Shown(one.sentence, f"machine.{one.stage}") for one in plan.parts.machine),
        machine_caution=part_words.MACHINE_CAUTION,
        anaesthesia_heading=f"Anaesthesia: {plan.parts.anaesthesia.route}",
        anaesthesia=parts.anaesthesia_of(plan),
        before=parts.before_of(plan),
        to_say=(*part_words.spoken_of_the_aim(plan), *(o.says for o in plan.parts.to_say)),
        aside=parts.aside_of(plan),
        checks=_checks(plan),
        read_back=" ".join(sentences.read_back(plan)),
        caution=sentences.CAUTION,
        identity=as_shown(plan_identity(plan)),
        versions=f"Zonule {__version__}",
    )
