"""Why a place is as likely as it is, why it is closed, and what it asks of the wound."""

from __future__ import annotations

from functools import partial

from zonule.library.placements import ClassRefusal, Exclusion, class_refusals, exclusions
from zonule.library.reading import table
from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import of_100


def _root(rung: Rung) -> str:
    return f"placements.{rung.place.key}"


def _likelihood(plan: Plan, rung: Rung) -> Explanation:
    assert rung.likelihood is not None
    return Explanation(
        path=f"{_root(rung)}.likelihood",
        title=f"How likely · {rung.place.label}",
        value=of_100(rung.likelihood),
        how="Your own shares from the practice file. What was entered for places this plan does "
        "not offer is spread over the other backups in proportion; the intended place keeps the "
        "rest. Not this eye's risk: no risk model is behind it yet.",
        inputs=tuple(
            Input(key, f"{share:.3f}", "", "assumption")
            for key, share in plan.practice.shares.items()
        ),
        status="assumption",
        held_by=held_by.SHARES,
        caveats=(sentences.shares(plan),),
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
        held_by=held_by.SHARES,
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
        if rung.place.wound_mm is not None:
            paths[f"{root}.wound_mm"] = partial(_wound, rung)
        if rung.refused_because or rung.waits_for:
            paths[root] = paths[f"{root}.refused_because"] = partial(_closed, rung)
        elif not rung.place.holds_lens:
            paths[root] = partial(_without_lens, rung)
    if sentences.sulcus_against_rule(plan):
        paths["placements.sulcus_three_piece.rule_of_thumb"] = partial(_rule_of_thumb, plan)
    return paths
