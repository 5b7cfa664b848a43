"""Which levels of several factors an eye can have together, where they share a finding."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product

from zonule.assessment.risk.factors import FactorReading, read_factor
from zonule.findings.answers import Answer
from zonule.findings.conditions import NOBODY_KNOWS, Lookup
from zonule.findings.fields import Field, sections
from zonule.library.risk_models import Level

Way = tuple[Level, ...]
"""A level of each factor."""


def together(readings: Sequence[FactorReading], lookup: Lookup) -> Callable[[Way], bool]:
    """Return a test of whether one eye can have these levels of all factors at once.

    Two factors that wait for one finding do not turn out independently: a macula cannot show a
    membrane and an occlusion where the record holds one word for it. Findings that are numbers
    are not followed up; there every combination is kept, and the range is never too narrow.
    """
    shared = _shared(readings)
    if not shared:
        return _anything
    linked = [at for at, one in enumerate(readings) if set(one.waits_for) & set(shared)]
    allowed: set[tuple[str, ...]] = set()
    for values in product(*(shared[name] for name in shared)):
        with_it = _with(lookup, dict(zip(shared, values, strict=True)))
        possible = [read_factor(readings[at].factor, with_it).possible for at in linked]
        allowed |= {tuple(level.level for level in way) for way in product(*possible)}
    return lambda way: tuple(way[at].level for at in linked) in allowed


def _anything(_: Way) -> bool:
    return True


def _shared(readings: Sequence[FactorReading]) -> dict[str, tuple[Answer, ...]]:
    """Return the findings that more than one factor waits for, with the answers each may have."""
    waiting = [name for one in readings for name in one.waits_for]
    names = dict.fromkeys(name for name in waiting if waiting.count(name) > 1)
    found = {name: _answers(name) for name in names}
    return {name: answers for name, answers in found.items() if answers}


def _answers(name: str) -> tuple[Answer, ...]:
    """Return every answer that a choice may have; none for a number."""
    known: dict[str, Field] = {**sections("case")["patient"], **sections("case")["eye"]}
    asked = known.get(name)
    if asked is None:
        return ()
    if asked.type == "yes_no":
        return (True, False)
    return tuple(one for one in asked.choices if one not in NOBODY_KNOWS)


def _with(lookup: Lookup, answers: dict[str, Answer]) -> Lookup:
    return lambda name: answers[name] if name in answers else lookup(name)
