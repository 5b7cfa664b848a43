"""Why a place is refused: the conditions that fail in its nearest way, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from zonule.errors import LibraryFault
from zonule.findings.conditions import parse
from zonule.library.placements import places
from zonule.plan.states.records import NOT_ASKED, NOT_KNOWN, Row, Tables, Way
from zonule.plan.states.truth import Answers, truth

WHILE_SO: Final = ("rhexis == 'not_started'", "lens_in_eye == 'in_bag'")
"""Ways with one of these conditions are for that situation alone, and no measure elsewhere."""


@dataclass(frozen=True, slots=True)
class _Judged:
    """A way with its conditions that fail, are open, and hold."""

    way: Way
    failing: tuple[str, ...]
    open: tuple[str, ...]
    holding: int


def refusal(placement: str, answers: Answers, rows: Sequence[Row], tables: Tables) -> str:
    """Return the sentence that says why a place is refused.

    Examples
    --------
    >>> from zonule.plan.states.tables import tables
    >>> whole = {"safe_to_go_on": "yes", "lens_in_eye": "none", "posterior_capsule": "intact"}
    >>> whole |= {"rhexis": "continuous", "vitreous": "none", "gap_hours": "0"}
    >>> whole |= {"usable_rim": "360", "capsule_opening_fit": "yes", "ring_in": "no"}
    >>> refusal("bag_anchored", whole, (), tables())
    'In the bag, bag sutured to the sclera: needs a gap in the zonule; here no gap.'
    """
    nearest = _nearest(placement, answers, tables)
    reasons = _worth_saying(nearest.failing, answers)
    name = label(placement)
    if nearest.open and not reasons:
        return f"{name}: the answers taken together leave no way to it."
    if not reasons:
        where = " or ".join(dict.fromkeys(row.name for row in rows))
        return f"{name}: not among the places for this state ({where})."
    needs = " and ".join(dict.fromkeys(tables.condition_says[text] for text in reasons))
    here = ", ".join(dict.fromkeys(_here(text, answers, tables) for text in reasons))
    return f"{name}: needs {needs}; here {here}."


def label(placement: str) -> str:
    """Return a place as a person says it, without its variants.

    Examples
    --------
    >>> label("bag"), label("scleral")
    ('In the bag', 'Scleral fixation')
    """
    known = [one for one in places().values() if one.placement == placement]
    if not known:
        raise LibraryFault(f"{placement!r} of the theatre tables is no place of the library")
    return known[0].label if len(known) == 1 or not known[0].variant else _shared(placement)


@cache
def _shared(placement: str) -> str:
    """Return what the labels of all variants begin with."""
    labels = [one.label for one in places().values() if one.placement == placement]
    words = [text.replace(",", " ,").split() for text in labels]
    same = []
    for at in zip(*words, strict=False):
        if len(set(at)) > 1 or at[0] == ",":
            break
        same.append(at[0])
    return " ".join(same)


def _nearest(placement: str, answers: Answers, tables: Tables) -> _Judged:
    own = [way for way in tables.ways if way.placement == placement]
    fitting = [way for way in own if _for_now(way, answers)]
    judged = [_judged(way, answers, tables) for way in fitting or own]
    return min(judged, key=lambda one: (len(one.failing), -one.holding))


def _for_now(way: Way, answers: Answers) -> bool:
    return all(
        answers[parse(text).finding] == parse(text).value
        for text in way.when_all
        if text in WHILE_SO
    )


def _judged(way: Way, answers: Answers, tables: Tables) -> _Judged:
    found = {text: truth(text, answers, tables.questions) for text in way.when_all}
    return _Judged(
        way,
        tuple(text for text, value in found.items() if value is False),
        tuple(text for text, value in found.items() if value is None),
        sum(value is True for value in found.values()),
    )


def _worth_saying(conditions: tuple[str, ...], answers: Answers) -> tuple[str, ...]:
    """Return the conditions; those of questions that are moot only where there are no others."""
    asked = tuple(text for text in conditions if answers[parse(text).finding] != NOT_ASKED)
    return asked or conditions


def _here(text: str, answers: Answers, tables: Tables) -> str:
    question = tables.questions[parse(text).finding]
    answer = answers[question.id]
    if answer in (NOT_KNOWN, NOT_ASKED):
        return f"{question.short} {answer.replace('_', ' ')}"
    said = question.says[answer]
    return f"{question.short}: {said}" if said in ("yes", "no") else said
