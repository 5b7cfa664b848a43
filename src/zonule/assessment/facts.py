"""Looks a finding up wherever it stands: eye, patient, measurement, or worked out from them."""

from __future__ import annotations

from dataclasses import fields

from zonule.errors import Side
from zonule.findings.answers import Answer, Unknown, is_known
from zonule.findings.conditions import Lookup
from zonule.findings.derived import deciding_biometry
from zonule.findings.records import Biometry, Case

_MEASURED = frozenset(item.name for item in fields(Biometry))


def facts_of(case: Case, side: Side) -> Lookup:
    """Return a lookup of everything recorded of one eye and its patient.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Eye, Patient
    >>> left = Eye(side="left", answers={"pxf": True})
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), left)
    >>> facts_of(case, "left")("pxf")
    True
    >>> facts_of(case, "left")("phacodonesis")
    <Unknown.NOT_RECORDED: 'not_recorded'>
    """
    eye = case.eye(side)
    biometry = deciding_biometry(eye)

    def lookup(name: str) -> Answer:
        if name == "lens_status":
            return eye.lens_status
        if name in _MEASURED and biometry is not None:
            answer: Answer = getattr(biometry, name)
            return answer
        for holder in (eye, case.patient):
            answer = holder.answer(name)
            if is_known(answer) or answer is not Unknown.NOT_RECORDED:
                return answer
        return Unknown.NOT_RECORDED

    return lookup
