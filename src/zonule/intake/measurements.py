"""What a file says of one sitting of measurements, as a record.

K values are kept in dioptres of index 1.3375. Values typed in another index, and corneal radii,
come in through the radius; what was typed stays beside them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, TypeGuard

from zonule.findings.answers import Answer, number
from zonule.findings.fields import field
from zonule.findings.records import Biometry
from zonule.intake import slips
from zonule.intake.gathering import Gathering

INDEX: Final = 1.3375
"""Keratometer index that every K value is kept in."""


def power_from_radius(radius_mm: float, *, index: float = INDEX) -> float:
    """Return the corneal power [D] of a radius [mm].

    Examples
    --------
    >>> round(power_from_radius(7.5), 2)
    45.0
    """
    return 1000.0 * (index - 1.0) / radius_mm


def radius_from_power(power_d: float, *, index: float = INDEX) -> float:
    """Return the corneal radius [mm] of a power [D].

    Examples
    --------
    >>> round(radius_from_power(45.0), 2)
    7.5
    """
    return 1000.0 * (index - 1.0) / power_d


def read_biometry(gathering: Gathering, raw: Mapping[str, Any], *, path: str) -> Biometry:
    """Return one sitting of measurements; whatever is wrong with it is told."""
    answers = gathering.answers(raw, section="biometry", path=path)
    _tell_exchanged(gathering, raw, path)
    index = number(answers.get("keratometer_index", INDEX)) or INDEX
    for meridian in ("flat", "steep"):
        _settle_meridian(gathering, answers, meridian, index, path)
    known: dict[str, Any] = dict(answers)
    return Biometry(**known)


def _settle_meridian(
    gathering: Gathering, answers: dict[str, Answer], meridian: str, index: float, path: str
) -> None:
    power_key, radius_key = f"k_{meridian}_d", f"k_{meridian}_radius_mm"
    power, radius = number(answers.get(power_key, "")), number(answers.get(radius_key, ""))
    if radius is not None and power is not None:
        if abs(radius_from_power(power, index=index) - radius) > 0.02:
            asked = field("biometry", radius_key)
            gathering.tell(
                f"{path}.{radius_key}",
                asked.label,
                f"does not fit {power_key} {power:g} D",
                "Check both, or keep one of them.",
                check="contradicts",
                value=f"{radius:g} mm",
            )
    elif radius is not None:
        answers[power_key] = power_from_radius(radius)
    elif power is not None and index != INDEX:
        answers[power_key] = power_from_radius(radius_from_power(power, index=index))


def _tell_exchanged(gathering: Gathering, raw: Mapping[str, Any], path: str) -> None:
    """Say it in one word where a length and a K stand in each other's place."""
    length = raw.get("axial_length_mm")
    for key in ("k_flat_d", "k_steep_d"):
        k = raw.get(key)
        if not _is_number(length) or not _is_number(k):
            continue
        if slips.exchanged(length, k):
            told = "It looks exchanged with {}: check both."
            gathering.replace_remedy(f"{path}.axial_length_mm", told.format(key))
            gathering.replace_remedy(f"{path}.{key}", told.format("axial_length_mm"))


def _is_number(raw: object) -> TypeGuard[float]:
    return isinstance(raw, int | float) and not isinstance(raw, bool)
