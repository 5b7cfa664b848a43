"""The three roots of a lost bag, and what grows from them, as frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from zonule.assessment.risk.chance import Chance
from zonule.library.reading import Status


@dataclass(frozen=True, slots=True)
class Root:
    """One way the bag is lost."""

    key: str
    """capsule, zonule or rim."""
    label: str
    chance: Chance
    how: str
    waits_for: tuple[str, ...]
    sources: tuple[str, ...]
    status: Status


@dataclass(frozen=True, slots=True)
class CapsuleState:
    """One state the capsule may be in when the lens goes in, and where it then goes."""

    says: str
    answers: Mapping[str, str]
    share: float
    """Of all such eyes operated as planned."""
    place: str
    """Key of the rung."""


@dataclass(frozen=True, slots=True)
class Roots:
    """The roots, the states and the rungs of one plan."""

    roots: tuple[Root, ...]
    states: tuple[CapsuleState, ...]
    """The likeliest first."""
    rungs: Mapping[str, Chance]
    """By key of the place; the values exclude each other and sum to 1."""
    assumed: tuple[str, ...]
    """Splits that rest on no count, as a person is told."""
