"""Looks a finding up by the name that rules use, entered or derived."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Final

from zonule.errors import Side
from zonule.findings.answers import Answer, Unknown
from zonule.findings.derived import (
    acd_asymmetry_mm,
    age_at,
    brunescent_or_white,
    chamber_depth_mm,
    corneal_cylinder_d,
    deciding_biometry,
    depth_in_front_mm,
    k_mean_d,
    old_refraction_d,
    pupil_class,
)
from zonule.findings.fellow import FELLOW
from zonule.findings.records import Biometry, Case, Eye, other_side

_BIOMETRY_NAME: Final = {"cct_um": "corneal_thickness_um", "wtw_mm": "white_to_white_mm"}


def facts_of(case: Case, side: Side) -> Callable[[str], Answer]:
    """Return a lookup of everything known of one eye and its patient, by name.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Patient
    >>> left = Eye(side="left", answers={"pxf": True})
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), left)
    >>> facts_of(case, "left")("pxf")
    True
    """
    return partial(finding, case, side)


def finding(case: Case, side: Side, name: str, *, on: date | None = None) -> Answer:
    """Return a finding of one eye by the name that rules use, entered or derived.

    Parameters
    ----------
    case, side
        The case and the eye it is asked of.
    name
        A key of the case file, a derived name (``fellow_pcr``, ``k_mean_d``, ``age`` …), or a
        short name of a measurement (``acd_mm``, ``cct_um``, ``wtw_mm``).
    on
        Day for the age; the planned day of surgery if omitted.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Patient
    >>> case = Case(
    ...     "left",
    ...     Patient("demo"),
    ...     Aim(0.0),
    ...     Eye(side="right", lens_status="phakic"),
    ...     Eye(side="left", answers={"pxf": True}),
    ... )
    >>> finding(case, "left", "pxf"), finding(case, "left", "fellow_pcr")
    (True, 'not_operated')
    """
    eye = case.eye(side)
    if name in FELLOW:
        return FELLOW[name](case.eye(other_side(side)))
    worked_out: dict[str, Callable[[], Answer]] = {
        "lens_status": lambda: eye.lens_status,
        "age": lambda: _age(case, on),
        "acd_asymmetry_mm": lambda: acd_asymmetry_mm(case),
        "acd_mm": lambda: chamber_depth_mm(eye),
        "depth_in_front_mm": lambda: depth_in_front_mm(eye),
        "pupil_class": lambda: pupil_class(eye),
        "old_refraction_d": lambda: old_refraction_d(eye),
        "brunescent_or_white": lambda: brunescent_or_white(eye),
    }
    if name in worked_out:
        return worked_out[name]()
    measured = _measured(eye, name)
    if measured is not None:
        return measured
    answer = eye.answer(name)
    return case.patient.answer(name) if answer is Unknown.NOT_RECORDED else answer


def _age(case: Case, on: date | None) -> int | Unknown:
    day = on or case.surgery_planned_on
    return age_at(case.patient, day) if isinstance(day, date) else Unknown.NOT_RECORDED


def _measured(eye: Eye, name: str) -> Answer | None:
    """Return a measurement of the deciding sitting; None if the name is no measurement."""
    key = _BIOMETRY_NAME.get(name, name)
    derived: dict[str, Callable[[Biometry], Answer]] = {
        "k_mean_d": k_mean_d,
        "corneal_cylinder_d": corneal_cylinder_d,
    }
    if key not in derived and key not in Biometry.__dataclass_fields__:
        return None
    biometry = deciding_biometry(eye)
    if biometry is None:
        return Unknown.NOT_RECORDED
    answer: Answer = derived[key](biometry) if key in derived else getattr(biometry, key)
    return answer
