"""Whether a condition over the answers holds: yes, no, or not known yet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from zonule.findings.conditions import parse
from zonule.plan.states.records import NOT_ASKED, NOT_KNOWN, Moot, Question, Tables

Answers = Mapping[str, str]


@cache
def holds(text: str, answer: str) -> bool:
    """Tell whether a condition holds of one answer that is known, or moot.

    Examples
    --------
    >>> holds("rhexis in ['not_started','continuous']", "continuous")
    True
    >>> holds("rhexis == 'continuous'", "not_asked"), holds("rhexis != 'continuous'", "not_asked")
    (False, True)
    """
    condition = parse(text)
    return bool(condition.holds(lambda _: answer))


def truth(text: str, answers: Answers, questions: Mapping[str, Question]) -> bool | None:
    """Tell whether a condition holds; None while an answer not known leaves it open.

    Examples
    --------
    >>> from zonule.plan.states.tables import tables
    >>> truth("vitreous == 'none'", {"vitreous": "not_known"}, tables().questions) is None
    True
    """
    name = parse(text).finding
    if answers[name] != NOT_KNOWN:
        return holds(text, answers[name])
    every = {holds(text, value) for value in questions[name].values}
    return every.pop() if len(every) == 1 else None


def all_true(
    conditions: Iterable[str], answers: Answers, questions: Mapping[str, Question]
) -> bool | None:
    """Tell whether all conditions hold: False if one does not, None if one is open."""
    found = [truth(text, answers, questions) for text in conditions]
    return False if False in found else None if None in found else True


def after_moot(answers: Answers, tables: Tables) -> dict[str, str]:
    """Return the answers with those of moot questions dropped.

    Examples
    --------
    >>> from zonule.plan.states.tables import tables
    >>> told = dict.fromkeys(tables().questions, "not_known") | {"rhexis": "not_started"}
    >>> after_moot(told, tables())["usable_rim"]
    'not_asked'
    """
    found = dict(answers)
    for row in tables.moot:
        if all_true(row.when_all, found, tables.questions):
            found |= dict.fromkeys(row.inputs, NOT_ASKED)
    return found


def may_become_moot(name: str, answers: Answers, tables: Tables) -> bool:
    """Tell whether an answer not yet known could still make a question moot."""
    return any(_open(row, answers, tables) for row in tables.moot if name in row.inputs)


def _open(row: Moot, answers: Answers, tables: Tables) -> bool:
    return all_true(row.when_all, answers, tables.questions) is None
