"""What is outstanding before surgery and would change the plan, the weightiest first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from zonule.assessment.measured import missing_for_power
from zonule.findings.answers import Answer, Unknown
from zonule.findings.conditions import Lookup
from zonule.findings.labels import label_of
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.records import Outstanding, Rung

_WHY_WORDS = {
    Unknown.NOT_RECORDED: "not recorded",
    Unknown.NOT_EXAMINED: "not examined",
    Unknown.NOT_POSSIBLE: "not possible",
    Unknown.UNKNOWN: "asked, not known",
}


def _why(answer: Answer) -> str:
    """Return why an answer is not there; a whole measurement that is missing was not recorded."""
    return _WHY_WORDS[answer if isinstance(answer, Unknown) else Unknown.NOT_RECORDED]


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


def outstanding(case: Case, lookup: Lookup, rungs: Sequence[Rung] = ()) -> tuple[Outstanding, ...]:
    """Return what is outstanding before surgery; nothing that only theatre can show."""
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
    return tuple(sorted(found, key=lambda item: item.rank))
