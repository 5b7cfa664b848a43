"""The roots of one eye, and the likelihood of each place of its plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Any, Final

from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.conditions import all_hold
from zonule.assessment.risk.points import Points, band_of, points_of
from zonule.assessment.risk.rupture import RuptureRisk, rate_of
from zonule.findings.conditions import Lookup
from zonule.formulas.risk.counts import jeffreys_interval
from zonule.formulas.risk.odds import shift_to_rate, shifted
from zonule.library.reading import status, table
from zonule.library.risk_models import Score, scores
from zonule.plan.roots.records import Root, Roots
from zonule.plan.roots.tree import GapBefore, PlaceOf, RootChances, likelihoods, listed
from zonule.plan.states.engine import state_answer

CAPSULE: Final = "Posterior capsule tears"
CLOSED_FOR_TODAY: Final = ("later", "later")
"""What remains when nothing else does: it has a share even where a patient refuses it."""


def roots_of(rupture: RuptureRisk, lookup: Lookup, offered: Sequence[tuple[str, str]]) -> Roots:
    """Return the three roots of one eye, the states they lead to and the likelihood of each place.

    Parameters
    ----------
    rupture
        The risk of rupture of this eye.
    lookup
        Every finding of the eye, by the name that rules use.
    offered
        The rungs of this plan in order: key, and the placement that the key is of.
    """
    rungs = tuple(dict.fromkeys((*offered, CLOSED_FOR_TODAY)))
    points = points_of(_score().items, lookup)
    by_score = {key: _by_score(key, points, rupture) for key in ("zonule", "rim")}
    chances = RootChances(
        capsule=Chance(rupture.value, rupture.low, rupture.high),
        zonule=by_score["zonule"],
        rim=_before_it_goes_round(by_score["rim"]),
    )
    gaps = gaps_before(lookup)
    place_of = _place_of(rungs)
    return Roots(
        roots=(
            _capsule(rupture, chances.capsule),
            _counted("zonule", chances.zonule, points),
            _counted("rim", chances.rim, points),
        ),
        states=listed(chances, gaps, place_of),
        rungs=MappingProxyType(likelihoods(chances, gaps, (key for key, _ in rungs), place_of)),
        assumed=tuple(one["label"] for one in table("risk/roots")["split"]),
    )


def gaps_before(lookup: Lookup) -> tuple[GapBefore, ...]:
    """Return the zonular gaps there may be before surgery, with how often in such an eye.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> findings = {"dialysis_clock_hours": 3.5, "phacodonesis": Unknown.NOT_RECORDED}
    >>> gaps_before(findings.__getitem__)
    (GapBefore(gap_hours='up_to_4', weight=1.0),)
    """
    possible = [
        (row["gap_hours"], float(row["prevalence"]))
        for row in table("risk/roots")["gap_before"]["rows"]
        if all_hold(row["when_all"], lookup) is not False
    ]
    total = sum(prevalence for _, prevalence in possible)
    found: dict[str, float] = {}
    for gap, prevalence in possible:
        found[gap] = found.get(gap, 0.0) + prevalence / total
    return tuple(GapBefore(gap, weight) for gap, weight in found.items())


def _capsule(rupture: RuptureRisk, chance: Chance) -> Root:
    model = rupture.of_model.model
    return Root(
        key="capsule",
        label=CAPSULE,
        chance=chance,
        how=f"{model.name}, brought to {rupture.years.label}",
        waits_for=rupture.waits_for,
        sources=(model.source, rupture.years.rate.source),
        status=model.baseline.status,
    )


def _counted(key: str, chance: Chance, points: Points) -> Root:
    row = table("risk/roots")[key]
    low, high = min(points.weights), max(points.weights)
    said = f"{low} points" if low == high else f"{low} to {high} points"
    return Root(
        key=key,
        label=row["label"],
        chance=chance,
        how=f"counted at {said} of a published score, brought to the same years as rupture; rows "
        f"no record holds earn none: {', '.join(points.not_in_record).lower()}",
        waits_for=points.waits_for,
        sources=(row["source"], table("risk/roots")["rebased"]["rule_source"]),
        status=status(table("risk/roots")["rebased"]["rule_status"]),
    )


def _before_it_goes_round(rim: Chance) -> Chance:
    """Return the chance of a torn rim that stays in front: those that go round count as rupture."""
    stays = 1.0 - float(table("risk/roots")["rim_goes_round"]["share"])
    return Chance(rim.value * stays, rim.low * stays, rim.high * stays)


def _score() -> Score:
    return scores()[table("risk/roots")["zonule"]["score"]]


def _by_score(key: str, points: Points, rupture: RuptureRisk) -> Chance:
    """Return the chance of a root from the counts of the score's bands, and its range."""
    counted = table("risk/roots")[key]["counted_as"]
    rebased = table("risk/roots")["rebased"]
    shift = shift_to_rate(rate=rate_of(rupture.years), from_rate=rebased["rate_then"])
    value, low, high = 0.0, 1.0, 0.0
    for total, weight in points.weights.items():
        at = shifted(probability=_with_ends(counted, total), shift_logit=shift)
        value += weight * float(at[0])
        low, high = min(low, float(at[1])), max(high, float(at[2]))
    return Chance(value, low, high)


@cache
def _with_ends(counted: str, points: int) -> tuple[float, float, float]:
    """Return the share of a band's cases with an event, and the ends of its interval."""
    band = band_of(_score(), points)
    low, high = jeffreys_interval(events=band.counts[counted], cases=band.n)
    return band.rate(counted), float(low), float(high)


@lru_cache(maxsize=64)
def _place_of(offered: tuple[tuple[str, str], ...]) -> PlaceOf:
    """Return where the lens goes in a state, among the rungs of this plan; asked once a state."""
    by_placement: dict[str, list[str]] = {}
    for key, placement in offered:
        by_placement.setdefault(placement, []).append(key)
    closed = dict.fromkeys(_placements() - set(by_placement), "not among the places of this plan")
    order = tuple(dict.fromkeys(placement for _, placement in offered))
    known: dict[frozenset[tuple[str, str]], str] = {}

    def place_of(answers: Mapping[str, str]) -> str:
        state = frozenset(answers.items())
        if state not in known:
            found = state_answer(answers, removed=closed, repertoire_order=order)
            placement = found.offered[0].placement
            known[state] = _variant(placement, answers, by_placement[placement])
        return known[state]

    return place_of


def _variant(placement: str, answers: Mapping[str, str], keys: Sequence[str]) -> str:
    """Return which rung of a placement: a torn bag has one of its own where it is offered."""
    torn = answers.get("posterior_capsule", "intact") != "intact"
    if placement == "bag" and torn:
        return next((key for key in keys if key.endswith(":posterior_tear")), keys[0])
    return keys[0]


def _placements() -> set[str]:
    rows: dict[str, Any] = table("fields/case")["placements"]
    return set(rows) - {"none_final"}
