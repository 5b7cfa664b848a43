"""What is known of the other eye, under the names that rules use."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from zonule.findings.answers import Answer, Unknown, is_known
from zonule.findings.derived import operated
from zonule.findings.records import Eye

_IOL_PLACE: Final = {
    "bag": "bag",
    "bag_anchored": "bag",
    "bag_posterior_capture": "posterior_capture",
    "sulcus_capture": "sulcus_capture",
    "sulcus_three_piece": "sulcus",
    "reverse_capture": "sulcus_capture",
    "iris_suture": "iris",
    "iris_claw": "iris",
    "scleral": "scleral",
    "anterior_chamber": "anterior_chamber",
    "later": "none",
    "none_final": "none",
}


def fellow_pcr(eye: Eye) -> str | Unknown:
    """Return not_operated, no, yes or unknown for the posterior capsule of a fellow eye.

    Examples
    --------
    >>> fellow_pcr(Eye(side="right", lens_status="pseudophakic"))
    'unknown'
    """
    was = operated(eye)
    if isinstance(was, Unknown):
        return was
    if not was:
        return "not_operated"
    capsule = eye.operation.posterior_capsule if eye.operation else Unknown.NOT_RECORDED
    if not is_known(capsule):
        return "unknown"
    return "no" if capsule == "intact" else "yes"


def fellow_iol_place(eye: Eye) -> str | Unknown:
    """Return where the lens of a fellow eye sits, in the words the rules use.

    Examples
    --------
    >>> from zonule.findings.records import Operation
    >>> fellow_iol_place(
    ...     Eye(side="right", operation=Operation(placement="sulcus_three_piece"))
    ... )
    'sulcus'
    """
    was = operated(eye)
    if isinstance(was, Unknown):
        return was
    if not was or eye.lens_status == "aphakic":
        return "none"
    placement = eye.operation.placement if eye.operation else Unknown.NOT_RECORDED
    return _IOL_PLACE[placement] if is_known(placement) else "unknown"


def _event(name: str) -> Callable[[Eye], Answer]:
    def of(eye: Eye) -> Answer:
        was = operated(eye)
        if was is not True:
            return was
        return eye.operation.answer(name) if eye.operation else Unknown.NOT_RECORDED

    return of


FELLOW: Final[dict[str, Callable[[Eye], Answer]]] = {
    "fellow_pcr": fellow_pcr,
    "fellow_iol_place": fellow_iol_place,
    "fellow_zonule_event": _event("zonular_event"),
    "fellow_floppy_iris": _event("floppy_iris"),
    "fellow_sch": _event("suprachoroidal_haemorrhage"),
    "fellow_cmo": _event("cystoid_oedema"),
    "fellow_cornea_failed": _event("cornea_failed"),
    "fellow_note_seen": _event("note_seen"),
}
