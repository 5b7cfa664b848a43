"""Computed powers: too different between the eyes, or rare enough to be read aloud."""

from __future__ import annotations

from collections.abc import Iterator

from zonule.errors import Problem, Side
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import dioptres, problem, signed_dioptres, threshold
from zonule.findings.derived import deciding_biometry, k_mean_d
from zonule.findings.records import Case, other_side

_DIFFER, _ALOUD = "powers_differ", "power_to_read_aloud"


def check_lens_powers(
    case: Case, *, side: Side, power_d: float, other_power_d: float | None = None
) -> tuple[Problem, ...]:
    """Return what is to be asked about a computed power.

    Parameters
    ----------
    case, side
        The case, and the eye the power is for.
    power_d
        Power for this eye [D].
    other_power_d
        Power for the other eye, same aim and place [D]; None if it is not computed.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Eye, Patient
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), Eye(side="left"))
    >>> [one.check for one in check_lens_powers(case, side="left", power_d=-3.0)]
    ['power_to_read_aloud']
    """
    found = [*_aloud(side, power_d)]
    if other_power_d is not None:
        found += _differ(case, side, power_d, other_power_d)
    return tuple(found)


def _aloud(side: Side, power_d: float) -> Iterator[Problem]:
    if power_d < 0:
        why = "a minus lens"
    elif power_d < threshold(_ALOUD, "size_below_d"):
        why = f"below {threshold(_ALOUD, 'size_below_d'):g} D"
    elif power_d > threshold(_ALOUD, "above_d"):
        why = f"above {threshold(_ALOUD, 'above_d'):g} D"
    else:
        return
    yield problem(
        _ALOUD,
        field=f"{side}.power_d",
        label=f"Lens power, {side} eye",
        value=signed_dioptres(power_d),
        eye=side,
        why=why,
    )


def _differ(case: Case, side: Side, power_d: float, other_power_d: float) -> Iterator[Problem]:
    explained = _explained_d(case, side)
    if explained is None:
        return
    difference = power_d - other_power_d
    if abs(difference - explained) > threshold(_DIFFER, "unexplained_above_d"):
        yield problem(
            _DIFFER,
            field=f"{side}.power_d",
            label=f"Lens power, {side} eye",
            value=signed_dioptres(power_d),
            eye=side,
            difference=dioptres(abs(difference)),
            explained=dioptres(abs(explained)),
        )


def _explained_d(case: Case, side: Side) -> float | None:
    """Return the difference of power that length and K explain [D]; None while not known."""
    mine = deciding_biometry(case.eye(side))
    theirs = deciding_biometry(case.eye(other_side(side)))
    if mine is None or theirs is None:
        return None
    lengths, corneas = (
        (mine.axial_length_mm, theirs.axial_length_mm),
        (k_mean_d(mine), k_mean_d(theirs)),
    )
    if not (is_known(lengths[0]) and is_known(lengths[1])):
        return None
    if not (is_known(corneas[0]) and is_known(corneas[1])):
        return None
    by_length = threshold(_DIFFER, "power_d_per_mm") * (lengths[0] - lengths[1])
    return by_length + threshold(_DIFFER, "power_d_per_k_d") * (corneas[0] - corneas[1])
