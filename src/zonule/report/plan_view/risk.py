"""The risks in a card of the plan page; a page of their own has the rest."""

from __future__ import annotations

from zonule.plan.records import Plan
from zonule.plan.risks import Risks
from zonule.report import risk_words
from zonule.report.plan_view.records import Card, Pair, Shown
from zonule.report.words import of_100


def risk_of(plan: Plan) -> Card:
    """Return the risk of rupture as a finding, what lies behind it, and what is open."""
    risks = plan.risks
    if risks is None:
        return Card("Risks", (Pair(Shown("Not shown"), risk_words.NO_RISKS),))
    return Card(
        risk_words.heading(risks),
        (
            Pair(Shown("Range", "risks.rupture"), risk_words.rupture_range(risks)),
            *(_root(one, risks) for one in ("zonule", "rim")),
            *_beside(plan, risks),
            *_second_eye(risks),
            *_open(risks),
        ),
    )


def _root(key: str, risks: Risks) -> Pair:
    one = next(root for root in risks.roots.roots if root.key == key)
    said = f"{of_100(one.chance.value)} ({risk_words.between(one.chance)})"
    return Pair(Shown(one.label, f"risks.roots.{key}"), said)


def _beside(plan: Plan, risks: Risks) -> tuple[Pair, ...]:
    told = (
        ("Not in the figure", "; ".join(risks.rupture.not_in_figure)),
        ("As a group", risk_words.as_a_group(plan)),
    )
    return tuple(Pair(Shown(name), says) for name, says in told if says)


def _second_eye(risks: Risks) -> tuple[Pair, ...]:
    told = risks.second_eye
    if told is None or not told.ruptured:
        return ()
    why = "risks.second_eye" if told.what_if else ""
    look = "".join(f" {risk_words.shared_cause(one)}." for one in told.to_look_for)
    return (
        Pair(
            Shown("First eye ruptured", why),
            f"not multiplied in; what if: {_first_what_if(risks)}.{look}",
        ),
    )


def _first_what_if(risks: Risks) -> str:
    assert risks.second_eye is not None
    one = risks.second_eye.what_if[0]
    said = risk_words.what_if(one.spread).removeprefix("What if: ").removeprefix("What if ")
    return f"{said}, {of_100(one.value)}"


def _open(risks: Risks) -> tuple[Pair, ...]:
    text = risk_words.waits(risks.rupture.waits_for)
    return (Pair(Shown("Open"), text),) if text else ()
