"""Which level of each factor of a model this eye has, or may have."""

from __future__ import annotations

from dataclasses import dataclass, replace

from zonule.assessment.risk.conditions import all_hold, any_holds, waits_for
from zonule.errors import LibraryFault
from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.library.risk_models import Factor, Level


@dataclass(frozen=True, slots=True)
class FactorReading:
    """One factor in one eye: the levels it may have, and what would settle it."""

    factor: Factor
    possible: tuple[Level, ...]
    """One level where the findings settle it; all that may be where they do not; none where a
    figure counts per unit and the finding is not known."""
    waits_for: tuple[str, ...] = ()
    """Findings that are not known and would settle it."""

    @property
    def known(self) -> bool:
        """Whether the findings settle the level."""
        return len(self.possible) == 1

    @property
    def not_in_record(self) -> bool:
        """Whether no record holds what it asks for: its reference level is taken, and said."""
        return self.factor.known_from == "nothing"

    @property
    def missing(self) -> tuple[Level, ...]:
        """Levels this eye may have whose figure nobody has typed in."""
        return tuple(level for level in self.possible if level.ratio is None)


def _holds(level: Level, lookup: Lookup) -> bool | None:
    if level.when_any:
        return any_holds(level.when_any, lookup)
    return all_hold(level.when_all, lookup)


def read_factor(factor: Factor, lookup: Lookup) -> FactorReading:
    """Return which levels of a factor an eye may have.

    A factor that no record holds, or that is known only from the plan or from what happens,
    stands at its reference level until the caller sets it; ``not_in_record`` says the first.

    Raises
    ------
    LibraryFault
        If no level of the factor can hold: its levels leave a hole.
    """
    if factor.per_unit:
        return _per_unit(factor, lookup)
    if factor.comparison or factor.known_from != "findings":
        return at_reference(factor)
    told = {level.level: _holds(level, lookup) for level in factor.levels if not level.otherwise}
    sure = tuple(level for level in factor.levels if told.get(level.level) is True)
    if sure:
        return FactorReading(factor, sure[:1] if factor.first_wins else sure)
    possible = tuple(
        level for level in factor.levels if level.otherwise or told[level.level] is None
    )
    if not possible:
        raise LibraryFault(f"no level of {factor.name} fits this eye")
    if len(possible) == 1:
        return FactorReading(factor, possible)
    conditions = [text for level in factor.levels for text in (*level.when_all, *level.when_any)]
    return FactorReading(factor, possible, waits_for(conditions, lookup))


def _per_unit(factor: Factor, lookup: Lookup) -> FactorReading:
    """Return a factor whose figure counts once for each unit of a finding."""
    counted, each = number(lookup(factor.finding)), factor.levels[0]
    if counted is None or each.ratio is None:
        return FactorReading(factor, (), (factor.finding,))
    units = max(counted - (factor.counted_from or 0.0), 0.0)
    return FactorReading(factor, (replace(each, ratio=each.ratio**units),))


def at_reference(factor: Factor) -> FactorReading:
    """Return a factor at its reference level; where that was not seen every level stays open."""
    found = tuple(level for level in factor.levels if level.reference)
    return FactorReading(factor, found or factor.levels)


def with_level(reading: FactorReading, name: str) -> FactorReading:
    """Return a factor set to the level of that name, whatever the findings say.

    Raises
    ------
    LibraryFault
        If the factor has no such level.
    """
    for level in reading.factor.levels:
        if level.level == name:
            return FactorReading(reading.factor, (level,))
    raise LibraryFault(f"{reading.factor.name} has no level {name!r}")
