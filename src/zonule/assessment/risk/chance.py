"""A chance with the range it may lie in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Chance:
    """A chance: its value, and the range it may lie in."""

    value: float
    low: float
    high: float

    def times(self, share: float) -> Chance:
        """Return a fixed share of it.

        Examples
        --------
        >>> Chance(0.1, 0.05, 0.2).times(0.5)
        Chance(value=0.05, low=0.025, high=0.1)
        """
        return Chance(self.value * share, self.low * share, self.high * share)


def mixed(after: Chance, without: Chance, happens: Chance) -> Chance:
    """Return the chance over both branches, whether the first thing happens or not.

    The ends are the least and the greatest that any three values within the ranges can give.

    Examples
    --------
    >>> found = mixed(Chance(0.04, 0.02, 0.08), Chance(0.01, 0.01, 0.01), Chance(0.1, 0.0, 0.2))
    >>> round(found.value, 4), round(found.low, 4), round(found.high, 4)
    (0.013, 0.01, 0.024)
    """

    def at(share: float, one: float, other: float) -> float:
        return share * one + (1.0 - share) * other

    lows = [at(share, after.low, without.low) for share in (happens.low, happens.high)]
    highs = [at(share, after.high, without.high) for share in (happens.low, happens.high)]
    value = at(happens.value, after.value, without.value)
    return Chance(value, min(lows), max(highs))
