"""What own earlier cases say of the risk, and which national rate is the yardstick."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class RiskChoices:
    """What the practice file says under ``[risk]``."""

    rebased_to: str = ""
    """The years whose national rate the rupture model is brought to; empty: the library's own."""
    own_spread: float | None = None
    """SD between surgeons, on the log-odds scale; None: the library's assumption."""
    own_cases: int | None = None
    own_ruptures: int | None = None
    own_expected_ruptures: float | None = None
    """Ruptures that the model expected in those cases; None: those of the national rate."""
    own_cases_file: str = ""
    """A CSV file beside the practice file, one earlier case in each row."""


@dataclass(frozen=True, slots=True, eq=False)
class OwnBaseline:
    """How far this surgeon stands from the model: one shift of the log odds, and how sure it is."""

    shift: Array = field(default_factory=lambda: np.zeros(1), repr=False)
    """Grid of shifts."""
    weight: Array = field(default_factory=lambda: np.ones(1), repr=False)
    """Weight of each; they sum to 1."""
    spread: float = 0.5
    cases: int = 0
    ruptures: int = 0
    expected_ruptures: float = 0.0
    counted_from: str = ""
    """counts, a file name, or empty where no case was counted."""
    set_aside: tuple[str, ...] = ()
    """Rows of the file that could not be used, each with its reason."""

    @property
    def counted(self) -> bool:
        """Whether own cases stand behind it."""
        return self.cases > 0

    @property
    def mean(self) -> float:
        """Mean shift of the log odds."""
        return float(self.shift @ self.weight)

    @property
    def sd(self) -> float:
        """SD of the shift."""
        return float(np.sqrt(((self.shift - self.mean) ** 2) @ self.weight))

    @property
    def weight_of_own_data(self) -> float:
        """How far the own cases have narrowed what was assumed: 0 nothing, 1 all."""
        return max(0.0, 1.0 - (self.sd / self.spread) ** 2)
