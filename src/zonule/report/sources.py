"""Which published sources a plan rests on."""

from __future__ import annotations

from collections.abc import Iterator

from zonule.formulas.power import FORMULAS
from zonule.library.reading import Reference, reference, table
from zonule.plan.records import Plan


def _keys(plan: Plan) -> Iterator[str]:
    for rung in plan.rungs:
        yield rung.place.source
        yield from (caveat.source for caveat in rung.caveats)
        if rung.prediction is None:
            continue
        for use in rung.prediction.optics.uses:
            yield FORMULAS[use.name].reference
            if use.constants and use.constants.source:
                yield use.constants.source
    yield from (problem.source for problem in plan.problems)
    yield from _of_parts(plan)
    if any(rung.prediction for rung in plan.rungs):
        law = table("prediction")
        yield law["tail"]["practice"]["source"]
        yield law["refraction"]["sd_d"]["source"]
        yield law["cornea"]["sd_d"]["source"]
        yield from (row["source"] for row in law["label"])
    if plan.first_eye is not None:
        yield table("fellow_eye")["published"]["source"]


def _of_parts(plan: Plan) -> Iterator[str]:
    for reading in plan.parts.rules:
        if reading.in_sight:
            yield from reading.rule.sources
    for setting in plan.parts.machine:
        yield from setting.sources
    yield from (route.source for route in plan.parts.nucleus)
    yield from (trigger.source for trigger in plan.parts.triggers)


def sources_of(plan: Plan) -> tuple[Reference, ...]:
    """Return every source a plan rests on, each once, by key.

    A constant may name a source of the practice's own; that one stays with the practice file.
    """
    known = table("references")
    return tuple(reference(key) for key in sorted(set(_keys(plan))) if key in known)
