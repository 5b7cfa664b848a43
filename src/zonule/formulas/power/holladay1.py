"""Holladay 1: the anatomical chamber depth from the corneal dome, plus a surgeon factor.

References: holladay1988three. Status: the coefficients were not seen in print; with a printed
surgeon factor the whole formula asks for the printed mean power of 888 eyes
(langenbucher2022constants, langenbucher2022eyes), which tests the mean and not the slopes.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.optics.thin_lens import Array, ThinEye
from zonule.formulas.power.from_thin_eye import (
    number,
    position_behind,
    power_for,
    refraction_with,
)
from zonule.formulas.power.keratometry import power_from_radius, radius_mm_from_power

CORNEAL_INDEX: Final = 4.0 / 3.0
"""Index of the cornea in this formula."""
RETINA_MM: Final = 0.2
"""Thickness of the retina, added to the axial length."""


@np.errstate(all="ignore")
def anatomical_chamber_depth(*, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike) -> Array:
    """Return the depth of the anterior chamber that the formula expects [mm].

    Parameters
    ----------
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].

    Returns
    -------
    Array
        Depth [mm], broadcast over the inputs; NaN where an input is not finite.

    Notes
    -----
    Radii below 7 mm count as 7 mm (steeper than 48.2 D); the width of the chamber stops growing
    at 13.5 mm (longer than 25.33 mm). Departures from print: none. References:
    holladay1988three.

    Examples
    --------
    >>> found = anatomical_chamber_depth(axial_length_mm=23.5, corneal_power_d=43.5)
    >>> round(float(found), 2)
    3.74
    """
    radius = np.maximum(radius_mm_from_power(corneal_power_d=corneal_power_d), 7.0)
    width = np.minimum(12.5 * number(axial_length_mm) / 23.45, 13.5)
    return number(0.56 + radius - np.sqrt(radius**2 - width**2 / 4.0))


@np.errstate(all="ignore")
def lens_position(
    *, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike, surgeon_factor: ArrayLike
) -> Array:
    """Return the predicted effective lens position [mm].

    Parameters
    ----------
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].
    surgeon_factor
        Distance from the plane of the iris to the lens [mm].

    Returns
    -------
    Array
        Distance from the cornea to the thin lens [mm], broadcast over the inputs; NaN where an
        input is not finite.

    Notes
    -----
    Departures from print: none. References: holladay1988three.

    Examples
    --------
    >>> found = lens_position(axial_length_mm=23.5, corneal_power_d=43.5, surgeon_factor=1.45)
    >>> round(float(found), 2)
    5.19
    """
    depth = anatomical_chamber_depth(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d
    )
    return number(depth + number(surgeon_factor))


def thin_eye(
    *, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike, surgeon_factor: ArrayLike
) -> ThinEye:
    """Return the eye as Holladay 1 sees it: corneal power [D], length [mm], lens position [mm].

    Parameters as in :func:`lens_position`. Each part is as wide as the inputs it depends on.

    Notes
    -----
    Departures from print: none. References: holladay1988three.

    Examples
    --------
    >>> eye = thin_eye(axial_length_mm=23.5, corneal_power_d=43.5, surgeon_factor=1.45)
    >>> [round(float(part), 2) for part in eye]
    [42.96, 23.7, 5.19]
    """
    position = lens_position(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        surgeon_factor=surgeon_factor,
    )
    return ThinEye(
        corneal_power_d=_corneal_power(corneal_power_d),
        length_mm=number(axial_length_mm) + RETINA_MM,
        lens_position_mm=position,
    )


def lens_power(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    target_refraction_d: ArrayLike,
    surgeon_factor: ArrayLike,
) -> Array:
    """Return the lens power for a target refraction [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, surgeon_factor
        As in :func:`lens_position`.
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D].

    Notes
    -----
    Departures from print: none. References: holladay1988three, langenbucher2022constants.

    Examples
    --------
    >>> power = lens_power(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, target_refraction_d=0.0, surgeon_factor=1.45
    ... )
    >>> round(float(power), 2)
    20.61
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        surgeon_factor=surgeon_factor,
    )
    return power_for(eye, target_refraction_d=target_refraction_d)


def refraction(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    surgeon_factor: ArrayLike,
) -> Array:
    """Return the predicted refraction with a given lens, spectacle plane [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, surgeon_factor
        As in :func:`lens_position`.
    lens_power_d
        Power of the lens [D].

    Notes
    -----
    Departures from print: none. References: holladay1988three.

    Examples
    --------
    >>> left_over = refraction(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, surgeon_factor=1.45
    ... )
    >>> round(float(left_over), 2)
    -0.63
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        surgeon_factor=surgeon_factor,
    )
    return refraction_with(eye, lens_power_d=lens_power_d)


def position_from_outcome(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    refraction_d: ArrayLike,
) -> Array:
    """Return the lens position [mm] that explains an outcome, under this cornea and length.

    Parameters
    ----------
    axial_length_mm, corneal_power_d
        As in :func:`lens_position`.
    lens_power_d
        Power of the implanted lens [D]; within 3 D of zero the answer is worth little.
    refraction_d
        Settled spherical equivalent at the spectacle plane [D].

    Notes
    -----
    Less :func:`anatomical_chamber_depth` it is the surgeon factor of that eye. Departures from
    print: closed form instead of a search; own_derivation.

    Examples
    --------
    >>> found = position_from_outcome(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, refraction_d=-0.627
    ... )
    >>> round(float(found), 2)
    5.19
    """
    return position_behind(
        corneal_power_d=_corneal_power(corneal_power_d),
        length_mm=number(axial_length_mm) + RETINA_MM,
        lens_power_d=lens_power_d,
        refraction_d=refraction_d,
    )


def _corneal_power(corneal_power_d: ArrayLike) -> Array:
    radius_mm = radius_mm_from_power(corneal_power_d=corneal_power_d)
    return power_from_radius(radius_mm=radius_mm, index=CORNEAL_INDEX)
