"""Recognises the usual slips of unit and place behind a number outside its limits."""

from __future__ import annotations

from typing import Final

from zonule.findings.fields import Field, field, shown

_THOUSAND: Final = {"mm": "micrometres", "µm": "millimetres"}
_RADIUS_OF: Final = {"k_flat_d": "k_flat_radius_mm", "k_steep_d": "k_steep_radius_mm"}


def remedy(asked: Field, number: float) -> str:
    """Return what to do about a number outside its limits.

    Examples
    --------
    >>> remedy(field("biometry", "axial_length_mm"), 2.35)
    'Check the decimal point: 23.5?'
    >>> remedy(field("biometry", "k_flat_d"), 7.7)
    'This looks like a radius in mm: use k_flat_radius_mm.'
    >>> remedy(field("biometry", "corneal_thickness_um"), 0.54)
    'This looks like millimetres: 540 µm?'
    """
    if asked.low is None or asked.high is None:
        return "Check the number."
    return (
        _other_field(asked, number)
        or _unit_slip(asked, number)
        or _point_slip(asked, number)
        or _sign_slip(asked, number)
        or "Check the number and its unit."
    )


def _inside(asked: Field, number: float) -> bool:
    return asked.low is not None and asked.high is not None and asked.low <= number <= asked.high


def _other_field(asked: Field, number: float) -> str:
    if asked.key in _RADIUS_OF and _inside(field("biometry", _RADIUS_OF[asked.key]), number):
        return f"This looks like a radius in mm: use {_RADIUS_OF[asked.key]}."
    for power, radius in _RADIUS_OF.items():
        if asked.key == radius and _inside(field("biometry", power), number):
            return f"This looks like dioptres: use {power}."
    return ""


def _unit_slip(asked: Field, number: float) -> str:
    if asked.unit not in _THOUSAND:
        return ""
    right = number / 1000 if asked.unit == "mm" else number * 1000
    if not _inside(asked, right):
        return ""
    return f"This looks like {_THOUSAND[asked.unit]}: {_whole(right)} {asked.unit}?"


def _point_slip(asked: Field, number: float) -> str:
    for factor in (10, 100):
        for right in (number / factor, number * factor):
            if right != 0 and _inside(asked, right) and asked.high != asked.low:
                return f"Check the decimal point: {_whole(right)}?"
    return ""


def _sign_slip(asked: Field, number: float) -> str:
    return "Check the sign." if number < 0 and _inside(asked, -number) else ""


def _whole(number: float) -> str:
    return shown(float(f"{number:.6g}")).removesuffix(".0")


def exchanged(length_mm: float, k_d: float) -> bool:
    """Tell whether an axial length and a K look as if each stood in the other's place.

    Examples
    --------
    >>> exchanged(43.2, 23.9), exchanged(23.9, 43.2)
    (True, False)
    """
    length, power = field("biometry", "axial_length_mm"), field("biometry", "k_flat_d")
    fits = _inside(length, k_d) and _inside(power, length_mm)
    return fits and not (_inside(length, length_mm) and _inside(power, k_d))
