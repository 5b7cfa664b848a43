"""Puts a plan together from what was read, checked, assessed and learnt."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from zonule.assessment.measured import measured, missing_for_power
from zonule.assessment.risk.own import surgeons_in_general
from zonule.errors import NoSuchName, Problem
from zonule.findings.answers import Unknown
from zonule.findings.checks import check_lens_powers
from zonule.findings.conditions import parse
from zonule.findings.derived import deciding_biometry
from zonule.findings.facts import facts_of
from zonule.findings.labels import named
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.other_eye import power_of_other_eye
from zonule.plan.outstanding import outstanding
from zonule.plan.parts_of import parts_of
from zonule.plan.records import NO_WISH, Expected, Plan, Rung, expected
from zonule.plan.risks import risks_of
from zonule.plan.rungs import given_for, rungs_of, with_likelihoods
from zonule.plan.wish import Wish
from zonule.practice.first_eye import FirstEye
from zonule.practice.records import Practice

POWERS_EITHER_SIDE = 2


def withheld_because(case: Case, problems: Sequence[Problem]) -> str:
    """Return why no power may be shown for the eye to be done; empty when powers may be."""
    eye = case.operative_eye
    for problem in problems:
        if problem.stops == "power" and problem.eye in (None, eye.side):
            return problem.sentence()
    if eye.lens_status == "pseudophakic":
        return "this eye already has a lens; exchange is not planned by this version"
    if isinstance(eye.lens_status, Unknown):
        return "waits for the lens status of this eye"
    if missing := missing_for_power(eye):
        return f"waits for {', '.join(named(name) for name in missing)}"
    return _beyond_these_formulas(case)


def _beyond_these_formulas(case: Case) -> str:
    """Return what in this eye the formulas know nothing of: oil, a reshaped cornea."""
    eye, rows = case.operative_eye, table("power_formulas")
    biometry = deciding_biometry(eye)
    if biometry is not None and biometry.measured_as == "silicone_oil":
        return str(rows["silicone_oil"]["says"])
    reshaped = rows["after_corneal_surgery"]
    return str(reshaped["says"]) if parse(reshaped["when"]).holds(facts_of(case, eye.side)) else ""


def _ladder(rung: Rung, aim_d: float) -> tuple[Expected, ...]:
    """Return what the powers around the chosen one would leave, strongest first."""
    prediction = rung.prediction
    if prediction is None or rung.chosen is None:
        return ()
    at = prediction.index_of(rung.chosen.power_d)
    kept = {p.power_d: p.kept for p in prediction.lens.stock}
    around = range(
        max(at - POWERS_EITHER_SIDE, 0),
        min(at + POWERS_EITHER_SIDE + 1, len(prediction.powers_d)),
    )
    return tuple(
        expected(prediction, index, aim_d, kept[float(prediction.powers_d[index])])
        for index in reversed(around)
    )


def _power_problems(case: Case, rung: Rung | None) -> tuple[Problem, ...]:
    """Return what is to be asked about the power in hand, by itself and against the other eye."""
    if rung is None or rung.chosen is None or rung.lens is None:
        return ()
    in_bag = rung.place.key == "bag"
    return check_lens_powers(
        case,
        side=case.eye_to_do,
        power_d=rung.chosen.power_d,
        other_power_d=power_of_other_eye(case, rung.lens) if in_bag else None,
    )


def _shared_cause(first_eye: FirstEye | None) -> str:
    """Return that what surprised the first eye is in this eye's figures too; empty if not."""
    if first_eye is None or not first_eye.shared_cause:
        return ""
    return (
        "the first eye's surprise has a cause that both eyes share: until this eye's figures are "
        "corrected for it, every power from them is false"
    )


def _no_power_intended(intended: Rung | None) -> str:
    """Return why the intended place alone has no power; empty when it has one."""
    if intended is None or not intended.place.holds_lens:
        return "no place is open to a lens in this eye"
    if intended.chosen is not None:
        return ""
    return (
        f"{intended.place.label}: {intended.refused_because or f'waits for {intended.waits_for}'}"
    )


def _in_hand(rungs: Sequence[Rung], wish: Wish, intended: Rung | None) -> Rung | None:
    """Return the place in hand if it has a power: the one asked for, else the intended one."""
    asked = intended
    if wish.hand:
        offered = {rung.place.key: rung for rung in rungs if rung.offered}
        if wish.hand not in offered:
            raise NoSuchName("place open in this plan", wish.hand, offered)
        asked = offered[wish.hand]
    return asked if asked is not None and asked.chosen is not None else None


def build_plan(
    case: Case,
    practice: Practice,
    *,
    first_eye: FirstEye | None,
    problems: Sequence[Problem],
    made_on: date,
    wish: Wish = NO_WISH,
) -> Plan:
    """Return the plan for the eye to be done.

    Parameters
    ----------
    case, practice
        As read.
    first_eye
        What the other eye taught; None when it has not been operated.
    problems
        What the checks of the case found.
    made_on
        The day of the plan.
    wish
        The place in hand, another aim, lens or power, asked for this once; the aim and the lens
        are already in ``case`` and ``practice``.

    Raises
    ------
    NoSuchName
        If the place in hand is not open in this plan, or the power is not in the store.
    """
    withheld = withheld_because(case, problems) or _shared_cause(first_eye)
    given = given_for(
        case,
        practice,
        measured=measured(case.operative_eye),
        lesson=first_eye.lesson if first_eye else None,
        withheld=withheld,
        wish=wish,
    )
    rungs = rungs_of(given)
    risks = risks_of(
        case,
        practice,
        practice.own_baseline or surgeons_in_general(practice.risk),
        given.lookup,
        [(rung.place.key, rung.place.placement) for rung in rungs if rung.offered],
    )
    rungs = with_likelihoods(rungs, risks.roots.rungs if risks else {})
    intended = next((rung for rung in rungs if rung.offered), None)
    in_hand = _in_hand(rungs, wish, intended)
    withheld = withheld or _no_power_intended(intended)
    parts = parts_of(case, practice, rungs=rungs, lookup=given.lookup)
    return Plan(
        case=case,
        practice=practice,
        made_on=made_on,
        rungs=rungs,
        in_hand=in_hand,
        ladder=_ladder(in_hand, case.aim.spherical_equivalent_d) if in_hand else (),
        first_eye=first_eye,
        outstanding=outstanding(case, given.lookup, rungs, parts.waiting(), risks),
        problems=(*problems, *_power_problems(case, in_hand)),
        parts=parts,
        risks=risks,
        wish=wish,
        power_withheld=withheld,
    )
