"""The minutes after the first words, step by step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from zonule.errors import NoSuchName
from zonule.library.reading import table
from zonule.plan.states.records import Basis
from zonule.plan.states.tables import basis_of


@dataclass(frozen=True, slots=True)
class ThenStep:
    """One step, and the event the log keeps once it is done or said not to be needed."""

    id: str
    do: str
    event: str


@dataclass(frozen=True, slots=True)
class ThenOrder:
    """The steps that follow a group of triggers, in order."""

    id: str
    name: str
    ask_for: tuple[str, ...]
    steps: tuple[ThenStep, ...]
    basis: Basis


def then_order(name: str) -> ThenOrder:
    """Return the minutes after, by the name that a trigger gives.

    Raises
    ------
    NoSuchName
        If there is no such order.

    Examples
    --------
    >>> [step.id for step in then_order("capsule_torn").steps][:4]
    ['fragments', 'triamcinolone', 'wound_closed', 'vitrectomy']
    """
    rows = {row["id"]: row for row in table("theatre/then_orders")["then_order"]}
    if name not in rows:
        raise NoSuchName("order of steps", name, rows)
    row = rows[name]
    steps = tuple(_step(one) for one in row["step"])
    return ThenOrder(row["id"], row["name"], tuple(row["ask_for"]), steps, basis_of(row))


def _step(row: dict[str, Any]) -> ThenStep:
    """Return a step; one without words of its own has the usual ones."""
    usual = table("theatre/then_orders")["usual"].get(row["id"], {})
    return ThenStep(row["id"], row.get("do") or usual["do"], row.get("event") or usual["event"])
