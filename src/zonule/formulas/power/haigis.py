"""Haigis: the lens position from the measured chamber and the length, with three constants.

References: haigis2000immersion. Status: the equations were not seen in print; with a printed
triple the whole formula asks for the printed mean power of 888 eyes
(langenbucher2022constants, langenbucher2022eyes), and only a corneal index of 1.3315 does so.
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

CORNEAL_INDEX: Final = 1.3315
"""Index of the cornea in this formula."""


@np.errstate(all="ignore")
def lens_position(
    *,
    axial_length_mm: ArrayLike,
    anterior_chamber_depth_mm: ArrayLike,
    a0: ArrayLike,
    a1: ArrayLike,
    a2: ArrayLike,
) -> Array:
    """Return the predicted effective lens position [mm]; keratometry takes no part in it.

    Parameters
    ----------
    axial_length_mm
        Axial length [mm].
    anterior_chamber_depth_mm
        Measured depth from the front of the cornea to the front of the lens [mm]; the cornea is
        included. Not to be used where the lens is loose or swollen.
    a0
        First constant [mm].
    a1, a2
        Weights of the chamber depth and of the axial length.

    Returns
    -------
    Array
        Distance from the cornea to the thin lens [mm], broadcast over the inputs; NaN where an
        input is not finite.

    Notes
    -----
    Departures from print: none known. References: haigis2000immersion.

    Examples
    --------
    >>> found = lens_position(
    ...     axial_length_mm=23.5, anterior_chamber_depth_mm=3.1, a0=-0.5914, a1=0.357, a2=0.197
    ... )
    >>> round(float(found), 2)
    5.14
    """
    chamber = number(a1) * number(anterior_chamber_depth_mm)
    return number(number(a0) + chamber + number(a2) * number(axial_length_mm))


def thin_eye(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    anterior_chamber_depth_mm: ArrayLike,
    a0: ArrayLike,
    a1: ArrayLike,
    a2: ArrayLike,
) -> ThinEye:
    """Return the eye as Haigis sees it: corneal power [D], length [mm], lens position [mm].

    Parameters as in :func:`lens_position`, with keratometry of index 1.3375 [D]. Each part is
    as wide as the inputs it depends on.

    Notes
    -----
    Departures from print: none known. References: haigis2000immersion.

    Examples
    --------
    >>> eye = thin_eye(
    ...     axial_length_mm=23.5,
    ...     corneal_power_d=43.5,
    ...     anterior_chamber_depth_mm=3.1,
    ...     a0=-0.5914,
    ...     a1=0.357,
    ...     a2=0.197,
    ... )
    >>> [round(float(part), 2) for part in eye]
    [42.73, 23.5, 5.14]
    """
    position = lens_position(
        axial_length_mm=axial_length_mm,
        anterior_chamber_depth_mm=anterior_chamber_depth_mm,
        a0=a0,
        a1=a1,
        a2=a2,
    )
    return ThinEye(_corneal_power(corneal_power_d), number(axial_length_mm), position)


def lens_power(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    target_refraction_d: ArrayLike,
    anterior_chamber_depth_mm: ArrayLike,
    a0: ArrayLike,
    a1: ArrayLike,
    a2: ArrayLike,
) -> Array:
    """Return the lens power for a target refraction [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, anterior_chamber_depth_mm, a0, a1, a2
        As in :func:`thin_eye`.
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D].

    Notes
    -----
    Departures from print: none known. References: haigis2000immersion,
    langenbucher2022constants.

    Examples
    --------
    >>> power = lens_power(
    ...     axial_length_mm=23.5,
    ...     corneal_power_d=43.5,
    ...     target_refraction_d=0.0,
    ...     anterior_chamber_depth_mm=3.1,
    ...     a0=-0.5914,
    ...     a1=0.357,
    ...     a2=0.197,
    ... )
    >>> round(float(power), 2)
    21.64
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        anterior_chamber_depth_mm=anterior_chamber_depth_mm,
        a0=a0,
        a1=a1,
        a2=a2,
    )
    return power_for(eye, target_refraction_d=target_refraction_d)


def refraction(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    anterior_chamber_depth_mm: ArrayLike,
    a0: ArrayLike,
    a1: ArrayLike,
    a2: ArrayLike,
) -> Array:
    """Return the predicted refraction with a given lens, spectacle plane [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, anterior_chamber_depth_mm, a0, a1, a2
        As in :func:`thin_eye`.
    lens_power_d
        Power of the lens [D].

    Notes
    -----
    Departures from print: none known. References: haigis2000immersion.

    Examples
    --------
    >>> left_over = refraction(
    ...     axial_length_mm=23.5,
    ...     corneal_power_d=43.5,
    ...     lens_power_d=21.5,
    ...     anterior_chamber_depth_mm=3.1,
    ...     a0=-0.5914,
    ...     a1=0.357,
    ...     a2=0.197,
    ... )
    >>> round(float(left_over), 2)
    0.1
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        anterior_chamber_depth_mm=anterior_chamber_depth_mm,
        a0=a0,
        a1=a1,
        a2=a2,
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
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].
    lens_power_d
        Power of the implanted lens [D]; within 3 D of zero the answer is worth little.
    refraction_d
        Settled spherical equivalent at the spectacle plane [D].

    Notes
    -----
    Departures from print: not printed; own_derivation.

    Examples
    --------
    >>> found = position_from_outcome(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, refraction_d=0.101
    ... )
    >>> round(float(found), 2)
    5.14
    """
    return position_behind(
        corneal_power_d=_corneal_power(corneal_power_d),
        length_mm=axial_length_mm,
        lens_power_d=lens_power_d,
        refraction_d=refraction_d,
    )


def _corneal_power(corneal_power_d: ArrayLike) -> Array:
    radius_mm = radius_mm_from_power(corneal_power_d=corneal_power_d)
    return power_from_radius(radius_mm=radius_mm, index=CORNEAL_INDEX)
