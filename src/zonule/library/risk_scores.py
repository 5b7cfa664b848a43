"""Reads the published point scores, and checks that bands follow on one another."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from zonule.errors import LibraryFault
from zonule.library.reading import reference, status, table
from zonule.library.risk_records import Item, Score, ScoreBand


@cache
def scores() -> Mapping[str, Score]:
    """Return every score by id.

    Raises
    ------
    LibraryFault
        If bands leave a hole or overlap, or a row stands twice.

    Examples
    --------
    >>> scores()["muhtaseb_2004"].bands[3].counts["any"]
    8
    """
    found: dict[str, Score] = {}
    for row in table("risk/scores")["score"]:
        if row["id"] in found:
            raise LibraryFault(f"score {row['id']} stands twice")
        found[row["id"]] = read_score(row)
    return MappingProxyType(found)


def read_score(row: Mapping[str, Any]) -> Score:
    """Return one score from a row of a table, checked.

    Raises
    ------
    LibraryFault
        Naming what contradicts itself.
    """
    fields = {**row, "status": status(row["status"])}
    if "prevalence_status" in row:
        fields["prevalence_status"] = status(row["prevalence_status"])
    fields["items"] = tuple(_item(one) for one in row["items"])
    fields["bands"] = tuple(_band(one) for one in row.get("bands", ()))
    score = Score(**fields)
    _check(score)
    return score


def _item(row: Mapping[str, Any]) -> Item:
    return Item(**{**row, **{key: tuple(row.get(key, ())) for key in ("when_all", "when_any")}})


def _band(row: Mapping[str, Any]) -> ScoreBand:
    return ScoreBand(
        **{
            "high": None,
            **row,
            "status": status(row["status"]),
            "counts": MappingProxyType(row["counts"]),
        }
    )


def _check(score: Score) -> None:
    names = [item.name for item in score.items]
    if len(set(names)) < len(names):
        raise LibraryFault(f"{score.id}: a row stands twice")
    if any(item.prevalence is not None for item in score.items):
        if score.prevalence_status is None:
            raise LibraryFault(f"{score.id}: shares need prevalence_status")
        reference(score.prevalence_source)
    following = 0
    for band in score.bands:
        last = band is score.bands[-1]
        if band.low != following or (band.high is None) != last:
            raise LibraryFault(f"{score.id}: bands must follow on one another from 0 upwards")
        if max(band.counts.values()) > band.n:
            raise LibraryFault(f"{score.id}: more events than patients in band {band.group}")
        following = (band.high or band.low) + 1
