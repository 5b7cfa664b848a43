"""Reads ``[risk]`` of a practice file: which rate is the yardstick, what own cases were counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from zonule.assessment.risk.own import surgeons_in_general
from zonule.findings.fields import field
from zonule.intake.csv_beside import csv_beside
from zonule.intake.gathering import Gathering
from zonule.intake.own_cases import own_cases
from zonule.learning.own_baseline import from_cases, learnt
from zonule.practice.risk import OwnBaseline, RiskChoices


def read_risk(
    gathering: Gathering, raw: Mapping[str, Any], folder: Path | None
) -> tuple[RiskChoices, OwnBaseline | None]:
    """Return what a practice file says of risk, and what own cases taught; faults are told.

    Parameters
    ----------
    gathering
        The reading of this practice file.
    raw
        Content of the whole file.
    folder
        Where a file of own cases lies; None where there is no folder, and it stays unread.
    """
    told = gathering.table(raw, "risk", "risk") or {}
    found: dict[str, Any] = dict(gathering.answers(told, section="risk", path="risk"))
    if not _belong_together(gathering, told, found):
        return RiskChoices(), None
    choices = RiskChoices(**found)
    if not choices.own_cases_file:
        return choices, learnt(choices)
    if folder is None:
        unread = f"{choices.own_cases_file} was not read: no folder to look in"
        return choices, replace(surgeons_in_general(choices), set_aside=(unread,))
    return choices, _from_file(gathering, choices, folder)


def _from_file(gathering: Gathering, choices: RiskChoices, folder: Path) -> OwnBaseline | None:
    name = choices.own_cases_file
    read = csv_beside(
        gathering,
        section="risk",
        key="own_cases_file",
        name=name,
        folder=folder,
        reader=lambda data: own_cases(data, name=name),
    )
    if read is None:
        return None
    cases, aside = read
    set_aside = [one.sentence() for one in aside]
    return from_cases(choices, cases, name=name, set_aside=set_aside)


def _belong_together(
    gathering: Gathering, told: Mapping[str, Any], found: Mapping[str, Any]
) -> bool:
    """Tell whether counts are whole and there is one account of own cases; if not, tell it."""
    cases, ruptures = found.get("own_cases"), found.get("own_ruptures")
    if ("own_cases" in told) != ("own_ruptures" in told):
        there, lacks = sorted(("own_cases", "own_ruptures"), key=lambda key: key not in told)
        _tell(gathering, there, f"stands without {lacks}", f"Add {lacks} = … under [risk].")
        return False
    if cases is not None and ruptures is not None and ruptures > cases:
        _tell(gathering, "own_ruptures", f"must be at most own_cases, {cases}", "Check both.")
        return False
    if "own_expected_ruptures" in told and "own_cases" not in told:
        _tell(
            gathering,
            "own_expected_ruptures",
            "stands without own_cases",
            "Add own_cases = … and own_ruptures = … under [risk].",
        )
        return False
    expected = found.get("own_expected_ruptures")
    if cases is not None and expected is not None and expected >= cases:
        _tell(gathering, "own_expected_ruptures", f"must be less than {cases}", "Check both.")
        return False
    if "own_cases_file" in told and "own_cases" in told:
        _tell(
            gathering,
            "own_cases_file",
            "stands beside counts",
            "Keep the file or the counts, not both.",
        )
        return False
    return True


def _tell(gathering: Gathering, key: str, limit: str, remedy: str) -> None:
    label = field("risk", key, which="practice").label
    gathering.tell(f"risk.{key}", label, limit, remedy, check="contradicts")
