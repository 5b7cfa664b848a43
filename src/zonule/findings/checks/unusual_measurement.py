"""A length, mean K or corneal cylinder that few eyes have: repeat it, once for all three."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import dioptres, millimetres, of_sitting, threshold
from zonule.findings.checks.length_against_refraction import disagreement_d
from zonule.findings.derived import corneal_cylinder_d, deciding_biometry, k_mean_d
from zonule.findings.records import Biometry, Case, Eye

_NAME = "unusual_measurement"
_ALIKE_MM, _ALIKE_D = 0.5, 0.9
_REFRACTION_FITS_D = 3.0


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Warn of an unusual value that neither the other eye nor the refraction bears out."""
    eye = case.operative_eye
    biometry = deciding_biometry(eye)
    if biometry is None:
        return
    odd = _odd(biometry)
    if not odd:
        return
    alone = {key: said for key, said in odd.items() if not _borne_out(case, biometry, key)}
    name = _NAME if alone else f"{_NAME}_borne_out"
    key = next(iter(alone or odd))
    yield of_sitting(name, eye, key, what="; ".join((alone or odd).values()), by=_by(key))


def _odd(biometry: Biometry) -> dict[str, str]:
    length, k, cylinder = biometry.axial_length_mm, k_mean_d(biometry), corneal_cylinder_d(biometry)
    found: dict[str, str] = {}
    if is_known(length) and not _within(length, "axial_length_{}_mm"):
        found["axial_length_mm"] = millimetres(length)
    if is_known(k) and not _within(k, "k_mean_{}_d"):
        found["k_flat_d"] = f"mean K {dioptres(k)}"
    if is_known(cylinder) and cylinder > threshold(_NAME, "cylinder_high_d"):
        found["k_steep_d"] = f"corneal cylinder {dioptres(cylinder)}"
    return found


def _within(value: float, key: str) -> bool:
    low, high = (threshold(_NAME, key.format(end)) for end in ("low", "high"))
    return low <= value <= high


def _by(key: str) -> str:
    return "the other eye or the old refraction" if key == "axial_length_mm" else "the other eye"


def _borne_out(case: Case, biometry: Biometry, key: str) -> bool:
    other = deciding_biometry(case.fellow_eye)
    if key == "axial_length_mm":
        return _alike(biometry, other) or _refraction_fits(case.operative_eye, biometry)
    if other is None:
        return False
    if key == "k_flat_d":
        mine, theirs = k_mean_d(biometry), k_mean_d(other)
    else:
        mine, theirs = corneal_cylinder_d(biometry), corneal_cylinder_d(other)
    return is_known(mine) and is_known(theirs) and 0 < abs(mine - theirs) <= _ALIKE_D


def _alike(biometry: Biometry, other: Biometry | None) -> bool:
    """Tell whether the other eye has nearly the same length, yet not the very same digits."""
    mine = biometry.axial_length_mm
    theirs = other.axial_length_mm if other else None
    return (
        isinstance(mine, float)
        and isinstance(theirs, float)
        and 0 < abs(mine - theirs) <= _ALIKE_MM
    )


def _refraction_fits(eye: Eye, biometry: Biometry) -> bool:
    left_over = disagreement_d(eye, biometry)
    return left_over is not None and abs(left_over) <= _REFRACTION_FITS_D
