"""Refuses a risk table that contradicts itself, and names the row."""

from __future__ import annotations

from math import isfinite, sqrt
from typing import Final

from zonule.errors import LibraryFault
from zonule.library.reading import reference
from zonule.library.risk_records import KINDS, KNOWN_FROM, UNITS, Factor, Level, Model, Rate

SYMMETRY: Final = 0.015
SYMMETRY_ONE_DECIMAL: Final = 0.05
"""How far a ratio may lie from the middle of its interval on the log scale; figures printed with
one decimal are rounded more coarsely. Catches a slip of typing."""
SHARES_SUM_WITHIN: Final = 1e-6


def check_model(model: Model) -> None:
    """Check one model.

    Raises
    ------
    LibraryFault
        Naming the model, the factor and the level, with what is wrong.
    """
    if model.kind not in KINDS:
        raise LibraryFault(f"{model.id}: kind {model.kind!r} is not one of {', '.join(KINDS)}")
    if model.baseline.unit != UNITS[model.kind]:
        raise LibraryFault(f"{model.id}: baseline of {model.kind} is in {UNITS[model.kind]!r}")
    _known(model.id, model.source)
    check_rate(f"{model.id}: rate", model.rate)
    _check_baseline(model)
    names = [factor.name for factor in model.factors]
    if len(set(names)) < len(names):
        raise LibraryFault(f"{model.id}: a factor stands twice")
    for factor in model.factors:
        _check_factor(f"{model.id}, {factor.name}", factor)
        if factor.instead_of and factor.instead_of not in names:
            raise LibraryFault(f"{model.id}, {factor.name}: no factor {factor.instead_of!r}")


def check_rate(where: str, rate: Rate) -> None:
    """Check a rate: between 0 and 1, events over number, missing only where there is no value.

    Raises
    ------
    LibraryFault
        Naming the row.
    """
    _known(where, rate.source)
    _present(where, rate.value, rate.status)
    if rate.value is None:
        return
    if not 0.0 <= rate.value <= 1.0:
        raise LibraryFault(f"{where}: {rate.value} is no share; it must be 0 to 1")
    if rate.events is None or rate.n is None:
        return
    # Half a unit of the second printed digit, at the coarsest.
    if abs(rate.events / rate.n - rate.value) > 0.05 * rate.value:
        raise LibraryFault(f"{where}: {rate.events} of {rate.n} is not {rate.value}")


def _check_baseline(model: Model) -> None:
    where, baseline = f"{model.id}: baseline", model.baseline
    _known(where, baseline.source)
    _present(where, baseline.value, baseline.status)
    if baseline.value is not None and not 0.0 < baseline.value < 1.0:
        raise LibraryFault(f"{where}: {baseline.value} must lie between 0 and 1")


def _check_factor(where: str, factor: Factor) -> None:
    if factor.known_from not in KNOWN_FROM:
        raise LibraryFault(f"{where}: known_from is one of {', '.join(KNOWN_FROM)}")
    names = [level.level for level in factor.levels]
    if len(set(names)) < len(names) or not names:
        raise LibraryFault(f"{where}: a level stands twice, or there is none")
    for level in factor.levels:
        _check_level(f"{where}, {level.level}", level)
    if factor.per_unit:
        _check_per_unit(where, factor)
    else:
        _check_reference(where, factor)
        _check_conditions(where, factor)
    _check_shares(where, factor)


def _check_per_unit(where: str, factor: Factor) -> None:
    alone = len(factor.levels) == 1 and not factor.levels[0].readable
    if not alone or not factor.finding:
        raise LibraryFault(f"{where}: a ratio per unit has one level, no condition, and a finding")


def _check_reference(where: str, factor: Factor) -> None:
    references = [level for level in factor.levels if level.reference]
    wanted = 0 if factor.reference_missing else 1
    if len(references) != wanted:
        raise LibraryFault(f"{where}: {len(references)} reference levels; it needs {wanted}")
    if references and references[0].ratio != 1.0:
        raise LibraryFault(f"{where}: the reference level has ratio 1")


def _check_conditions(where: str, factor: Factor) -> None:
    read = factor.known_from == "findings" and not factor.comparison
    wrong = [level.level for level in factor.levels if level.readable != read]
    if wrong:
        rule = "needs" if read else "must not have"
        raise LibraryFault(f"{where}: {', '.join(wrong)} {rule} a condition")
    if sum(level.otherwise for level in factor.levels) > 1:
        raise LibraryFault(f"{where}: only one level can be the one otherwise taken")


def _check_shares(where: str, factor: Factor) -> None:
    shares = [level.prevalence for level in factor.levels]
    if all(share is None for share in shares):
        return
    if factor.prevalence_status is None or not factor.prevalence_source:
        raise LibraryFault(f"{where}: shares need prevalence_status and prevalence_source")
    _known(where, factor.prevalence_source)
    known = [share for share in shares if share is not None]
    if len(known) < len(shares) or abs(sum(known) - 1.0) > SHARES_SUM_WITHIN:
        raise LibraryFault(f"{where}: shares must stand on every level and sum to 1")


def _check_level(where: str, level: Level) -> None:
    _known(where, level.source)
    _present(where, level.ratio, level.status)
    if sum((bool(level.when_all), bool(level.when_any), level.otherwise)) > 1:
        raise LibraryFault(f"{where}: one of when_all, when_any, otherwise")
    if level.ratio is not None and not (isfinite(level.ratio) and level.ratio > 0.0):
        raise LibraryFault(f"{where}: ratio {level.ratio} must be above 0")
    if level.ci is not None:
        check_interval(where, level)


def check_interval(where: str, level: Level) -> None:
    """Check that a ratio lies in the middle of its interval on the log scale.

    Raises
    ------
    LibraryFault
        If it lies further off than rounding explains and the row does not say that it is so
        printed.

    Examples
    --------
    >>> row = Level("yes", "yes", 3.74, "confirmed", "sim2024rupture", ci=(3.05, 3.94))
    >>> check_interval("demo", row)
    Traceback (most recent call last):
        ...
    zonule.errors.LibraryFault: demo: 3.74 is not the middle of 3.05 to 3.94; read it again
    """
    if level.ci is None or level.ratio is None:
        raise LibraryFault(f"{where}: an interval needs both ends and its ratio")
    low, high = level.ci
    if not 0.0 < low < level.ratio < high:
        raise LibraryFault(f"{where}: {level.ratio} does not lie within {low} to {high}")
    printed = max(_decimals(one) for one in (level.ratio, low, high))
    allowed = SYMMETRY_ONE_DECIMAL if printed <= 1 else SYMMETRY
    off = abs(level.ratio / sqrt(low * high) - 1.0) > allowed
    if off and not level.asymmetric_as_printed:
        raise LibraryFault(
            f"{where}: {level.ratio} is not the middle of {low} to {high}; read it again"
        )


def _decimals(value: float) -> int:
    return len(f"{value:g}".partition(".")[2])


def _known(where: str, source: str) -> None:
    if not source:
        raise LibraryFault(f"{where}: no source")
    reference(source)


def _present(where: str, value: float | None, status: str) -> None:
    if (value is None) != (status == "missing"):
        raise LibraryFault(f"{where}: no value goes with status missing, and only with it")
