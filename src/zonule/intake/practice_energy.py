"""Reads how energy is measured, and which file beside the practice file is the own log."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from zonule.errors import BadInput
from zonule.findings.fields import field, sections
from zonule.intake.energy_log import read_energy_log
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.text import read_bytes
from zonule.practice.energy import EnergyLog, EnergyMeasure, EnergyTerm

MOST_TERMS: Final = 10
_OWN: Final = ("label", "unit")


def read_energy(
    gathering: Gathering, raw: Mapping[str, Any], folder: Path | None
) -> EnergyMeasure | None:
    """Return how energy is measured; None where the practice file has no such section.

    Parameters
    ----------
    gathering
        The reading of this practice file; whatever is wrong is told to it.
    raw
        Content of the whole file.
    folder
        Where the own log lies; None where there is no folder, and the log stays unread.
    """
    given = gathering.table(raw, "energy", "energy")
    if given is None:
        return None
    found: dict[str, Any] = dict(
        gathering.answers(given, section="energy", path="energy", beside=("term",))
    )
    terms = _terms(gathering, given)
    _own_words_fit(gathering, given, found)
    if any(key not in found for key, row in sections("practice")["energy"].items() if row.required):
        return None
    name = found.pop("log", "")
    log = _log(gathering, name, folder, found) if name else None
    return EnergyMeasure(**found, terms=terms, log=log)


def _terms(gathering: Gathering, given: Mapping[str, Any]) -> tuple[EnergyTerm, ...]:
    tables = gathering.tables(given, "term", "energy.term")
    if len(tables) > MOST_TERMS:
        limit = f"must be at most {MOST_TERMS} terms"
        remedy = "Keep one for each mode."
        gathering.tell("energy.term", "Term", limit, remedy, check="wrong_value")
        return ()
    rows = [
        gathering.answers(table, section="energy_term", path=f"energy.term[{at}]")
        for at, table in enumerate(tables)
    ]
    whole: list[dict[str, Any]] = [dict(row) for row in rows if len(row) > 1]
    return tuple(EnergyTerm(**row) for row in whole)


def _own_words_fit(
    gathering: Gathering, given: Mapping[str, Any], found: Mapping[str, Any]
) -> None:
    """Tell an own definition that is not whole, and own words beside a listed one."""
    definition = found.get("definition")
    if definition is None:
        return
    for key in (*_OWN, "term"):
        where, label = f"energy.{key}", _label(key)
        if definition != "own" and key in given:
            limit = f"stands only with an own definition, and this one is {definition}"
            remedy = f'Take {key} out, or write definition = "own".'
            gathering.tell(where, label, limit, remedy, check="contradicts")
        elif definition == "own" and key not in given and not gathering.document.failed(where):
            remedy = f"Add {'[[energy.term]]' if key == 'term' else f'{key} = …'}."
            limit = "is needed for an own definition"
            gathering.tell(where, label, limit, remedy, check="missing")
    if definition == "own" and given.get("term") == []:
        gathering.tell(
            "energy.term", "Term", "must be one at least", "Add [[energy.term]].", check="missing"
        )


def _label(key: str) -> str:
    return "Term" if key == "term" else field("energy", key, which="practice").label


def _log(
    gathering: Gathering, name: str, folder: Path | None, found: Mapping[str, Any]
) -> EnergyLog | None:
    """Return the own log; a file that cannot be used is told as a fault of the key ``log``."""
    if not _plain_name(name):
        limit = "must be the name of a CSV file beside the practice file"
        remedy = "Write the name alone, such as own-energy.csv."
        _tell_log(gathering, name, limit, remedy)
        return None
    if folder is None:
        return EnergyLog(file=name, was_read=False)
    try:
        return read_energy_log(read_bytes(folder / name), file=name, kept_to=found)
    except BadInput as bad:
        for problem in bad.problems:
            about = f"column {problem.value} " if problem.label == "Column" else ""
            _tell_log(gathering, name, f"{about}{problem.limit}", problem.remedy)
        return None


def _plain_name(name: str) -> bool:
    return name.endswith(".csv") and not set(name) & set("/\\:") and not name.startswith(".")


def _tell_log(gathering: Gathering, name: str, limit: str, remedy: str) -> None:
    label = field("energy", "log", which="practice").label
    value = shown_raw(name)
    gathering.tell("energy.log", label, limit, remedy, check="file_unreadable", value=value)
