"""If it goes well, and if it does not: intended and backups in order, then what is closed."""

from __future__ import annotations

from rich.text import Text

from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.terminal.axis import Axis, axis_for
from zonule.report.terminal.layout import Sheet
from zonule.report.words import dioptres, kept, of_100, span

INDENT = 4
SAID_BENEATH = ("ring", "store_not_near", "one_formula", "may_wander")


def write_backups(sheet: Sheet, plan: Plan) -> None:
    """Write every place of a plan."""
    offered = [rung for rung in plan.rungs if rung.offered]
    if not offered:
        _write_closed(sheet, plan)
        return
    sheet.heading("If it goes well, and if it does not", sentences.whose_shares(plan))
    axis = _axis(sheet, plan, offered)
    if axis is not None:
        beside = Text("" if sheet.narrow else "D, nine in ten", style="dim")
        unit = " D" if sheet.narrow else ""
        sheet.pair(Text(axis.scale() + unit, style="dim"), beside, indent=INDENT)
    for rung in offered:
        _write_rung(sheet, plan, rung, axis)
    sheet.console.print()
    if axis is not None:
        sheet.say(sentences.BANDS, indent=INDENT, style="dim")
    sheet.say(sentences.shares(plan), indent=INDENT, style="dim")
    for said in (sentences.surer_than_the_bag(plan), sentences.sulcus_against_rule(plan)):
        if said:
            sheet.say(said, indent=INDENT)
    _write_closed(sheet, plan)


def _axis(sheet: Sheet, plan: Plan, offered: list[Rung]) -> Axis | None:
    bands = [rung.chosen.bands["p90"] for rung in offered if rung.chosen]
    if not bands:
        return None
    beside = 0 if sheet.narrow else len("−0.00 to +0.00") + 2
    room = sheet.width - INDENT - 2 - beside
    return axis_for(bands, plan.case.aim.spherical_equivalent_d, min(room, 64))


def _write_rung(sheet: Sheet, plan: Plan, rung: Rung, axis: Axis | None) -> None:
    if axis is not None:
        sheet.console.print()
    sheet.entry(_mark(sheet, rung), _head(rung), _chance(rung))
    if axis is None:
        return
    if rung.chosen is None:
        waits = f"waits for {rung.waits_for}" if rung.waits_for else ""
        says = (rung.refused_because or waits) if rung.place.holds_lens else rung.place.note
        sheet.say(says, indent=INDENT, style="dim")
        return
    drawn, band = _drawn(sheet, plan, rung, axis), span(*rung.chosen.bands["p90"])
    expected = f"expected {dioptres(rung.chosen.refraction_d)}"
    if sheet.narrow:
        sheet.say(_power(rung), indent=INDENT)
        sheet.say(drawn, indent=INDENT)
        sheet.say(f"{expected}, nine in ten {band}", indent=INDENT)
    else:
        sheet.pair(_power(rung), Text(expected), indent=INDENT)
        sheet.pair(drawn, Text(band), indent=INDENT)
    sheet.say(_beneath(rung), indent=INDENT)


def _mark(sheet: Sheet, rung: Rung) -> str:
    return str(rung.order) if rung.order else sheet.marks.middle


def _head(rung: Rung) -> Text:
    head = Text(rung.place.label, style="bold")
    return head if rung.order else head.append(" · intended", style="not bold dim")


def _chance(rung: Rung) -> Text:
    return Text(sentences.likely(rung))


def _power(rung: Rung) -> Text:
    assert rung.lens is not None
    assert rung.chosen is not None
    power = Text(f"{dioptres(rung.chosen.power_d):>8}", style="bold")
    return power.append(f"  {rung.lens.name}, {kept(rung.chosen.kept)}", style="not bold default")


def _drawn(sheet: Sheet, plan: Plan, rung: Rung, axis: Axis) -> Text:
    assert rung.chosen is not None
    return Text(
        axis.draw(
            half=rung.chosen.bands["p50"],
            nine_in_ten=rung.chosen.bands["p90"],
            middle_d=rung.chosen.refraction_d,
            aim_d=plan.case.aim.spherical_equivalent_d,
            assumed=rung.place.spread_status == "assumption",
            marks=sheet.marks,
        )
    )


def _beneath(rung: Rung) -> str:
    assert rung.chosen is not None
    parts = [
        rung.place.happens_when,
        f"within ±0.50 D of aim {of_100(rung.chosen.within_0_50)}",
        *sentences.assumed(rung),
        sentences.bounds(rung),
        *(c.says for c in rung.caveats if c.name in SAID_BENEATH),
    ]
    if rung.place.wound_mm is not None:
        parts.append(f"wound {rung.place.wound_mm:.1f} mm")
    return "; ".join(part for part in parts if part)


def _write_closed(sheet: Sheet, plan: Plan) -> None:
    closed = plan.closed_by_reason()
    refused = sorted({(c.says) for r in plan.rungs for c in r.caveats if c.name == "lens_refused"})
    if not closed and not refused:
        return
    sheet.heading("Not for this eye")
    for says in refused:
        sheet.bullet(says[:1].upper() + says[1:])
    for reason, places in closed.items():
        text = Text("; ".join(one.label for one in places)).append(f": {reason}", style="dim")
        sheet.bullet(text)
