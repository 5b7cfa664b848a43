"""Reads how often things were met, and how the cases of a series were spread."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from zonule.errors import LibraryFault
from zonule.library.reading import reference, status, table
from zonule.library.risk_checks import check_rate
from zonule.library.risk_records import Distribution, Incidence
from zonule.library.risk_rows import read_rate


@cache
def incidences() -> Mapping[str, Incidence]:
    """Return every incidence by id.

    Raises
    ------
    LibraryFault
        If a row contradicts itself or stands twice.

    Examples
    --------
    >>> incidences()["dropped_fragment_after_rupture"].rate.events
    16
    """
    rows = table("risk/incidences")["incidence"]
    _once(rows)
    return MappingProxyType({row["id"]: _incidence(row) for row in rows})


@cache
def distributions() -> Mapping[str, Distribution]:
    """Return every spread of the cases of a series by id.

    Raises
    ------
    LibraryFault
        If the counts do not add up to the number of cases.

    Examples
    --------
    >>> distributions()["stage_of_rupture"].counts["phaco"]
    621
    """
    rows = table("risk/incidences")["distribution"]
    _once(rows)
    return MappingProxyType({row["id"]: _distribution(row) for row in rows})


def _incidence(row: Mapping[str, Any]) -> Incidence:
    fields = {**row, "rate": read_rate(row["rate"])}
    if "comparator" in row:
        fields["comparator"] = read_rate(row["comparator"])
    found = Incidence(**fields)
    if (found.comparator is None) != (not found.compared_with):
        raise LibraryFault(f"{found.id}: a comparator needs compared_with, and the other way round")
    for rate in (found.rate, found.comparator):
        if rate is not None:
            check_rate(found.id, rate)
    return found


def _distribution(row: Mapping[str, Any]) -> Distribution:
    reference(row["source"])
    if sum(row["counts"].values()) != row["n"] or set(row["counts"]) != set(row["labels"]):
        raise LibraryFault(f"{row['id']}: counts must add up to n, each with its label")
    held = {name: MappingProxyType(row[name]) for name in ("counts", "labels", "shares")}
    return Distribution(**{**row, **held, "status": status(row["status"])})


def _once(rows: list[dict[str, Any]]) -> None:
    names = [row["id"] for row in rows]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise LibraryFault(f"{', '.join(sorted(twice))} stands twice")
