"""Expected after surgery: one row per power in stock around the chosen one."""

from __future__ import annotations

from rich.text import Text

from zonule.plan.records import Expected, Plan, Rung
from zonule.report import sentences
from zonule.report.terminal.axis import axis_for
from zonule.report.terminal.layout import Sheet
from zonule.report.words import dioptres, of_100, sentence_case, signed

POWER_WIDTH = 11


def write_expected(sheet: Sheet, plan: Plan) -> None:
    """Write what each power around the chosen one would leave."""
    if plan.in_hand is None or plan.in_hand.chosen is None:
        return
    rung, aim_d = plan.in_hand, plan.case.aim.spherical_equivalent_d
    sheet.heading(f"Expected after surgery · {rung.place.label}")
    room = sheet.width - POWER_WIDTH - (4 if sheet.narrow else 24)
    axis = axis_for([row.bands["p90"] for row in plan.ladder], aim_d, min(room, 56))
    gap = " " * POWER_WIDTH
    tail = "" if sheet.narrow else "within ±0.50 D of aim"
    scale = axis.scale().ljust(axis.characters + 2)
    sheet.say(Text(f"{gap}{scale}{tail}".rstrip(), style="dim"))
    for row in plan.ladder:
        _write_row(
            sheet,
            plan,
            row,
            axis.draw(
                half=row.bands["p50"],
                nine_in_ten=row.bands["p90"],
                middle_d=row.refraction_d,
                aim_d=aim_d,
                assumed=rung.place.spread_status == "assumption",
                marks=sheet.marks,
            ),
        )
    _write_formulas(sheet, plan)


def _write_row(sheet: Sheet, plan: Plan, row: Expected, drawn: str) -> None:
    assert plan.in_hand is not None
    assert plan.in_hand.chosen is not None
    chosen = row.power_d == plan.in_hand.chosen.power_d
    style = "bold" if chosen else ""
    power = Text(f"{dioptres(row.power_d):>9}  ", style="bold" if chosen else "")
    power.append(drawn, style=style)
    within = f"{of_100(row.within_0_50)}{' chosen' if chosen else ''}"
    if sheet.narrow:
        sheet.say(power)
        sheet.say(f"within ±0.50 D of aim: {within}", indent=POWER_WIDTH, style=style)
        return
    sheet.say(power.append(f"  {within}", style=style))


def _write_formulas(sheet: Sheet, plan: Plan) -> None:
    rung = plan.in_hand
    assert rung is not None
    assert rung.chosen is not None
    assert rung.prediction is not None
    chosen = rung.chosen
    at = rung.prediction.index_of(chosen.power_d)
    by_formula = ", ".join(
        f"{use.label} {signed(float(rung.prediction.by_formula_d[at, column]))}"
        for column, use in enumerate(rung.prediction.optics.uses)
    )
    sheet.say(
        f"{dioptres(chosen.power_d)}: within ±1.00 D of aim {of_100(chosen.within_1_00)}; "
        f"above 0 {of_100(chosen.above_0)}, above +0.50 D {of_100(chosen.above_0_50)}.",
        indent=2,
    )
    sheet.say(f"By formula: {by_formula} D, equal weights{_carried(rung, at)}.", indent=2)
    for says in (c.says for c in rung.caveats if c.name in ("formulas_disagree", "long_eye")):
        sheet.say(sentence_case(says) + ".", indent=2)
    for use in rung.prediction.optics.uses[:1]:
        if use.length_shift_mm:
            sheet.say(f"Length: {use.says}.", indent=2)
    silent = [use for use in rung.prediction.uses if not use.applies]
    for use in silent:
        sheet.say(f"{use.label} is silent: {use.says}.", indent=2, style="dim")
    if "starting_value" in {c.name for c in rung.caveats}:
        sheet.say(sentences.STARTING_VALUE, indent=2, style="bold")


def _carried(rung: Rung, at: int) -> str:
    """Return how the mean of the formulas becomes the refraction expected, if by more than them."""
    assert rung.prediction is not None
    assert rung.chosen is not None
    carried = rung.prediction.carried
    moved = float(carried.mean_d[at]) if carried else 0.0
    if abs(moved) < 0.005:
        return ""
    mean = float(rung.prediction.by_formula_d[at].mean())
    return (
        f": mean {signed(mean)}, carried over from the first eye {signed(moved)}, expected "
        f"{dioptres(rung.chosen.refraction_d)}"
    )
