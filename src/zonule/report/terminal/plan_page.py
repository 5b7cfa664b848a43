"""The plan, as a terminal shows it."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from zonule.findings.answers import is_known
from zonule.plan.records import Plan
from zonule.report import risk_words, sentences
from zonule.report.terminal.backups import write_backups
from zonule.report.terminal.expected import write_expected
from zonule.report.terminal.layout import Sheet
from zonule.report.terminal.parts_page import write_parts
from zonule.report.terminal.problem import problem_text
from zonule.report.whose import about_the_patient, which_operation
from zonule.report.words import day, dioptres, sentence_case, underscored

MOST_OUTSTANDING = 8


def write_plan(plan: Plan, console: Console) -> None:
    """Write the whole page of a plan."""
    sheet = Sheet(console)
    _header(sheet, plan)
    _interruptions(sheet, plan)
    write_backups(sheet, plan)
    write_expected(sheet, plan)
    _risks(sheet, plan)
    _first_eye(sheet, plan)
    _outstanding(sheet, plan)
    write_parts(sheet, plan)
    _checks(sheet, plan)
    _caution(sheet, plan)


def _header(sheet: Sheet, plan: Plan) -> None:
    case = plan.case
    order = which_operation(case)
    aim = Text(f"aim {dioptres(case.aim.spherical_equivalent_d)}", style="bold")
    aim.append(f" ({underscored(case.aim.rule)})", style="dim")
    sheet.pair(Text(f"{case.eye_to_do.capitalize()} eye", style="bold").append(f" · {order}"), aim)
    sheet.say(" · ".join(about_the_patient(plan)), style="dim")
    planned = case.surgery_planned_on
    when = f"surgery {day(planned)}" if is_known(planned) else "day of surgery not recorded"
    sheet.say(f"{when} · plan of {day(plan.made_on)}, not signed", style="dim")


def _interruptions(sheet: Sheet, plan: Plan) -> None:
    """Write what a person must act on before anything else."""
    if plan.power_withheld:
        sheet.console.print()
        which = "for the intended place " if plan.shows_a_power else ""
        sheet.say(Text(f"No lens power is shown {which}".rstrip() + ".", style="bold reverse"))
        sheet.say(sentence_case(plan.power_withheld), indent=2)
    for problem in plan.problems:
        if problem.severity in ("block", "confirm") and not plan.power_withheld.startswith(
            problem.sentence()
        ):
            sheet.console.print()
            sheet.bullet(problem_text(problem), mark="!")


def _risks(sheet: Sheet, plan: Plan) -> None:
    """Write the risk of rupture and what lies behind it; the page has the rest."""
    if plan.risks is None:
        return
    sheet.heading(risk_words.heading(plan.risks))
    for line in risk_words.in_short(plan):
        sheet.say(line, indent=2)


def _first_eye(sheet: Sheet, plan: Plan) -> None:
    if plan.first_eye is None:
        return
    sheet.heading("What the first eye taught")
    for line in sentences.first_eye_lines(plan):
        sheet.say(line, indent=2)


def _outstanding(sheet: Sheet, plan: Plan) -> None:
    if not plan.outstanding:
        return
    sheet.heading("Outstanding before surgery")
    for item in plan.outstanding[:MOST_OUTSTANDING]:
        text = Text(item.label, style="bold")
        text.append(f" ({item.why_unknown}): {item.changes}", style="not bold")
        sheet.bullet(text)
    more = len(plan.outstanding) - MOST_OUTSTANDING
    if more > 0:
        sheet.say(f"and {more} more: zonule plan --json lists all", indent=3, style="dim")


def _checks(sheet: Sheet, plan: Plan) -> None:
    told = [
        problem
        for problem in plan.problems
        if problem.severity in ("warn", "mark", "info") and problem.check != "outstanding"
    ]
    if not told:
        return
    sheet.heading("Worth a look in the measurements")
    for problem in told:
        sheet.bullet(problem_text(problem), style="")


def _caution(sheet: Sheet, plan: Plan) -> None:
    sheet.console.print()
    for line in sentences.read_back(plan):
        sheet.say(Text(line, style="bold"))
    sheet.say(sentences.CAUTION, style="dim")
    if plan.in_hand is not None:
        key = plan.in_hand.place.key
        sheet.say(f"Why a number: zonule why CASE placements.{key}.power_d", style="dim")
