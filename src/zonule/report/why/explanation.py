"""The record behind every "why"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Input:
    """One thing a number was made from."""

    label: str
    value: str
    source: str = ""
    status: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """Everything behind one number."""

    path: str
    title: str
    value: str
    how: str
    inputs: tuple[Input, ...] = ()
    sources: tuple[str, ...] = ()
    """Keys of references.toml."""
    status: str = "derived"
    status_of: str = "this figure"
    """What the status speaks of; the spread of a measurement, where the figure was measured."""
    held_by: tuple[str, ...] = ()
    """Test files that would fail if the number were computed otherwise."""
    caveats: tuple[str, ...] = ()


Explain = Callable[[], Explanation]
