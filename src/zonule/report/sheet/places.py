"""The places of the sheet: the intended one, the backups in order, and those that are refused."""

from __future__ import annotations

from typing import Final

from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.sheet import wording
from zonule.report.sheet.records import Placed, Refused
from zonule.report.words import dioptres, kept, of_100

NOTED: Final = ("ring", "store_not_near", "one_formula", "may_wander", "finding_says")
"""Caveats of a place that theatre must know."""


def placed(plan: Plan, rung: Rung) -> Placed:
    """Return one place of a plan as the sheet says it."""
    place = rung.place
    common = Placed(
        number=str(rung.order) if rung.order else "",
        place=place.label,
        happens_when=place.happens_when,
        notes=_notes(plan, rung),
        rare=rung.rare,
        chance="" if rung.likelihood is None else of_100(rung.likelihood),
        instead=_instead(plan, rung),
    )
    return common if rung.chosen is None else _with_power(common, plan, rung)


def backups(plan: Plan) -> tuple[Placed, ...]:
    """Return every backup in order."""
    return tuple(placed(plan, rung) for rung in plan.rungs if rung.order > 0)


def backups_say(plan: Plan) -> str:
    """Return what the columns of the backups mean."""
    later = [rung for rung in plan.rungs if rung.order > 0]
    if not later:
        return wording.NO_BACKUPS_SAY
    shares = any(rung.likelihood is not None for rung in plan.rungs)
    said = [wording.SHARES_SAY if shares else wording.NO_SHARES_SAY]
    if any(sentences.likely_is_wide(rung) for rung in plan.rungs):
        said.append(wording.WIDE_SAYS)
    if any(rung.chosen for rung in plan.rungs):
        said += [wording.EXPECTED_SAYS, wording.BOX_SAYS]
    return " ".join(said)


def refused(plan: Plan) -> tuple[Refused, ...]:
    """Return the places that are not for this eye, those of one reason together."""
    return tuple(
        Refused(tuple(place.label for place in places), reason)
        for reason, places in plan.closed_by_reason().items()
    )


def _with_power(common: Placed, plan: Plan, rung: Rung) -> Placed:
    assert rung.lens is not None
    assert rung.chosen is not None
    chosen, stocked = rung.chosen, rung.in_stock
    has_minus = any(power.power_d < 0.0 for power in rung.lens.stock)
    return Placed(
        number=common.number,
        place=common.place,
        happens_when=common.happens_when,
        notes=common.notes,
        rare=common.rare,
        chance=common.chance,
        power=dioptres(chosen.power_d),
        box=wording.box_characters(chosen.power_d),
        box_note=wording.box_note(chosen.power_d, has_minus),
        code=stocked.device_identifier if stocked is not None else "",
        lens=rung.lens.name,
        kept=_kept(plan, rung),
        at_hand=chosen.kept == "in_room",
        expected=wording.expected(chosen.refraction_d),
        band=wording.band(*chosen.bands["p90"]),
    )


def _kept(plan: Plan, rung: Rung) -> str:
    """Return where the lens is, with its shelf where the practice file names one."""
    assert rung.lens is not None
    assert rung.chosen is not None
    where = kept(rung.chosen.kept)
    for item in plan.parts.tray:
        same = item.lens == rung.lens.name and item.power_d == rung.chosen.power_d
        if item.kind == "lens" and same and item.shelf:
            return f"{where}: shelf {item.shelf}"
    return where


def _notes(plan: Plan, rung: Rung) -> tuple[str, ...]:
    """Return what theatre must know of a place; what the intended place says is said once."""
    above = plan.intended.caveats if plan.intended is not None and rung.order > 0 else ()
    said_above = {caveat.says for caveat in above}
    noted = [caveat.says for caveat in rung.caveats if caveat.name in NOTED]
    if rung.place.wound_mm is not None:
        noted.append(f"wound {rung.place.wound_mm:.1f} mm")
    return tuple(one for one in noted if one not in said_above)


def _instead(plan: Plan, rung: Rung) -> str:
    """Return why a place has no power, or what is done where no lens goes in.

    A reason that holds for the whole plan is said once, in the first block.
    """
    if rung.chosen is not None:
        return ""
    if not rung.place.holds_lens:
        return rung.place.note
    waits = f"waits for {rung.waits_for}" if rung.waits_for else ""
    reason = rung.refused_because or waits
    if not reason or reason == plan.power_withheld:
        return wording.NO_POWER_HERE
    return f"{wording.NO_POWER_HERE}: {reason}"
