"""Puts the parts of a plan together that stand beside the lens powers."""

from __future__ import annotations

from collections.abc import Sequence

from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.plan.anaesthesia import anaesthesia_of
from zonule.plan.clock_map import clock_map_of
from zonule.plan.cornea import cornea_of
from zonule.plan.energy import energy_of
from zonule.plan.machine import machine_of
from zonule.plan.machine_physics import machine_physics
from zonule.plan.nucleus_routes import nucleus_routes_of
from zonule.plan.parts import Parts
from zonule.plan.records import Rung
from zonule.plan.rules import read_conflicts, read_rules, with_plan_facts
from zonule.plan.spoken import different, to_say, triggers_of
from zonule.plan.steps import shaping, steps_of
from zonule.plan.tray import tray_of
from zonule.practice.records import Practice


def _sulcus_offered(rungs: Sequence[Rung]) -> bool:
    return any(one.offered and one.place.placement.startswith("sulcus") for one in rungs)


def _scleral_backup(rungs: Sequence[Rung]) -> bool:
    """Tell whether the sclera may have to hold the lens, and not only rarely."""
    held = (one for one in rungs if one.place.placement == "scleral")
    return any(one.offered and not one.rare for one in held)


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
    firing = shaping(readings, conflicts)
    clock = clock_map_of(
        case,
        practice,
        known,
        firing=frozenset(one.rule.id for one in firing),
        waiting=frozenset(one.rule.id for one in readings if one.state == "waits"),
        scleral_backup=_scleral_backup(rungs),
    )
    return Parts(
        rules=readings,
        conflicts=conflicts,
        tray=tray_of(readings, rungs, practice, known),
        clock_map=clock,
        steps=steps_of(firing, case, practice, clock),
        machine=settings,
        machine_profile=profile,
        machine_because=because,
        machine_physics=machine_physics(settings, practice.machine),
        anaesthesia=anaesthesia_of(readings, practice, known),
        nucleus=nucleus_routes_of(readings, case, practice, known),
        to_say=to_say(readings),
        triggers=triggers_of(case, known),
        cornea=cornea_of(case, known),
        energy=energy_of(case, practice.energy, known),
        different=different(readings),
    )
