"""What is never entered: worked out from the record, with unknown kept unknown.

Everything called ``fellow_*`` comes from the other eye's own record; a fellow eye that was never
operated answers "no" to what can only happen in an operation.
"""

from __future__ import annotations

from datetime import date
from typing import Final

from zonule.findings.answers import Unknown, is_known, number
from zonule.findings.density import DENSE_LOOKS
from zonule.findings.records import Biometry, Case, Eye, Patient

PUPIL_LARGE_FROM_MM: Final = 6.0
PUPIL_MEDIUM_FROM_MM: Final = 4.0
"""Assumption: the cuts of the paper that uses the classes were not seen."""

_METHOD_RANK: Final = {"ultrasound_immersion": 1, "ultrasound_contact": 2}


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
    if measured_as != "phakic":
        return Unknown.NOT_RECORDED
    return _from_the_front(biometry)


def depth_in_front_mm(eye: Eye) -> float | Unknown:
    """Return the depth of the chamber [mm] from the front of the cornea, lens or no lens.

    Examples
    --------
    >>> eye = Eye(
    ...     side="left",
    ...     lens_status="aphakic",
    ...     biometry=(Biometry(anterior_chamber_depth_mm=3.6, measured_as="aphakic"),),
    ... )
    >>> depth_in_front_mm(eye)
    3.6
    """
    return _from_the_front(deciding_biometry(eye))


def _from_the_front(biometry: Biometry | None) -> float | Unknown:
    if biometry is None:
        return Unknown.NOT_RECORDED
    depth, thickness = biometry.anterior_chamber_depth_mm, biometry.corneal_thickness_um
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
        return round(depths[0] - depths[1], 6)
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
