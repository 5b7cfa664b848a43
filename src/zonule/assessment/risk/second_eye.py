"""What a rupture in the first eye means for the second: a fact, a question, what both share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from zonule.assessment.risk.conditions import any_holds
from zonule.findings.answers import Answer, is_known
from zonule.findings.conditions import Lookup
from zonule.findings.facts import facts_of
from zonule.findings.records import Case
from zonule.formulas.risk.second_eye import risk_given_first
from zonule.library.reading import table

Found = Literal["here_too", "absent_here", "look"]


@dataclass(frozen=True, slots=True)
class SharedCause:
    """A cause found at the first eye, and what is known of it in the eye to do."""

    id: str
    label: str
    finding: str
    found: Found
    """here_too, absent_here, or look: not known here."""


@dataclass(frozen=True, slots=True)
class WhatIfShared:
    """The second eye's risk if a patient's two eyes share an effect of some spread."""

    spread: float
    value: float


@dataclass(frozen=True, slots=True)
class SecondEye:
    """What the first eye's rupture means here. Nothing of it is in the risk that is shown."""

    ruptured: bool | None
    """Whether the first eye's capsule tore; None: not known."""
    cause: str
    """shared, technique, chance; empty: nobody has said."""
    what_if: tuple[WhatIfShared, ...]
    """The stated spread first; empty where the first eye's capsule held or is not known."""
    shared: tuple[SharedCause, ...]

    @property
    def to_look_for(self) -> tuple[SharedCause, ...]:
        """Causes found at the first eye and not known here."""
        return tuple(one for one in self.shared if one.found == "look")


def second_eye(case: Case, risk: float) -> SecondEye | None:
    """Return what the first eye's operation means for the risk of the eye to do.

    None where the other eye has not been operated.

    Parameters
    ----------
    case
        The case.
    risk
        The risk of rupture of the eye to do, by its own findings.
    """
    if case.fellow_eye.operation is None:
        return None
    lookup = facts_of(case, case.eye_to_do)
    told = lookup("fellow_pcr")
    ruptured = {"yes": True, "no": False}.get(told) if isinstance(told, str) else None
    answer = case.fellow_eye.operation.answer("rupture_cause")
    cause = answer if isinstance(answer, str) else ""
    return SecondEye(
        ruptured=ruptured,
        cause=cause,
        what_if=_what_if(risk, cause) if ruptured else (),
        shared=shared_causes(case),
    )


def _what_if(risk: float, cause: str) -> tuple[WhatIfShared, ...]:
    """Return the what-if: no shared effect where the surgeon says technique or chance."""
    row = table("risk/choices")["second_eye"]
    if cause in ("technique", "chance"):
        return (WhatIfShared(0.0, risk),)
    spreads = (row["spread"], *row["beside"])
    return tuple(
        WhatIfShared(float(one), float(risk_given_first(probability=risk, spread=float(one))))
        for one in spreads
    )


def shared_causes(case: Case) -> tuple[SharedCause, ...]:
    """Return the causes found at the first eye, each with what is known of it in the second."""
    first, second = _first_eye(case), facts_of(case, case.eye_to_do)
    return tuple(
        SharedCause(row["id"], row["label"], row["finding"], _found(row, second))
        for row in table("risk/shared_causes")["cause"]
        if any_holds(row["first"], first)
    )


def _found(row: Mapping[str, list[str]], second: Lookup) -> Found:
    holds = any_holds(row["second"], second)
    if holds is None:
        return "look"
    return "here_too" if holds else "absent_here"


def _first_eye(case: Case) -> Lookup:
    """Return a lookup of the first eye's findings, and of what its operation met."""
    findings = facts_of(case, case.fellow_eye.side)

    def lookup(name: str) -> Answer:
        operation = case.fellow_eye.operation
        met = operation.answer(name) if operation is not None else findings(name)
        return met if is_known(met) else findings(name)

    return lookup
