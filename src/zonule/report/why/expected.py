"""Why each power around the chosen one is expected to leave what it does."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from zonule.plan.records import Plan
from zonule.report.why.at import At
from zonule.report.why.explanation import Explain, Explanation
from zonule.report.why.law import law_paths
from zonule.report.why.placement import at_rung, explain_refraction
from zonule.report.words import dioptres


def _power(at: At) -> Explanation:
    assert at.rung.chosen is not None
    chosen = at.rung.chosen.power_d
    how = (
        "The power chosen for the place in hand."
        if at.chosen.power_d == chosen
        else f"A power in stock beside the chosen {dioptres(chosen)}, shown for comparison."
    )
    return replace(
        explain_refraction(at),
        path=f"{at.root}.power_d",
        title=f"Lens power · {at.name}",
        value=dioptres(at.chosen.power_d),
        how=how,
    )


def expected_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of the rows expected after surgery, numbered as in the JSON."""
    paths: dict[str, Explain] = {}
    for number, row in enumerate(plan.ladder):
        assert plan.in_hand is not None
        at = at_rung(plan, plan.in_hand, row, f"expected[{number}]")
        if at is not None:
            paths[f"{at.root}.power_d"] = partial(_power, at)
            paths[f"{at.root}.refraction_d"] = partial(explain_refraction, at)
            paths |= law_paths(at)
    return paths
