"""What a person calls a finding, wherever in the case file it stands."""

from __future__ import annotations

from typing import Final

from zonule.findings.fields import sections

_WORKED_OUT: Final = {"depth_in_front_mm": "Anterior chamber depth"}


def label_of(name: str) -> str:
    """Return what a person calls a finding.

    Examples
    --------
    >>> label_of("pxf"), label_of("anterior_chamber_depth_mm"), label_of("biometry")
    ('Pseudoexfoliation', 'Anterior chamber depth', 'Biometry')
    """
    if name in _WORKED_OUT:
        return _WORKED_OUT[name]
    for section in ("eye", "biometry", "patient"):
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
