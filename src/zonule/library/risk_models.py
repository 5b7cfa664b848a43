"""Reads the tables below ``library/risk``: models, later rates, scores, counts; each checked."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from zonule.errors import LibraryFault, NoSuchName
from zonule.library.reading import Status, status, table
from zonule.library.risk_checks import check_model, check_rate
from zonule.library.risk_counts import distributions, incidences
from zonule.library.risk_records import (
    Baseline,
    Distribution,
    Factor,
    Incidence,
    Item,
    KnownFrom,
    Level,
    Model,
    Rate,
    Recalibration,
    Score,
    ScoreBand,
)
from zonule.library.risk_rows import pair, read_rate
from zonule.library.risk_scores import scores

__all__ = [
    "Baseline",
    "Distribution",
    "Factor",
    "Incidence",
    "Item",
    "KnownFrom",
    "Level",
    "Model",
    "Rate",
    "Recalibration",
    "Score",
    "ScoreBand",
    "distributions",
    "incidences",
    "model",
    "models",
    "read_model",
    "recalibrations",
    "scores",
]

FILES: Final = ("rupture", "complications")
_LISTS: Final = ("when_all", "when_any", "grades", "others")


@cache
def models() -> Mapping[str, Model]:
    """Return every model by id, in the order of the tables.

    Raises
    ------
    LibraryFault
        If a table contradicts itself.

    Examples
    --------
    >>> models()["rupture_uk_2009"].rate.value
    0.0192
    """
    found: dict[str, Model] = {}
    for file in FILES:
        for row in table(f"risk/{file}")["model"]:
            if row["id"] in found:
                raise LibraryFault(f"model {row['id']} stands twice")
            found[row["id"]] = read_model(row)
    return MappingProxyType(found)


def model(key: str) -> Model:
    """Return one model.

    Raises
    ------
    NoSuchName
        If there is no such model.

    Examples
    --------
    >>> model("rupture_uk_2009").baseline.status
    'memory'
    """
    if key not in models():
        raise NoSuchName("risk model", key, models())
    return models()[key]


@cache
def recalibrations(model_id: str) -> Mapping[str, Recalibration]:
    """Return the later rates that a model can be brought to, by id, oldest first.

    Raises
    ------
    NoSuchName
        If there is no such model.

    Examples
    --------
    >>> list(recalibrations("rupture_uk_2009"))[-1]
    'uk_2023_2024'
    """
    known = model(model_id)
    rows = [row for row in table("risk/rupture")["recalibration"] if row["model"] == known.id]
    found = [Recalibration(**{**row, "rate": read_rate(row["rate"])}) for row in rows]
    for one in found:
        check_rate(f"{one.id}: rate", one.rate)
    return MappingProxyType({one.id: one for one in found})


def read_model(row: Mapping[str, Any]) -> Model:
    """Return one model from a row of a table, checked.

    Raises
    ------
    LibraryFault
        Naming the factor and level that contradict themselves, or a key that is none.
    """
    try:
        fields = dict(row)
        own = (status(fields.pop("status")), str(fields["source"]))
        factors = tuple(_factor(one, own) for one in fields.pop("factor"))
        rate, baseline = read_rate(fields.pop("rate")), _baseline(fields.pop("baseline"))
        found = Model(status=own[0], factors=factors, rate=rate, baseline=baseline, **fields)
    except (KeyError, TypeError) as fault:
        raise LibraryFault(f"model {row.get('id', '?')}: {fault}") from fault
    check_model(found)
    return found


def _baseline(row: Mapping[str, Any]) -> Baseline:
    return Baseline(**{"value": None, **row, "status": status(row["status"])})


def _factor(row: Mapping[str, Any], own: tuple[Status, str]) -> Factor:
    fields = dict(row)
    given = (status(fields.pop("status", own[0])), str(fields.pop("source", own[1])))
    levels = tuple(_level(one, given) for one in fields.pop("level"))
    if "prevalence_status" in fields:
        fields["prevalence_status"] = status(fields["prevalence_status"])
    return Factor(levels=levels, **fields)


def _level(row: Mapping[str, Any], own: tuple[Status, str]) -> Level:
    fields = {"ratio": None, "source": own[1], **row, "ci": pair(row.get("ci"))}
    fields["status"] = status(row.get("status", own[0]))
    for name in _LISTS:
        fields[name] = tuple(row.get(name, ()))
    return Level(**fields)
