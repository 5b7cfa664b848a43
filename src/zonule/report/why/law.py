"""Why a band is as wide as it is, and a chance as large."""

from __future__ import annotations

from functools import partial
from typing import Final

import numpy as np

from zonule.assessment.prediction import typical_disagreement_d
from zonule.formulas.uncertainty.budget import spreads_d
from zonule.library.reading import table
from zonule.report.why import held_by
from zonule.report.why.at import At
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import of_100, span

BANDS: Final = {"p50": "half of such eyes", "p80": "eight in ten", "p90": "nine in ten"}
PARTS: Final = {
    "measured": "length, cornea and chamber as measured",
    "position": "where the lens comes to rest",
    "position_mean": "how well the mean place is known",
    "label": "true against labelled power",
    "refraction": "the refraction as taken",
    "disagreement": "formulas beyond the ordinary",
}


def _budget_inputs(at: At) -> tuple[Input, ...]:
    parts = spreads_d(at.prediction.budget)
    told = [
        Input(words, f"±{float(parts[name][at.index]):.2f} D")
        for name, words in PARTS.items()
        if float(parts[name][at.index]) >= 0.005
    ]
    tail = table("prediction")["tail"]
    row = tail[at.rung.place.tail]
    told.append(
        Input("All of these together", f"±{float(at.prediction.budget.total_sd_d[at.index]):.2f} D")
    )
    told.append(
        Input(
            "Gross errors no formula sees",
            f"{of_100(row['weight'])} eyes, ±{tail['sd_d']:.2f} D more",
            row["source"],
            row["status"],
        )
    )
    return tuple(told)


def _law_how(at: At) -> str:
    closed = at.rung.place.tail == "practice"
    how = (
        "two normal laws with one middle: the ordinary eye with this eye's own budget, and a few "
        "with a gross error on top"
    )
    through = "" if closed else "; the scatter of the lens plane is taken through the optics"
    typical, ordinary = typical_disagreement_d(at.measured.axial_length_mm)
    spread = float(at.prediction.disagreement.spread_d[at.index])
    compared = (
        f" The formulas differ by {spread:.2f} D (usual {typical:.2f}, 19 of 20 eyes below "
        f"{ordinary:.2f} at this length); only what goes beyond {ordinary:.2f} D widens the band."
        if np.isfinite(spread)
        else " One formula alone: nothing was compared."
    )
    return f"Read off the predictive law: {how}{through}.{compared}"


def explain_law(at: At, path: str, title: str, value: str) -> Explanation:
    """Return why one figure read off the law is what it is."""
    return Explanation(
        path=f"{at.root}.{path}",
        title=f"{title} · {at.title_end}",
        value=value,
        how=_law_how(at),
        inputs=_budget_inputs(at),
        sources=tuple(
            dict.fromkeys(
                (
                    table("prediction")["tail"]["practice"]["source"],
                    table("prediction")["refraction"]["sd_d"]["source"],
                    table("prediction")["cornea"]["sd_d"]["source"],
                    at.rung.place.source,
                )
            )
        ),
        status=at.rung.place.spread_status,
        held_by=held_by.LAW,
        caveats=at.caveats(),
    )


def law_paths(at: At) -> dict[str, Explain]:
    """Return the paths of everything that is read off the law of one power."""
    chosen = at.chosen
    chances = {
        "within_0_50": ("Within ±0.50 D of aim", chosen.within_0_50),
        "within_1_00": ("Within ±1.00 D of aim", chosen.within_1_00),
        "hyperopic.above_0": ("Above 0", chosen.above_0),
        "hyperopic.above_0_50": ("Above +0.50 D", chosen.above_0_50),
    }
    paths: dict[str, Explain] = {
        f"{at.root}.{path}": partial(explain_law, at, path, title, of_100(chance))
        for path, (title, chance) in chances.items()
    }
    for name, band in chosen.bands.items():
        path, title = f"bands.{name}", f"Band, {BANDS[name]}"
        paths[f"{at.root}.{path}"] = partial(explain_law, at, path, title, f"{span(*band)} D")
    return paths


def spread_paths(at: At) -> dict[str, Explain]:
    """Return the paths of what the law itself is made of."""
    core = float(at.prediction.budget.total_sd_d[at.index])
    told = {
        "core_sd_d": ("Spread of the ordinary eye", f"±{core:.2f} D"),
        "tail_weight": ("Share of gross errors", of_100(at.prediction.tail_weight)),
    }
    return {
        f"{at.root}.{path}": partial(explain_law, at, path, title, value)
        for path, (title, value) in told.items()
    }
