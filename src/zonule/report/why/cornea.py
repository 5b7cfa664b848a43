"""Where the count after surgery, its years and the limit of energy come from."""

from __future__ import annotations

from functools import partial

from zonule.library.reading import status, table
from zonule.plan.cornea_parts import After, Cornea, Threshold
from zonule.plan.energy_parts import Energy, Measure, OwnLog
from zonule.plan.records import Plan
from zonule.report import cornea_words as said
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import of_100


def cornea_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of the endothelium and of energy that this plan can answer."""
    cornea, energy = plan.parts.cornea, plan.parts.energy
    paths: dict[str, Explain] = {"cornea.usual": partial(_usual, cornea)}
    if cornea.after is not None:
        paths["cornea.after"] = partial(_after, cornea, cornea.after)
        for one in cornea.thresholds:
            if one.years is not None:
                paths[f"cornea.years.{one.key}"] = partial(_years, cornea, one)
    if cornea.series:
        paths["cornea.series"] = partial(_series, cornea)
    paths["cornea.rupture"] = partial(_rupture, cornea)
    if energy.measure is not None:
        paths["energy.measure"] = partial(_measure, energy.measure)
        if energy.log is not None:
            paths["energy.limit"] = partial(_limit, energy, energy.measure, energy.log)
    return paths


def _now(told: Cornea) -> Input:
    return Input("Count before surgery", said.now(told))


def _usual(told: Cornea) -> Explanation:
    row = table("endothelium")["usual_by_age"]
    points = zip(row["anchor_ages"], row["anchor_per_mm2"], strict=True)
    return Explanation(
        path="cornea.usual",
        title="Usual for the age",
        value=said.usual(told),
        how=row["says"],
        inputs=tuple(
            Input(f"At {age} years", f"{count:,} {said.UNIT}", row["source"], row["status"])
            for age, count in points
        ),
        sources=(row["source"], row["between_source"]),
        status=row["between_status"],
        held_by=held_by.CORNEA,
    )


def _after(told: Cornea, after: After) -> Explanation:
    row = table("endothelium")["early_loss"]
    aside = (said.beside(told),) if told.beside is not None else ()
    return Explanation(
        path="cornea.after",
        title="Endothelium after surgery",
        value=said.cornea_line(told),
        how=f"{said.how_after(after)}. {row['shape']}",
        inputs=(
            _now(told),
            Input("Mean loss", said.loss(after.group.share), row["source"], row["status"]),
            Input("Half of such eyes", said.span(after.count.half)),
            Input("One standard deviation", said.one_sd(after)),
            Input("Shape", "normal", row["shape_source"], row["shape_status"]),
        ),
        sources=(row["source"], row["shape_source"]),
        status=row["shape_status"],
        held_by=held_by.CORNEA,
        caveats=(
            *aside,
            *((f"{said.series_line(told)}.",) if told.series else ()),
            told.rupture_says,
        ),
    )


def _years(told: Cornea, one: Threshold) -> Explanation:
    rates = table("endothelium")["yearly_loss"]
    after, unoperated = rates["after_phaco"], rates["unoperated"]
    assert told.after is not None
    return Explanation(
        path=f"cornea.years.{one.key}",
        title=f"Years until below {one.below_per_mm2:,.0f}",
        value=said.years_to(one),
        how="ln(count after surgery / threshold) / yearly loss; the band is that of the count.",
        inputs=(
            Input("Count after surgery", said.span(told.after.count.nine_in_ten)),
            Input("Yearly loss", f"{100 * after['share']:g} %", after["source"], after["status"]),
            Input(
                "Without surgery",
                f"{100 * unoperated['share']:g} % a year",
                unoperated["source"],
                unoperated["status"],
            ),
            Input("Threshold", said.threshold(one), one.source, one.status),
        ),
        sources=(after["source"], unoperated["source"], one.source),
        held_by=held_by.CORNEA,
        caveats=(after["note"],),
    )


def _series(told: Cornea) -> Explanation:
    density = table("endothelium")["series_by_density"]
    return Explanation(
        path="cornea.series",
        title="Losses of other series",
        value=said.series_line(told),
        how=f"Bounds, not a prediction. {density['says']} {said.SERIES_SAY}",
        inputs=tuple(
            Input(one.label, said.loss(one.share), one.source, one.status) for one in told.series
        ),
        sources=tuple(dict.fromkeys((*(one.source for one in told.series), density["source"]))),
        status=density["status"],
        status_of="which series stand beside this eye",
        held_by=held_by.CORNEA,
    )


def _rupture(told: Cornea) -> Explanation:
    row = table("endothelium")["after_rupture"]
    return Explanation(
        path="cornea.rupture",
        title="Endothelium after a rupture",
        value=f"waits for {told.rupture_waits_for}",
        how=row["says"],
        sources=(row["source"],),
        status=row["status"],
        held_by=held_by.CORNEA,
    )


def _measure(one: Measure) -> Explanation:
    return Explanation(
        path="energy.measure",
        title=f"Measure of energy: {one.label}",
        value=said.measure(one),
        how=f"{table('energy')['meta']['warning']} Here: {said.made_on(one)}.",
        sources=(one.source,) if one.source else (),
        status=one.status,
        status_of="this definition",
        held_by=held_by.CORNEA,
    )


def _limit(told: Energy, measure: Measure, log: OwnLog) -> Explanation:
    row = table("energy")["own_log"]
    colour = "not known" if told.nuclear_colour is None else f"{told.nuclear_colour:g}"
    expected = (
        (Input("Expected at this density", said.band(told.expected)),) if told.expected else ()
    )
    firm = said.not_firm(log)
    return Explanation(
        path="energy.limit",
        title="Limit of energy",
        value=said.energy_line(told),
        how=said.how_limit(told) or f"No limit: {said.no_limit(told)}.",
        inputs=(
            Input("Nuclear colour of this lens", colour),
            Input("Own log", said.own_log(log)),
            Input("Machine, mode and tip", said.made_on(measure)),
            *expected,
            Input("Share under the limit", of_100(told.limit_share), row["source"], row["status"]),
            Input("Shape", row["shape"], row["shape_source"], status("confirmed")),
        ),
        sources=(row["source"], row["shape_source"]),
        status=row["status"],
        held_by=held_by.CORNEA,
        caveats=(*((firm,) if firm else ()), said.CAUTION),
    )
