"""What in the record a rule really waits for: rules know measurements by short, derived names."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from zonule.findings.answers import Answer, Unknown, is_known
from zonule.findings.derived import deciding_biometry
from zonule.findings.records import Case

RECORDED_AS: Final = {
    "cct_um": "corneal_thickness_um",
    "wtw_mm": "white_to_white_mm",
    "brunescent_or_white": "lens_look",
    "pupil_class": "pupil_dilated_mm",
    "old_refraction_d": "old_refraction_spherical_equivalent_d",
}
"""Short names that stand for one key of the record."""


def recorded_as(name: str, case: Case) -> str:
    """Return the key of the record that is missing for a finding a rule waits for.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Eye, Patient
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), Eye(side="left"))
    >>> recorded_as("acd_mm", case), recorded_as("age", case), recorded_as("pxf", case)
    ('anterior_chamber_depth_mm', 'born', 'pxf')
    """
    worked_out: dict[str, Callable[[Case], str]] = {"acd_mm": _depth, "age": _age}
    if name in worked_out:
        return worked_out[name](case)
    return RECORDED_AS.get(name, name)


def why_not_there(name: str, case: Case) -> Answer:
    """Return why a key that no lookup of findings knows is not there."""
    return {"born": case.patient.born, "surgery_planned_on": case.surgery_planned_on}[name]


def _age(case: Case) -> str:
    return "surgery_planned_on" if is_known(case.patient.born) else "born"


def _depth(case: Case) -> str:
    """Return which part of a chamber depth from the front of the cornea is missing."""
    biometry = deciding_biometry(case.operative_eye)
    if biometry is None or not is_known(biometry.anterior_chamber_depth_mm):
        return "anterior_chamber_depth_mm"
    origin = biometry.anterior_chamber_depth_from
    if isinstance(origin, Unknown) and origin is not Unknown.NOT_RECORDED:
        return "anterior_chamber_depth_from"
    if origin == "endothelium" and not is_known(biometry.corneal_thickness_um):
        return "corneal_thickness_um"
    if isinstance(case.operative_eye.lens_status, Unknown):
        return "lens_status"
    return "biometry"  # measured through another lens than the eye's own: to be measured again
