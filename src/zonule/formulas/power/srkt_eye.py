"""What SRK/T and T2 share: the cornea, the optical length, the step from height to position.

T2 replaces the corneal height of SRK/T and nothing else, so everything else stands here once.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.optics.thin_lens import Array, ThinEye
from zonule.formulas.power.constants import a_to_srkt_acd
from zonule.formulas.power.from_thin_eye import number
from zonule.formulas.power.keratometry import power_from_radius, radius_mm_from_power

CORNEAL_INDEX: Final = 1.333
"""Index of the cornea in both formulas."""
OFFSET_MM: Final = 3.336
"""Taken off the chamber-depth constant to get from the iris plane to the lens plane."""


def corneal_power(*, corneal_power_d: ArrayLike) -> Array:
    """Return the cornea as SRK/T and T2 count it [D], from keratometry of index 1.3375 [D].

    Examples
    --------
    >>> round(float(corneal_power(corneal_power_d=45.0)), 2)
    44.4
    """
    radius_mm = radius_mm_from_power(corneal_power_d=corneal_power_d)
    return power_from_radius(radius_mm=radius_mm, index=CORNEAL_INDEX)


@np.errstate(all="ignore")
def optical_length(*, axial_length_mm: ArrayLike) -> Array:
    """Return the axial length with the retina's thickness added [mm].

    Examples
    --------
    >>> round(float(optical_length(axial_length_mm=23.5)), 3)
    23.68
    """
    axial_length = number(axial_length_mm)
    return number(axial_length + 0.65696 - 0.02029 * axial_length)


@np.errstate(all="ignore")
def position_from_height(*, corneal_height_mm: ArrayLike, a_constant: ArrayLike) -> Array:
    """Return the lens position [mm] from the height of the corneal dome [mm].

    Examples
    --------
    >>> found = position_from_height(corneal_height_mm=3.4, a_constant=118.4)
    >>> round(float(found), 3)
    5.278
    """
    depth_constant = a_to_srkt_acd(a_constant=a_constant)
    return number(number(corneal_height_mm) + depth_constant - OFFSET_MM)


def eye_from_position(
    *, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike, lens_position_mm: ArrayLike
) -> ThinEye:
    """Return the thin-lens eye around a lens position [mm].

    Examples
    --------
    >>> eye = eye_from_position(axial_length_mm=23.5, corneal_power_d=45.0, lens_position_mm=5.2)
    >>> round(float(eye.corneal_power_d), 2), round(float(eye.length_mm), 2)
    (44.4, 23.68)
    """
    return ThinEye(
        corneal_power_d=corneal_power(corneal_power_d=corneal_power_d),
        length_mm=optical_length(axial_length_mm=axial_length_mm),
        lens_position_mm=np.asarray(lens_position_mm, dtype=np.float64),
    )
