"""What is outstanding before surgery and would change the plan, the weightiest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from zonule.assessment.measured import missing_for_power
from zonule.findings.allergies import not_placed
from zonule.findings.answers import Answer, Unknown
from zonule.findings.conditions import Lookup
from zonule.findings.labels import label_of
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.library.rules import Rule
from zonule.plan.parts import RuleReading
from zonule.plan.recorded_as import recorded_as, why_not_there
from zonule.plan.records import Outstanding, Rung
from zonule.plan.risks import Risks

LAST_RANK: Final = 5
NARROWS: Final = "narrows the range of the risks"
_WHY_WORDS = {
    Unknown.NOT_RECORDED: "not recorded",
    Unknown.NOT_EXAMINED: "not examined",
    Unknown.NOT_POSSIBLE: "not possible",
    Unknown.UNKNOWN: "asked, not known",
}


_WORDS_OF_CHOICES: Final = {"unknown": Unknown.UNKNOWN, "not_done": Unknown.NOT_EXAMINED}
"""Words of a choice that say only that nothing is known."""


def _why(answer: Answer) -> str:
    """Return why an answer is not there; a whole measurement that is missing was not recorded."""
    if isinstance(answer, str) and answer in _WORDS_OF_CHOICES:
        return _WHY_WORDS[_WORDS_OF_CHOICES[answer]]
    return _WHY_WORDS[answer if isinstance(answer, Unknown) else Unknown.NOT_RECORDED]


def _why_in(case: Case, lookup: Lookup, name: str) -> str:
    """Return why what a rule waits for is not there, or not clear enough to hear."""
    if name in ("born", "surgery_planned_on"):
        return _why(why_not_there(name, case))
    unclear = not_placed(lookup(name)) if name == "allergies" else ()
    return f"no word a rule can hear: {', '.join(unclear)}" if unclear else _why(lookup(name))


def _for_power(case: Case, lookup: Lookup) -> list[Outstanding]:
    return [
        Outstanding(
            finding=name,
            label=label_of(name),
            changes="no power can be computed without it",
            why_unknown=_why(lookup(name)),
            rank=0,
        )
        for name in missing_for_power(case.operative_eye)
    ]


def _asked(row: dict[str, Any], case: Case) -> bool:
    status = case.operative_eye.lens_status
    return "lens_status" not in row or status == row["lens_status"] or isinstance(status, Unknown)


def _to_order(rungs: Sequence[Rung]) -> list[Outstanding]:
    """Return the lenses this plan offers that are still to be ordered."""
    return [
        Outstanding(
            finding="lens_to_order",
            label=f"{rung.lens.name} {rung.chosen.power_d:+.2f} D".replace("-", "−"),
            changes=f"until it is there this plan has no lens for: {rung.place.label}",
            why_unknown="to order",
            rank=2,
        )
        for rung in rungs
        if rung.offered and rung.lens and rung.chosen and rung.chosen.kept == "to_order"
    ]


def _weight(rule: Rule) -> int:
    """Return what a rule would change: what lies in the room, how it is done, or the work-up."""
    if rule.bring or rule.leave_out:
        return 3
    return 2 if rule.step else 1


_RANK_BY_WEIGHT: Final = {3: 2, 2: 3, 1: 4}


def _waiting_rules(waiting: Sequence[RuleReading], case: Case) -> dict[str, list[Rule]]:
    """Return the rules that wait for each finding, the weightiest first."""
    found: dict[str, list[Rule]] = {}
    for reading in waiting:
        for name in dict.fromkeys(recorded_as(name, case) for name in reading.waits_for):
            found.setdefault(name, []).append(reading.rule)
    return {
        name: sorted(rules, key=lambda rule: (-_weight(rule), rule.strength))
        for name, rules in found.items()
    }


def _decides(rules: Sequence[Rule]) -> str:
    """Return which rules a finding decides, in a few words."""
    title = rules[0].title
    more = len(rules) - 1
    also = f", and {more} rule{'' if more == 1 else 's'} more" if more else ""
    return f"decides: {title[:1].lower() + title[1:]}{also}"


def _with_rules(
    found: Sequence[Outstanding], waiting: dict[str, list[Rule]], case: Case, lookup: Lookup
) -> list[Outstanding]:
    """Return what is outstanding with the rules that wait for it, and what only rules wait for."""
    known = {item.finding for item in found}
    told = [
        replace(
            item,
            rules=tuple(rule.id for rule in waiting.get(item.finding, ())),
            rank=min(item.rank, _rank(waiting.get(item.finding, ()))),
        )
        for item in found
    ]
    return told + [
        Outstanding(
            finding=name,
            label=label_of(name),
            changes=_decides(rules),
            why_unknown=_why_in(case, lookup, name),
            rank=_rank(rules),
            rules=tuple(rule.id for rule in rules),
        )
        for name, rules in waiting.items()
        if name not in known
    ]


def _with_risks(
    found: Sequence[Outstanding], risks: Risks | None, case: Case, lookup: Lookup
) -> list[Outstanding]:
    """Return what is outstanding with what was found at the first eye, and what narrows a risk."""
    if risks is None:
        return list(found)
    shared = (
        {one.finding: one.label for one in risks.second_eye.to_look_for} if risks.second_eye else {}
    )
    narrows = dict.fromkeys(recorded_as(name, case) for name in (*shared, *risks.waits_for))
    known = {item.finding for item in found}
    told = [
        replace(item, changes=f"{item.changes}; {_at_the_first_eye(shared[item.finding])}")
        if item.finding in shared
        else item
        for item in found
    ]
    return told + [
        Outstanding(
            finding=name,
            label=label_of(name),
            changes=_at_the_first_eye(shared[name]) if name in shared else NARROWS,
            why_unknown=_why_in(case, lookup, name),
            rank=2 if name in shared else LAST_RANK,
        )
        for name in narrows
        if name not in known
    ]


def _at_the_first_eye(cause: str) -> str:
    return f"found at the first eye: {cause[:1].lower() + cause[1:]}; look for it here"


def _rank(rules: Sequence[Rule]) -> int:
    return _RANK_BY_WEIGHT[_weight(rules[0])] if rules else LAST_RANK


def outstanding(
    case: Case,
    lookup: Lookup,
    rungs: Sequence[Rung] = (),
    waiting: Sequence[RuleReading] = (),
    risks: Risks | None = None,
) -> tuple[Outstanding, ...]:
    """Return what is outstanding before surgery; nothing that only theatre can show.

    Ranked by what it would change: the power, whether a power is true, which places and devices,
    how it is done, the rest; within a rank by how much the rules that wait for it weigh. What was
    found at the first eye and not looked for here stands among the devices, what only narrows a
    risk at the end.
    """
    found = _for_power(case, lookup) + _to_order(rungs)
    for row in table("outstanding")["row"]:
        answer = lookup(row["finding"])
        if not isinstance(answer, Unknown) or not _asked(row, case):
            continue
        found.append(
            Outstanding(
                finding=row["finding"],
                label=label_of(row["finding"]),
                changes=row["changes"],
                why_unknown=_why(answer),
                rank=row["rank"],
            )
        )
    rules = _waiting_rules(waiting, case)
    weights = {name: sum(_weight(rule) for rule in told) for name, told in rules.items()}
    told = _with_rules(found, rules, case, lookup)
    told = _with_risks(told, risks, case, lookup)
    return tuple(sorted(told, key=lambda item: (item.rank, -weights.get(item.finding, 0))))
