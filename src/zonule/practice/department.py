"""What the department has settled: decisions on rules, recipe cards, where devices are kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class RuleDecision:
    """The department accepted, changed or switched off a rule; who, when and why is kept."""

    rule: str
    decision: str
    """accepted, changed or switched_off."""
    decided_by: str
    decided_on: date
    reason: str
    title: str = ""
    """The rule's line as the department words it; only with ``changed``."""
    do: tuple[str, ...] = ()
    """What the department does instead; only with ``changed``."""


@dataclass(frozen=True, slots=True)
class RecipeCard:
    """The department's own card for a drug or dye: the only place a strength comes from."""

    item: str
    strength: str
    card: str
    """Which card, such as its number."""
    approved_by: str
    approved_on: date


@dataclass(frozen=True, slots=True)
class KeptDevice:
    """Where a device or drug is kept, and how many there are."""

    item: str
    kept: str
    """in_room, to_fetch or to_order."""
    quantity: int | None = None
    shelf: str = ""


@dataclass(frozen=True, slots=True)
class Habits:
    """How this surgeon operates unless a case says otherwise."""

    main_wound_site: str = ""
    """temporal or superior; empty: not in the practice file."""
    main_wound_mm: float | None = None
    anaesthesia: str = ""
    """topical, topical_intracameral, sub_tenons, sharp_needle_block or general."""
    nucleus_routes: tuple[str, ...] = ()
    """Ways of getting the nucleus out this surgeon uses: chop, assisted_splitting, larger_wound."""
