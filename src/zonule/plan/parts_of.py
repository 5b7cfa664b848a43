"""Puts the parts of a plan together that stand beside the lens powers."""

from __future__ import annotations

from collections.abc import Sequence

from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.plan.anaesthesia import anaesthesia_of
from zonule.plan.machine import machine_of
from zonule.plan.nucleus_routes import nucleus_routes_of
from zonule.plan.parts import Parts
from zonule.plan.records import Rung
from zonule.plan.rules import read_conflicts, read_rules, with_plan_facts
from zonule.plan.spoken import different, to_say, triggers_of
from zonule.plan.steps import steps_of
from zonule.plan.tray import tray_of
from zonule.practice.records import Practice


def _sulcus_offered(rungs: Sequence[Rung]) -> bool:
    return any(one.offered and one.place.placement.startswith("sulcus") for one in rungs)


def parts_of(case: Case, practice: Practice, *, rungs: Sequence[Rung], lookup: Lookup) -> Parts:
    """Return rules, tray, steps, machine, anaesthesia, nucleus and what is said.

    Parameters
    ----------
    case, practice
        As read.
    rungs
        The places of this plan.
    lookup
        Every finding of the eye to be done, by the name that rules use.
    """
    known = with_plan_facts(lookup, {"sulcus_offered": _sulcus_offered(rungs)})
    readings = read_rules(case, known, practice.rule_decisions)
    own_lens = case.operative_eye.lens_status not in ("aphakic", "pseudophakic")
    profile, because, settings = machine_of(readings, own_lens=own_lens)
    conflicts = read_conflicts(readings, case, known)
    return Parts(
        rules=readings,
        conflicts=conflicts,
        tray=tray_of(readings, rungs, practice, known),
        steps=steps_of(readings, conflicts, case, practice, known),
        machine=settings,
        machine_profile=profile,
        machine_because=because,
        anaesthesia=anaesthesia_of(readings, practice, known),
        nucleus=nucleus_routes_of(readings, case, practice, known),
        to_say=to_say(readings),
        triggers=triggers_of(case, known),
        different=different(readings),
    )
