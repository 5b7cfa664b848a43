"""Reads the files of printed figures and holds a computed value to one of them.

The printed figure is a string: its last digit says how far it can be held to. A computed value
agrees when it lies within half a unit of that digit, or, where two figures are printed as a
range, within the range widened by as much.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeAlias

USES = ("test", "differs", "prior", "band", "unused")
STATUSES = ("confirmed", "memory", "practice", "derived", "assumption")
WHERES = (
    "placements",
    "measurement errors",
    "label tolerance",
    "error budget",
    "fellow eye",
    "data checks",
)

Printed: TypeAlias = str | list[str] | dict[str, Any]
Computed: TypeAlias = float | Mapping[str, float]


@dataclass(frozen=True)
class Entry:
    """One printed figure, or the few that a source prints together."""

    id: str
    quantity: str
    inputs: dict[str, Any]
    printed: Printed
    unit: str
    source: str
    locator: str
    status: str
    use: str
    formula: str = ""
    supplied: list[str] = field(default_factory=list)
    tolerance: str = ""
    tolerance_reason: str = ""
    where: str = ""
    reason: str = ""


def entries(name: str) -> tuple[Entry, ...]:
    """Return every entry of a file of printed figures."""
    text = (Path(__file__).parent / f"{name}.toml").read_text(encoding="utf-8")
    return tuple(Entry(**entry) for entry in tomllib.loads(text)["entry"])


def with_use(name: str, use: str) -> tuple[Entry, ...]:
    """Return the entries of a file that are put to one use."""
    return tuple(entry for entry in entries(name) if entry.use == use)


def counts(name: str) -> dict[str, int]:
    """Return how many entries of a file are put to each use."""
    return dict(Counter(entry.use for entry in entries(name)))


def half_unit(printed: str) -> float:
    """Return half a unit of the last printed digit."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int), printed
    return 0.5 * 10.0**exponent


def agrees(computed: Computed, entry: Entry) -> bool:
    """Tell whether a computed value is the printed one, as far as print can say."""
    return _agrees(computed, entry.printed, entry.tolerance)


def _agrees(computed: Computed, printed: Printed, tolerance: str) -> bool:
    if isinstance(printed, dict):
        assert isinstance(computed, Mapping)
        assert set(computed) == set(printed)
        return all(_agrees(computed[name], printed[name], tolerance) for name in printed)
    assert not isinstance(computed, Mapping)
    ends = printed if isinstance(printed, list) else [printed]
    allowed = float(tolerance) if tolerance else max(half_unit(end) for end in ends)
    # The tiny rest is the rounding of binary fractions, far below any printed digit.
    allowed += 1e-12
    return float(ends[0]) - allowed <= computed <= float(ends[-1]) + allowed
