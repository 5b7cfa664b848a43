"""Why a rule, a device, an hour or a trigger stands in a plan."""

from __future__ import annotations

from functools import partial

from zonule.findings.labels import named
from zonule.library.reading import table
from zonule.library.rules import STRENGTH_WORDS, rule
from zonule.plan.parts import NucleusRoute, RuleReading, Step, TrayItem, Trigger
from zonule.plan.records import Plan
from zonule.report import part_words
from zonule.report.why import held_by
from zonule.report.why.cornea import cornea_paths
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.why.machine import machine_paths
from zonule.report.words import of_100


def _rule(reading: RuleReading) -> Explanation:
    one = reading.rule
    because = tuple(Input("Because", said) for said in reading.because)
    waits = tuple(Input("Waits for", named(name)) for name in reading.waits_for)
    avoid = tuple(Input("Avoid", said) for said in one.avoid)
    return Explanation(
        path=f"rules.{one.id}",
        title=one.title,
        value=part_words.state(reading),
        how=" ".join(one.do),
        inputs=(*because, *waits, *avoid, Input("Reason", one.why), _strength(one.strength)),
        sources=one.sources,
        status=one.status,
        status_of="this rule",
        held_by=held_by.RULES,
        caveats=part_words.settled(reading),
    )


def _strength(letter: str) -> Input:
    return Input("Strength", f"{letter}: {STRENGTH_WORDS[letter]}")


def _item(one: TrayItem) -> Explanation:
    wanted = tuple(Input(key, rule(key).title) for key in one.rules)
    places = tuple(Input("For", label) for label in one.for_places)
    waits = tuple(Input("Only if", named(name)) for name in one.waits_for)
    sources = tuple(dict.fromkeys(key for each in one.rules for key in rule(each).sources))
    return Explanation(
        path=f"tray.{one.key}",
        title=one.label,
        value=part_words.how_many(one),
        how=part_words.where_kept(one),
        inputs=(*wanted, *places, *waits),
        sources=sources or ("common_practice",),
        status="practice",
        status_of="this list",
        held_by=held_by.PARTS,
    )


def _hours(plan: Plan, step: Step) -> Explanation:
    wound = plan.parts.clock_map.mark("main_wound")
    meta = table("clock_map")["meta"]
    return Explanation(
        path=f"steps.{step.key}.clock_hours",
        title=f"Clock hours · {step.name}",
        value=part_words.hours(step),
        how=meta["says"],
        inputs=(
            *((Input("Main wound", part_words.at_hour(wound)),) if wound else ()),
            Input("Hours", "as an examiner facing the patient sees the eye"),
        ),
        sources=(meta["source"],),
        status=meta["status"],
        status_of="this proposal",
        held_by=held_by.PARTS,
    )


def _route(one: NucleusRoute) -> Explanation:
    return Explanation(
        path=f"nucleus.{one.key}",
        title=one.name,
        value=one.trigger,
        how=f"Wound: {one.wound}. Suture: {one.suture}. Astigmatism: {one.astigmatism}.",
        inputs=tuple(Input(key, rule(key).title) for key in one.rules),
        sources=(one.source,),
        status=one.status,
        status_of="this way",
        held_by=held_by.PARTS,
    )


def _trigger(one: Trigger) -> Explanation:
    meta = table("triggers")["meta"]
    return Explanation(
        path=f"triggers.{one.key}",
        title=one.name,
        value=" ".join(one.first_words),
        how="Its place in the order is by weights of our own: assumed, no figure.",
        inputs=(Input("Because", one.because),) if one.because else (),
        sources=(one.source, meta["source"]),
        status=one.status,
        status_of="these words",
        held_by=held_by.PARTS,
    )


def _needle(plan: Plan) -> Explanation:
    told = plan.parts.anaesthesia
    rows = table("anaesthesia")["against_needle"]
    return Explanation(
        path="anaesthesia.needle",
        title="Sharp needle",
        value=part_words.needle(told),
        how=told.needle_says,
        inputs=tuple(Input("Speaks against it", row["when"].replace("_", " ")) for row in rows),
        sources=tuple(dict.fromkeys(row["source"] for row in rows)),
        status="practice",
        held_by=held_by.PARTS,
    )


def _elsewhere(likelihood: float) -> Explanation:
    return Explanation(
        path="to_say.elsewhere",
        title="The lens lies elsewhere than meant",
        value=of_100(1.0 - likelihood),
        how="What the likelihood of the intended place leaves: all backups together.",
        inputs=(Input("Intended place", of_100(likelihood)),),
        sources=("own_assumption",),
        status="assumption",
        held_by=held_by.RISK,
    )


def part_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of everything that stands beside the powers."""
    parts = plan.parts
    paths: dict[str, Explain] = {f"rules.{one.rule.id}": partial(_rule, one) for one in parts.rules}
    paths |= machine_paths(plan)
    paths |= cornea_paths(plan)
    paths |= {f"tray.{one.key}": partial(_item, one) for one in parts.tray}
    paths |= {
        f"steps.{one.key}.clock_hours": partial(_hours, plan, one)
        for one in parts.steps
        if one.clock_hours
    }
    paths |= {f"nucleus.{one.key}": partial(_route, one) for one in parts.nucleus}
    paths |= {f"triggers.{one.key}": partial(_trigger, one) for one in parts.triggers}
    intended = plan.intended
    if intended is not None and intended.likelihood is not None:
        paths["to_say.elsewhere"] = partial(_elsewhere, intended.likelihood)
    paths["anaesthesia.needle"] = partial(_needle, plan)
    return paths
