"""Puts the sheet of a plan together."""

from __future__ import annotations

from datetime import datetime

from zonule.plan.records import Plan
from zonule.report.sheet import theatre, wording
from zonule.report.sheet.first_block import first_block, not_known
from zonule.report.sheet.foot import foot
from zonule.report.sheet.places import backups, backups_say, refused
from zonule.report.sheet.records import Sheet


def sheet_of(plan: Plan, *, made_at: datetime) -> Sheet:
    """Return everything the sheet of a plan says.

    Parameters
    ----------
    plan
        The plan.
    made_at
        The instant at which the sheet is made, with its zone; nothing here asks the clock.
    """
    side, parts = plan.case.eye_to_do, plan.parts
    found, words = theatre.devices(parts), theatre.triggers(parts)
    return Sheet(
        title=f"{side.capitalize()} eye, {plan.case.patient.record_number}: sheet for theatre",
        heads=dict(wording.HEADS),
        first=first_block(plan),
        different=parts.different,
        different_says="" if parts.different else wording.NOTHING_DIFFERENT,
        not_known=not_known(plan),
        backups=backups(plan),
        backups_say=backups_say(plan),
        refused=refused(plan),
        devices=found,
        devices_say=theatre.devices_say(parts, side),
        clock=theatre.clock_face(side, found, theatre.gap_of(plan)),
        machine=theatre.machine(parts),
        machine_says=theatre.machine_says(parts),
        triggers=words,
        triggers_say="" if words else wording.NO_TRIGGERS_SAY,
        foot=foot(plan, made_at=made_at),
    )
