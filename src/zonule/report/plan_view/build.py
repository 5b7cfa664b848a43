"""Puts the plan page together from a plan."""

from __future__ import annotations

from typing import Final

from zonule import __version__
from zonule.plan.records import Outstanding, Plan
from zonule.report import part_words, sentences
from zonule.report.cornea_view import card_heading, card_lines
from zonule.report.identity import as_shown, plan_identity
from zonule.report.map_view import map_card
from zonule.report.plan_view import header, rules, theatre, told
from zonule.report.plan_view.expected import expected_of
from zonule.report.plan_view.places import refused_of, rungs_of
from zonule.report.plan_view.records import Card, Pair, PlanView, Shown
from zonule.report.plan_view.risk import risk_of
from zonule.report.words import sentence_case, within

ONLY_WORK_UP: Final = 4
"""From this rank on what is outstanding changes neither power, places, devices nor steps."""


def plain(plan: Plan) -> bool:
    """Tell whether nothing is out of the ordinary: cards are then folded to their first line.

    What is not known and would change the operation is out of the ordinary: unknown is not absent.
    """
    return not (
        plan.parts.different
        or plan.power_withheld
        or plan.first_eye is not None
        or header.interruptions_of(plan)
        or any(item.rank < ONLY_WORK_UP for item in plan.outstanding)
    )


def outstanding_of(plan: Plan) -> Card:
    """Return what is outstanding before surgery, the weightiest first."""
    items = plan.outstanding
    if not items:
        return Card("Nothing is outstanding before surgery", ())
    more = f" and {len(items) - 1} more" if len(items) > 1 else ""
    return Card(
        f"Outstanding before surgery: {within(items[0].label)}{more}",
        tuple(_outstanding(item) for item in items),
    )


def _outstanding(item: Outstanding) -> Pair:
    return Pair(Shown(f"{item.label} ({item.why_unknown})"), item.changes)


def _withheld_heading(plan: Plan) -> str:
    if not plan.power_withheld:
        return ""
    which = " for the intended place" if plan.shows_a_power else ""
    return f"No lens power is shown{which}."


def plan_view(plan: Plan) -> PlanView:
    """Return everything the plan page says."""
    at_length, rare = rungs_of(plan)
    return PlanView(
        header=header.header_of(plan),
        plain=plain(plan),
        interruptions=header.interruptions_of(plan),
        withheld_heading=_withheld_heading(plan),
        withheld=sentence_case(plan.power_withheld),
        rungs=at_length,
        surer=told.surer_of(plan),
        rare=rare,
        rare_says=part_words.places_by_order([one.order for one in rare]),
        refused=refused_of(plan),
        shares=told.shares_of(plan),
        whose_shares=sentences.whose_shares(plan),
        expected=expected_of(plan),
        outstanding=outstanding_of(plan),
        first_eye_heading=told.first_eye_heading(plan),
        first_eye=told.first_eye_of(plan),
        steps_heading=rules.steps_heading(plan, plain=plain(plan)),
        steps_note=rules.steps_note(plan),
        steps=rules.steps_of(plan),
        conflicts_heading=rules.conflicts_heading(plan),
        conflicts=rules.conflicts_of(plan),
        nucleus=theatre.nucleus_of(plan),
        tray_heading=theatre.tray_heading(plan),
        tray=theatre.tray_of(plan),
        machine=theatre.machine_of(plan),
        risk=risk_of(plan),
        cornea=Card(card_heading(plan), card_lines(plan)),
        map=map_card(plan),
        anaesthesia=theatre.anaesthesia_of(plan),
        triggers=theatre.triggers_of(plan),
        before_heading=rules.before_heading(plan),
        before=rules.before_of(plan),
        to_say=told.to_say_of(plan),
        settled=rules.settled_of(plan),
        checks=header.checks_of(plan),
        caution=sentences.CAUTION,
        identity=as_shown(plan_identity(plan)),
        versions=f"Zonule {__version__}",
    )
