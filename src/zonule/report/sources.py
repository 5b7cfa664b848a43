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
    yield from _of_risks(plan)
    if any(rung.prediction for rung in plan.rungs):
        law = table("prediction")
        yield law["tail"]["practice"]["source"]
        yield law["refraction"]["sd_d"]["source"]
        yield law["cornea"]["sd_d"]["source"]
        yield from (row["source"] for row in law["label"])
    if plan.first_eye is not None:
        yield table("fellow_eye")["published"]["source"]


def _of_risks(plan: Plan) -> Iterator[str]:
    if plan.risks is None:
        return
    for one in plan.risks.roots.roots:
        yield from one.sources
    for outcome in plan.risks.outcomes:
        yield from outcome.sources


def _of_parts(plan: Plan) -> Iterator[str]:
    for reading in plan.parts.rules:
        if reading.in_sight:
            yield from reading.rule.sources
    for setting in plan.parts.machine:
        yield from setting.sources
    yield from (mark.source for mark in plan.parts.clock_map.marks)
    yield from (near.source for near in plan.parts.clock_map.clashes)
    yield from _of_the_machine(plan)
    yield from _of_the_cornea(plan)
    yield from (route.source for route in plan.parts.nucleus)
    yield from (trigger.source for trigger in plan.parts.triggers)


def _of_the_machine(plan: Plan) -> Iterator[str]:
    setup, known = plan.parts.machine_physics.setup, table("fluidics")
    if not setup.irrigation.own:
        yield known["irrigation"]["source"]
    if not setup.aspiration.own:
        yield from known["aspiration"]["sources"]


def _of_the_cornea(plan: Plan) -> Iterator[str]:
    cornea, energy, known = plan.parts.cornea, plan.parts.energy, table("endothelium")
    if cornea.after is not None:
        yield known["early_loss"]["source"]
        yield known["yearly_loss"]["after_phaco"]["source"]
    if cornea.usual_per_mm2 is not None:
        yield known["usual_by_age"]["source"]
    yield from (one.source for one in cornea.series)
    yield from (one.source for one in energy.printed)
    if energy.measure is not None and energy.measure.source:
        yield energy.measure.source
    if energy.limit is not None:
        yield table("energy")["own_log"]["shape_source"]


def sources_of(plan: Plan) -> tuple[Reference, ...]:
    """Return every source a plan rests on, each once, by key.

    A constant may name a source of the practice's own; that one stays with the practice file.
    """
    known = table("references")
    return tuple(reference(key) for key in sorted(set(_keys(plan))) if key in known)
