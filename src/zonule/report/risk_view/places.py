"""From the three roots over the states of the capsule to the places, as the page shows them."""

from __future__ import annotations

from typing import Final

from zonule.assessment.risk.rupture import rate_of
from zonule.formulas.risk.odds import shift_to_rate, shifted
from zonule.library.risk_models import recalibrations
from zonule.plan.records import Plan, Rung
from zonule.plan.risks import Risks
from zonule.report import risk_words, sentences
from zonule.report.figures.parted import Part, narrow_parted, parted
from zonule.report.plan_view.records import Phrase, Shown
from zonule.report.risk_view.records import PlaceRow, PlacesView, RootRow
from zonule.report.words import of_100

STATES_SHOWN: Final = 3
STATE_FROM: Final = 0.0005
DRAWN_FROM: Final = 0.005
"""Places less likely are drawn together."""


def by_years(risks: Risks) -> tuple[tuple[str, float], ...]:
    """Return the same eye at the national rate of each period there is a rate for."""
    one = risks.rupture
    found = []
    for years in recalibrations(one.of_model.model.id).values():
        shift = shift_to_rate(rate=rate_of(years), from_rate=rate_of(one.years))
        each = shifted(probability=one.of_model.completions, shift_logit=float(shift))
        found.append((years.label, float(each @ one.of_model.weights)))
    return tuple(found)


def root_rows(risks: Risks) -> tuple[RootRow, ...]:
    """Return the three roots."""
    return tuple(
        RootRow(
            label=one.label,
            chance=Shown(of_100(one.chance.value), f"risks.roots.{one.key}"),
            between=risk_words.between(one.chance),
            how=one.how,
        )
        for one in risks.roots.roots
    )


def _offered(plan: Plan) -> tuple[Rung, ...]:
    return tuple(one for one in plan.rungs if one.likelihood is not None)


def view(plan: Plan, risks: Risks) -> PlacesView:
    """Return where the lens ends up: a picture, the places, how to read them."""
    parts = _parts(plan)
    title = "Where the lens ends up, of 100 eyes like this"
    described = "; ".join(f"{one.label} {of_100(one.share)}" for one in parts)
    return PlacesView(
        heading=_heading(plan),
        figure=parted(parts, title=title, described=described),
        narrow_figure=narrow_parted(parts, title=title, described=described),
        rows=_rows(plan, risks),
        notes=_notes(risks),
    )


def _heading(plan: Plan) -> str:
    """Return how often the lens ends in the intended place, as a finding."""
    first = plan.intended
    if first is None or first.likelihood is None:
        return "Where the lens ends up"
    return f"{first.place.label}: {of_100(first.likelihood)} eyes like this"


def _parts(plan: Plan) -> tuple[Part, ...]:
    """Return the places as they are drawn: those too rare to be seen together in one part."""
    rungs = _offered(plan)
    told = [
        Part(one.place.label, one.likelihood or 0.0, one.order == 0)
        for one in rungs
        if one.order == 0 or (one.likelihood or 0.0) >= DRAWN_FROM
    ]
    rest = 1.0 - sum(one.share for one in told)
    if len(told) < len(rungs):
        told.append(Part(f"{len(rungs) - len(told)} rarer places together", max(rest, 0.0), False))
    return tuple(told)


def _rows(plan: Plan, risks: Risks) -> tuple[PlaceRow, ...]:
    """Return each place with its likelihood, its range and the states that lead there most."""
    return tuple(
        PlaceRow(
            name=one.place.label,
            chance=Shown(of_100(one.likelihood or 0.0), f"placements.{one.place.key}.likelihood"),
            between=risk_words.between(one.likely_between) if one.likely_between else "",
            states=states_of(risks, one.place.key),
        )
        for one in _offered(plan)
    )


def states_of(risks: Risks, key: str) -> tuple[str, ...]:
    """Return the states that lead to a place, the likeliest first, each with its share."""
    found = [one for one in risks.roots.states if one.place == key and one.share >= STATE_FROM]
    return tuple(f"{one.says} ({of_100(one.share)})" for one in found[:STATES_SHOWN])


def _notes(risks: Risks) -> tuple[Phrase, ...]:
    """Return how to read the places, what is assumed, and what others did after rupture."""
    assumed = ", ".join(one.lower() for one in risks.roots.assumed)
    return (
        (Shown(risk_words.PLACES_NOTE),),
        (Shown(f"Shares without a count are assumptions of this program: {assumed}."),),
        (Shown(sentences.after_rupture_elsewhere(), "after_rupture_elsewhere"),),
    )
