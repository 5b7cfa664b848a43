"""When a lens power may be shown large: after the state allows it, and what must follow has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from zonule.library.reading import table
from zonule.plan.states.engine import read
from zonule.plan.states.records import NOT_KNOWN, Tables
from zonule.plan.states.space import space
from zonule.plan.states.tables import tables as shipped
from zonule.plan.states.triggers import shuts_gate
from zonule.plan.states.truth import Answers, after_moot, all_true, truth

STATE_CHANGED: Final = "state_changed"
"""The event of a state that shuts the gate coming true, or changing."""
EVENT_SAYS: Final = {
    "vitreous_cleared": "vitreous cleared, or none after triamcinolone",
    "rim_looked_at_again": "the rim looked at once more",
}


@dataclass(frozen=True, slots=True)
class Gate:
    """Whether a power may be shown large, and what is missing."""

    open: bool
    state_allows: bool
    """Whether the answers alone would open it."""
    shut_by: str
    """The event or the state that shut it; empty where it never was."""
    missing: tuple[str, ...]
    line: str
    """What stands in place of the power while the gate is shut; what comes next where it opened."""


def power_gate(answers: Answers, events: Sequence[str] = ()) -> Gate:
    """Return whether a lens power may be shown large.

    Parameters
    ----------
    answers
        Answers by question; missing ones are not known.
    events
        In the order they happened: ids of triggers pressed, ``state_changed``, and what the steps
        of the minutes after log. Others are passed over.

    Examples
    --------
    >>> torn = {"safe_to_go_on": "yes", "posterior_capsule": "tear_large", "vitreous": "none"}
    >>> torn |= {"rhexis": "continuous", "usable_rim": "360", "gap_hours": "0"}
    >>> torn |= {"capsule_opening_fit": "yes"}
    >>> power_gate(torn, ["TR-12", "vitreous_cleared"]).missing
    ('the rim looked at once more',)
    >>> power_gate(torn, ["TR-12", "vitreous_cleared", "rim_looked_at_again"]).open
    True
    >>> power_gate(torn | {"vitreous": "in_chamber"}).line
    'Every lens stays in its sealed box.'
    """
    rows, tables = table("theatre/power_gate")["gate"], shipped()
    told = after_moot(read(answers, tables), tables)
    unsafe = told["safe_to_go_on"] == "no"
    at = max((n for n, event in enumerate(events) if _shuts(event)), default=-1)
    state = _shutting_state(rows, told, tables)
    shut_by = events[at] if at >= 0 else state or ("safe_to_go_on" if unsafe else "")
    if not shut_by:
        return Gate(open=True, state_allows=True, shut_by="", missing=(), line="")
    of_state = _missing_in_state(rows, told, tables)
    since = set(events[at + 1 :])
    after = [EVENT_SAYS[one] for one in rows["opens_after_events"] if one not in since]
    missing = (*of_state, *after)
    line = rows["while_closed"] if missing else rows["then"]
    return Gate(not missing, not of_state, shut_by, missing, line)


def _shuts(event: str) -> bool:
    return event == STATE_CHANGED or shuts_gate(event)


def _shutting_state(rows: dict[str, Any], told: Answers, tables: Tables) -> str:
    """Return the condition of the present answers that shuts the gate; empty where none does."""
    states = rows["closed_by_state_any"]
    return next((text for text in states if truth(text, told, tables.questions)), "")


def _missing_in_state(rows: dict[str, Any], told: Answers, tables: Tables) -> list[str]:
    """Return what the answers lack before the gate may open."""
    found = [
        tables.condition_says[text]
        for text in rows["opens_when_all"]
        if not truth(text, told, tables.questions)
    ]
    found += [
        f"an answer: {tables.questions[name].short}"
        for name in rows["opens_when_answered"]
        if told[name] == NOT_KNOWN and not _settled(told, name)
    ]
    if any(all_true(one.when_all, told, tables.questions) for one in tables.contradictions):
        found.append("answers that agree")
    return found


def _settled(told: Answers, name: str) -> bool:
    """Tell whether a bag that is gone leaves one answer to a question: it need not be asked."""
    if told["posterior_capsule"] != "absent":
        return False
    here = space()
    cells = here.completions(told)
    return cells.size > 0 and len(here.splits(cells, name)) == 1
