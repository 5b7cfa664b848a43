"""Why a place is as likely as it is, why it is closed, and what it asks of the wound."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Final

from zonule.library.placements import ClassRefusal, Exclusion, class_refusals, exclusions
from zonule.library.reading import table
from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.risk_words import between, waits
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import of_100

MOST_STATES: Final = 8


def _root(rung: Rung) -> str:
    return f"placements.{rung.place.key}"


def _likelihood(plan: Plan, rung: Rung) -> Explanation:
    assert rung.likelihood is not None
    assert rung.likely_between is not None
    assert plan.risks is not None
    roots = plan.risks.roots
    states = [one for one in roots.states if one.place == rung.place.key]
    return Explanation(
        path=f"{_root(rung)}.likelihood",
        title=f"How likely · {rung.place.label}",
        value=f"{of_100(rung.likelihood)} ({between(rung.likely_between)})",
        how="The states of the capsule in which the lens goes here first, among the places this "
        "plan offers, each with its share in this eye; the roots are independent of each other.",
        inputs=(
            *(Input(one.label, of_100(one.chance.value), "", one.status) for one in roots.roots),
            *(
                Input(one.says, f"{one.share:.4f}", "", "assumption")
                for one in states[:MOST_STATES]
            ),
        ),
        sources=tuple(dict.fromkeys(key for one in roots.roots for key in one.sources)),
        status="assumption",
        held_by=held_by.RISK,
        caveats=(
            f"Assumed, without a count: {', '.join(one.lower() for one in roots.assumed)}.",
            *((text,) if (text := waits(plan.risks.rupture.waits_for)) else ()),
        ),
    )


def _likely_between(plan: Plan, rung: Rung) -> Explanation:
    assert rung.likely_between is not None
    found = _likelihood(plan, rung)
    return replace(
        found,
        path=f"{_root(rung)}.likelihood_range",
        title=f"How likely, range · {rung.place.label}",
        value=f"{of_100(rung.likely_between.low)} to {of_100(rung.likely_between.high)}",
        how="Each root at either end of its own range: the surgeon's own results, the counts "
        "behind the score, and every way the findings that are not known may turn out.",
    )


def _wound(rung: Rung) -> Explanation:
    return Explanation(
        path=f"{_root(rung)}.wound_mm",
        title=f"Wound · {rung.place.label}",
        value=f"{rung.place.wound_mm:.1f} mm",
        how="The lens does not fold: the wound is as wide as its optic.",
        sources=(rung.place.source,),
        status=rung.place.move_status,
        held_by=held_by.PLACES,
    )


def _rules(rung: Rung) -> list[tuple[str, str]]:
    """Return source and status of the rules of the library that speak of this place."""
    every: tuple[Exclusion | ClassRefusal, ...] = (*exclusions(), *class_refusals())
    return [(rule.source, rule.status) for rule in every if rung.place.key in rule.places]


def _closed(rung: Rung) -> Explanation:
    waits = rung.waits_for and not rung.refused_because
    rules = _rules(rung)
    return Explanation(
        path=f"{_root(rung)}.refused_because",
        title=f"Why there is no power · {rung.place.label}",
        value=f"waits for {rung.waits_for}" if waits else rung.refused_because,
        how="A finding that is not known is never read as absent: the place waits for it."
        if waits
        else "Judged in this order: your repertoire, the patient's word, the findings of this "
        "eye, the lens store, the measurements.",
        inputs=(Input("Used when", rung.place.happens_when),),
        sources=tuple(dict.fromkeys(source for source, _ in rules)),
        status=rules[0][1] if rules else "practice",
        held_by=held_by.CLOSED,
        caveats=(rung.place.note,),
    )


def _without_lens(rung: Rung) -> Explanation:
    return Explanation(
        path=_root(rung),
        title=rung.place.label,
        value=rung.place.happens_when,
        how=rung.place.note,
        sources=(rung.place.source,),
        status="practice",
        held_by=held_by.CLOSED,
    )


def _elsewhere() -> Explanation:
    row = table("placements")["after_rupture_elsewhere"]
    names = {
        "bag": "bag",
        "sulcus_three_piece": "sulcus",
        "sulcus_capture": "captured",
        "anterior_chamber": "chamber",
        "later": "none",
    }
    told = ", ".join(f"{names[key]} {count}" for key, count in row["of_100"].items())
    return Explanation(
        path="after_rupture_elsewhere",
        title="Where lenses went after rupture elsewhere",
        value=f"{told} of 100",
        how=f"Counted in {row['n']:,} eyes. Context only: no likelihood of this plan is made "
        "from it.",
        sources=(row["source"],),
        status=row["status"],
        held_by=held_by.RISK,
    )


def _rule_of_thumb(plan: Plan) -> Explanation:
    row = table("placements")["rule_of_thumb"]
    return Explanation(
        path="placements.sulcus_three_piece.rule_of_thumb",
        title="The theatre's rule of thumb for a loose sulcus lens",
        value=sentences.sulcus_against_rule(plan),
        how=f"{row['says']}; stated beside the computed power, never used for it.",
        sources=(row["source"],),
        status=row["status"],
        held_by=held_by.PLACES,
    )


def place_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of what is said of a place beside its power."""
    paths: dict[str, Explain] = {"after_rupture_elsewhere": _elsewhere}
    for rung in plan.rungs:
        root = _root(rung)
        if rung.likelihood is not None:
            paths[f"{root}.likelihood"] = partial(_likelihood, plan, rung)
            paths[f"{root}.likelihood_range"] = partial(_likely_between, plan, rung)
        if rung.place.wound_mm is not None:
            paths[f"{root}.wound_mm"] = partial(_wound, rung)
        if rung.refused_because or rung.waits_for:
            paths[root] = paths[f"{root}.refused_because"] = partial(_closed, rung)
        elif not rung.place.holds_lens:
            paths[root] = partial(_without_lens, rung)
    if sentences.sulcus_against_rule(plan):
        paths["placements.sulcus_three_piece.rule_of_thumb"] = partial(_rule_of_thumb, plan)
    return paths
