"""What a person calls a finding, wherever in the case file it stands."""

from __future__ import annotations

from typing import Final

from zonule.findings.answers import Answer, is_known, number
from zonule.findings.conditions import Condition
from zonule.findings.fields import sections

_WORKED_OUT: Final = {
    "depth_in_front_mm": "Anterior chamber depth",
    "acd_mm": "Anterior chamber depth",
    "acd_asymmetry_mm": "Difference in chamber depth",
    "cct_um": "Corneal thickness",
    "wtw_mm": "White-to-white",
    "age": "Age",
    "sulcus_offered": "The sulcus among the backups",
    "fellow_pcr": "First eye, posterior capsule torn",
    "fellow_zonule_event": "First eye, zonular event",
    "fellow_iol_place": "First eye, place of the lens",
    "fellow_floppy_iris": "First eye, floppy iris",
    "fellow_sch": "First eye, suprachoroidal haemorrhage",
    "fellow_cmo": "First eye, macular oedema",
    "fellow_cornea_failed": "First eye, cornea failed",
    "fellow_note_seen": "First eye, operation note read",
}


def label_of(name: str) -> str:
    """Return what a person calls a finding.

    Examples
    --------
    >>> label_of("pxf"), label_of("anterior_chamber_depth_mm"), label_of("biometry")
    ('Pseudoexfoliation', 'Anterior chamber depth', 'Biometry')
    """
    if name in _WORKED_OUT:
        return _WORKED_OUT[name]
    for section in ("eye", "biometry", "patient", "top"):
        if name in sections("case")[section]:
            return sections("case")[section][name].label
    return name.replace("_", " ").capitalize()


def named(name: str) -> str:
    """Return what a person calls a finding, within a sentence.

    Examples
    --------
    >>> named("hist_uveitis"), named("k_flat_d")
    ('uveitis', 'flat K')
    """
    label = label_of(name)
    return label if label[:2].isupper() else label[:1].lower() + label[1:]


_UNITS: Final = {
    "acd_mm": "mm",
    "acd_asymmetry_mm": "mm",
    "cct_um": "µm",
    "wtw_mm": "mm",
    "age": "years",
}


def _unit_of(name: str) -> str:
    if name in _UNITS:
        return _UNITS[name]
    for section in ("eye", "biometry", "patient"):
        if name in sections("case")[section]:
            return sections("case")[section][name].unit
    return ""


def said(condition: Condition, answer: Answer) -> str:
    """Return the finding that makes a condition hold, as a person reads it.

    Examples
    --------
    >>> from zonule.findings.conditions import parse
    >>> said(parse("pxf == true"), True), said(parse("pupil_dilated_mm < 5.0"), 3.5)
    ('pseudoexfoliation', 'dilated pupil 3.5 mm')
    >>> said(parse("phacodonesis in ['slight','marked']"), "slight")
    'lens wobble: slight'
    """
    name = named(condition.finding)
    if answer is True or not is_known(answer):
        return name
    if answer is False:
        return f"{name}: no"
    if number(answer) is not None:
        unit = _unit_of(condition.finding)
        figure = f"{number(answer):,.10g}".replace("-", "−")
        return f"{name} {figure}{' ' + unit if unit else ''}"
    if isinstance(answer, tuple):
        return f"{name}: {condition.value}".replace("_", " ")
    return f"{name}: {answer}".replace("_", " ")
