"""Points of a published score for one eye, with what is not known kept open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from zonule.assessment.risk.conditions import all_hold, any_holds, waits_for
from zonule.errors import LibraryFault
from zonule.findings.conditions import Lookup
from zonule.library.risk_models import Item, Score, ScoreBand


@dataclass(frozen=True, slots=True)
class Points:
    """The points an eye may have: each with its weight."""

    weights: Mapping[int, float]
    """Weights of the possible sums; they sum to 1, and one sum stands alone where all is known."""
    present: tuple[str, ...]
    """Rows that earn points in this eye."""
    waits_for: tuple[str, ...]
    not_in_record: tuple[str, ...]
    """Rows of the score that the record holds nothing of; they earn no points here."""


def points_of(items: Sequence[Item], lookup: Lookup) -> Points:
    """Return the points of one eye.

    Of rows that exclude each other only the one with most points counts. A row that is open
    counts with its prevalence; every sum that is possible is kept.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> items = [
    ...     Item("dense", "Dense", 3, when_any=("brunescent_or_white == true",), prevalence=0.05),
    ...     Item("polar", "Polar", 1, when_any=("lens_look == 'posterior_polar'",), prevalence=0.1),
    ... ]
    >>> findings = {"brunescent_or_white": True, "lens_look": Unknown.NOT_RECORDED}
    >>> points_of(items, findings.__getitem__).weights
    {3: 0.9, 4: 0.1}
    """
    readable = [item for item in items if item.readable]
    told = {item.name: _holds(item, lookup) for item in readable}
    weights: dict[int, float] = {0: 1.0}
    for group in _groups(readable):
        weights = _summed(weights, _of_group(group, told))
    waiting = [
        name
        for item in readable
        if told[item.name] is None
        for name in waits_for((*item.when_all, *item.when_any), lookup)
    ]
    return Points(
        weights={total: weight for total, weight in sorted(weights.items()) if weight > 0.0},
        present=tuple(item.label for item in readable if told[item.name]),
        waits_for=tuple(dict.fromkeys(waiting)),
        not_in_record=tuple(item.label for item in items if not item.readable),
    )


def band_of(score: Score, points: int) -> ScoreBand:
    """Return the band of a sum of points.

    Raises
    ------
    LibraryFault
        If the bands leave it out.
    """
    for band in score.bands:
        if band.low <= points and (band.high is None or points <= band.high):
            return band
    raise LibraryFault(f"{score.id} has no band for {points} points")


def _holds(item: Item, lookup: Lookup) -> bool | None:
    if item.when_any:
        return any_holds(item.when_any, lookup)
    return all_hold(item.when_all, lookup)


def _groups(items: Sequence[Item]) -> list[list[Item]]:
    found: dict[str, list[Item]] = {}
    for item in items:
        found.setdefault(item.one_of or item.name, []).append(item)
    return list(found.values())


def _of_group(group: Sequence[Item], told: Mapping[str, bool | None]) -> dict[int, float]:
    """Return the points of rows of which only the weightiest counts, with their weights."""
    rest = 1.0
    found: dict[int, float] = {}
    for item in sorted(group, key=lambda one: -one.points):
        chance = {True: 1.0, False: 0.0, None: item.prevalence or 0.5}[told[item.name]]
        found[item.points] = found.get(item.points, 0.0) + rest * chance
        rest *= 1.0 - chance
    found[0] = found.get(0, 0.0) + rest
    return found


def _summed(one: Mapping[int, float], other: Mapping[int, float]) -> dict[int, float]:
    found: dict[int, float] = {}
    for points, weight in one.items():
        for more, share in other.items():
            found[points + more] = found.get(points + more, 0.0) + weight * share
    return found
