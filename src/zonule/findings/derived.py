"""What is never entered: worked out from the record, with unknown kept unknown.

Everything called ``fellow_*`` comes from the other eye's own record; a fellow eye that was never
operated answers "no" to what can only happen in an operation.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Final

from zonule.errors import Side
from zonule.findings.answers import Answer, Unknown, is_known, number
from zonule.findings.density import DENSE_LOOKS
from zonule.findings.records import Biometry, Case, Eye, Patient, other_side

PUPIL_LARGE_FROM_MM: Final = 6.0
PUPIL_MEDIUM_FROM_MM: Final = 4.0
"""Assumption: the cuts of the paper that uses the classes were not seen."""

_METHOD_RANK: Final = {"ultrasound_immersion": 1, "ultrasound_contact": 2}
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


def deciding_biometry(eye: Eye) -> Biometry | None:
    """Return the sitting that a power rests on: the most exact method, then the latest.

    Examples
    --------
    >>> deciding_biometry(Eye(side="left")) is None
    True
    """
    usable = [one for one in eye.biometry if is_known(one.axial_length_mm)]
    return min(usable or eye.biometry, key=_rank, default=None)


def _rank(biometry: Biometry) -> tuple[int, int]:
    rank = _METHOD_RANK.get(str(biometry.method), 0) if is_known(biometry.method) else 3
    day = biometry.measured_on.toordinal() if isinstance(biometry.measured_on, date) else 0
    return rank, -day


def k_mean_d(biometry: Biometry) -> float | Unknown:
    """Return the mean K in dioptres of index 1.3375.

    Examples
    --------
    >>> k_mean_d(Biometry(k_flat_d=43.2, k_steep_d=44.0))
    43.6
    """
    if is_known(biometry.k_flat_d) and is_known(biometry.k_steep_d):
        return (biometry.k_flat_d + biometry.k_steep_d) / 2.0
    return Unknown.NOT_RECORDED


def corneal_cylinder_d(biometry: Biometry) -> float | Unknown:
    """Return the size of the corneal cylinder [D], whichever K was called flat.

    Examples
    --------
    >>> round(corneal_cylinder_d(Biometry(k_flat_d=43.2, k_steep_d=44.0)), 2)
    0.8
    """
    if is_known(biometry.k_flat_d) and is_known(biometry.k_steep_d):
        return abs(biometry.k_steep_d - biometry.k_flat_d)
    return Unknown.NOT_RECORDED


def age_at(patient: Patient, on: date) -> int | Unknown:
    """Return the age in whole years on a day.

    Examples
    --------
    >>> age_at(Patient("demo", born=date(1946, 5, 2)), date(2026, 5, 1))
    79
    """
    born = patient.born
    if not isinstance(born, date):
        return Unknown.NOT_RECORDED
    return on.year - born.year - ((on.month, on.day) < (born.month, born.day))


def pupil_class(eye: Eye) -> str | Unknown:
    """Return large (6 mm and more), medium (4 to under 6) or small.

    Examples
    --------
    >>> pupil_class(Eye(side="left", answers={"pupil_dilated_mm": 3.5}))
    'small'
    """
    answer = eye.answer("pupil_dilated_mm")
    width = number(answer)
    if width is None:
        return answer if isinstance(answer, Unknown) else Unknown.NOT_RECORDED
    if width >= PUPIL_LARGE_FROM_MM:
        return "large"
    return "medium" if width >= PUPIL_MEDIUM_FROM_MM else "small"


def brunescent_or_white(eye: Eye) -> bool | Unknown:
    """Tell whether the lens is brown, black or white.

    Examples
    --------
    >>> brunescent_or_white(Eye(side="left", answers={"lens_look": "black"}))
    True
    """
    look = eye.answer("lens_look")
    return look if isinstance(look, Unknown) else look in DENSE_LOOKS


def chamber_depth_mm(eye: Eye) -> float | Unknown:
    """Return the chamber depth [mm] from the front of the cornea to the eye's own lens.

    Of the sitting that a power rests on; not recorded when there was no own lens at the time,
    and unknown when it was asked where the depth begins and nobody knows.

    Examples
    --------
    >>> eye = Eye(
    ...     side="left",
    ...     lens_status="phakic",
    ...     biometry=(
    ...         Biometry(
    ...             anterior_chamber_depth_mm=2.5,
    ...             anterior_chamber_depth_from="endothelium",
    ...             corneal_thickness_um=550.0,
    ...         ),
    ...     ),
    ... )
    >>> chamber_depth_mm(eye)
    3.05
    """
    biometry = deciding_biometry(eye)
    if biometry is None:
        return Unknown.NOT_RECORDED
    measured_as = biometry.measured_as if is_known(biometry.measured_as) else eye.lens_status
    depth, thickness = biometry.anterior_chamber_depth_mm, biometry.corneal_thickness_um
    if measured_as != "phakic":
        return Unknown.NOT_RECORDED
    origin = _depth_from(biometry)
    if isinstance(origin, Unknown) or not is_known(depth) or origin != "endothelium":
        return origin if isinstance(origin, Unknown) else depth
    return depth + thickness / 1000.0 if is_known(thickness) else thickness


def acd_asymmetry_mm(case: Case) -> float | Unknown:
    """Return right minus left chamber depth [mm]: both phakic, both by one definition.

    Examples
    --------
    >>> from zonule.findings.records import Aim
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), Eye(side="left"))
    >>> acd_asymmetry_mm(case)
    <Unknown.NOT_RECORDED: 'not_recorded'>
    """
    eyes = (case.right, case.left)
    if any(eye.lens_status != "phakic" for eye in eyes):
        return Unknown.NOT_RECORDED
    right, left = (deciding_biometry(eye) or Biometry() for eye in eyes)
    depths = right.anterior_chamber_depth_mm, left.anterior_chamber_depth_mm
    if is_known(depths[0]) and is_known(depths[1]) and _depth_from(right) == _depth_from(left):
        return depths[0] - depths[1]
    return Unknown.NOT_RECORDED


def _depth_from(biometry: Biometry) -> str | Unknown:
    """Return where the depth was measured from; not recorded reads as the usual definition."""
    origin = biometry.anterior_chamber_depth_from
    return "epithelium" if origin is Unknown.NOT_RECORDED else origin


def operated(eye: Eye) -> bool | Unknown:
    """Tell whether an eye has had its lens operated.

    Examples
    --------
    >>> operated(Eye(side="left", lens_status="phakic"))
    False
    """
    if eye.operation is not None or eye.lens_status in ("pseudophakic", "aphakic"):
        return True
    return eye.lens_status if isinstance(eye.lens_status, Unknown) else False


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


_FELLOW: Final[dict[str, Callable[[Eye], Answer]]] = {
    "fellow_pcr": fellow_pcr,
    "fellow_iol_place": fellow_iol_place,
    "fellow_zonule_event": _event("zonular_event"),
    "fellow_floppy_iris": _event("floppy_iris"),
    "fellow_sch": _event("suprachoroidal_haemorrhage"),
    "fellow_cmo": _event("cystoid_oedema"),
    "fellow_cornea_failed": _event("cornea_failed"),
    "fellow_note_seen": _event("note_seen"),
}
_BIOMETRY_NAME: Final = {"cct_um": "corneal_thickness_um", "wtw_mm": "white_to_white_mm"}


def facts_of(case: Case, side: Side) -> Callable[[str], Answer]:
    """Return a lookup of everything known of one eye and its patient, by name.

    Examples
    --------
    >>> from zonule.findings.records import Aim
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
    >>> from zonule.findings.records import Aim
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
    if name in _FELLOW:
        return _FELLOW[name](case.eye(other_side(side)))
    worked_out: dict[str, Callable[[], Answer]] = {
        "lens_status": lambda: eye.lens_status,
        "age": lambda: _age(case, on),
        "acd_asymmetry_mm": lambda: acd_asymmetry_mm(case),
        "acd_mm": lambda: chamber_depth_mm(eye),
        "pupil_class": lambda: pupil_class(eye),
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


def old_refraction_d(eye: Eye) -> float | Unknown:
    """Return the spherical equivalent of the old refraction [D].

    Examples
    --------
    >>> old_refraction_d(
    ...     Eye(
    ...         side="left",
    ...         answers={"old_refraction_sphere_d": 2.0, "old_refraction_cylinder_d": -1.0},
    ...     )
    ... )
    1.5
    """
    whole = number(eye.answer("old_refraction_spherical_equivalent_d"))
    sphere = number(eye.answer("old_refraction_sphere_d"))
    if whole is not None:
        return whole
    cylinder = number(eye.answer("old_refraction_cylinder_d"))
    if sphere is None or cylinder is None:
        return Unknown.NOT_RECORDED
    return sphere + cylinder / 2.0
