"""What is said aloud: to the patient beforehand, to the team when something happens."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from zonule.findings.conditions import Lookup, parse
from zonule.findings.labels import said
from zonule.findings.records import Case
from zonule.library.reading import status, table
from zonule.plan.parts import RuleReading, Said, Trigger
from zonule.plan.states.tables import tables
from zonule.plan.states.triggers import usual_words


def to_say(readings: Sequence[RuleReading]) -> tuple[Said, ...]:
    """Return what the patient is told before the operation, by the rules that fire."""
    rows = table("to_say")
    firing = {one.rule.id for one in readings if one.state == "fires"}
    return tuple(
        Said(
            row["key"],
            row["says"],
            row["why"],
            rows["meta"]["source"],
            status(rows["meta"]["status"]),
        )
        for row in rows["line"]
        if row.get("always", False) or row["when_rule"] in firing
    )


def _weighed(row: dict[str, Any], lookup: Lookup) -> tuple[int, tuple[str, ...]]:
    weight, because = row["base"], []
    for one in row.get("likelier", ()):
        condition = parse(one["when"])
        if condition.holds(lookup):
            weight += one["weight"]
            because.append(said(condition, lookup(condition.finding)))
    return weight, tuple(because)


def triggers_of(case: Case, lookup: Lookup) -> tuple[Trigger, ...]:
    """Return what may go wrong in this eye, the likeliest first, with the first words.

    The order is by weights of our own: an assumption, no figure.
    """
    if case.operative_eye.lens_status in ("aphakic", "pseudophakic"):
        return ()
    weighed = [(*_weighed(row, lookup), row) for row in table("triggers")["trigger"]]
    likely = sorted((one for one in weighed if one[0] > 0), key=lambda one: -one[0])
    return tuple(_trigger(row, because) for _, because, row in likely)


def _trigger(row: dict[str, Any], because: tuple[str, ...]) -> Trigger:
    """Return a trigger with the words for the hands that are usual when it happens."""
    words = usual_words(row["trigger"])
    return Trigger(
        key=row["key"],
        name=row["name"],
        first_words=words.say,
        because=", ".join(because),
        source=words.basis.sources[0],
        status=words.basis.status,
        hands=tables().hands[words.hands],
    )


def different(readings: Sequence[RuleReading]) -> tuple[str, ...]:
    """Return what is different in this eye: lines of the rules a tired team must not forget."""
    rows = table("different")
    firing = {one.rule.id: one.rule.title for one in readings if one.state == "fires"}
    return tuple(firing[key] for key in rows["order"] if key in firing)[: rows["meta"]["most"]]
