"""Hoffer Q: the chamber depth from a personalised depth, the length and the tangent of K.

References: hoffer1993q (with its errata of 1994 and 2007, not seen). Status: the coefficients
were not seen in print; the whole formula reproduces a printed table from 20 to 32 mm at 42.5 D
(bmj2004webtable) and, with a printed constant, the mean power of 888 eyes
(langenbucher2022constants).
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

SHORTEST_MM: Final = 18.5
LONGEST_MM: Final = 31.0
"""Lengths beyond these count as these, in the chamber depth and nowhere else."""
LENS_PLANE_MM: Final = 0.05
"""From the chamber depth to the plane of the thin lens."""


@np.errstate(all="ignore")
def chamber_depth(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    pacd_mm: ArrayLike,
    chamber_depth_limits_mm: tuple[float, float] | None = None,
) -> Array:
    """Return the predicted depth of the chamber in front of the lens [mm].

    Parameters
    ----------
    axial_length_mm
        Axial length [mm]; limited to 18.5 to 31 mm here, and only here.
    corneal_power_d
        Keratometry of index 1.3375 [D]; its tangent is taken in degrees.
    pacd_mm
        Personalised chamber depth of the lens model [mm].
    chamber_depth_limits_mm
        Lowest and highest depth allowed [mm]; None for no limit. A limit of (2.5, 6.5) is
        remembered from the correction of 2007, which was not seen.

    Returns
    -------
    Array
        Depth [mm], broadcast over the inputs; NaN where an input is not finite.

    Notes
    -----
    Departures from print: none known. References: hoffer1993q, bmj2004webtable.

    Examples
    --------
    >>> long_eye = dict(axial_length_mm=30.0, corneal_power_d=48.0, pacd_mm=5.2)
    >>> round(float(chamber_depth(**long_eye)), 2)
    7.08
    >>> round(float(chamber_depth(**long_eye, chamber_depth_limits_mm=(2.5, 6.5))), 2)
    6.5
    """
    axial_length = np.clip(number(axial_length_mm), SHORTEST_MM, LONGEST_MM)
    short = axial_length <= 23.0
    sign, centre = np.where(short, 1.0, -1.0), np.where(short, 28.0, 23.5)
    depth = number(
        number(pacd_mm)
        + 0.3 * (axial_length - 23.5)
        + _tangent(number(corneal_power_d)) ** 2
        + 0.1 * sign * (23.5 - axial_length) ** 2 * _tangent(0.1 * (centre - axial_length) ** 2)
        - 0.99166
    )
    if chamber_depth_limits_mm is None:
        return depth
    lowest, highest = chamber_depth_limits_mm
    return np.clip(depth, lowest, highest)


def lens_position(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    pacd_mm: ArrayLike,
    chamber_depth_limits_mm: tuple[float, float] | None = None,
) -> Array:
    """Return the predicted effective lens position [mm].

    Parameters, shapes and NaN as in :func:`chamber_depth`, to which 0.05 mm are added.

    Notes
    -----
    Departures from print: none known. References: hoffer1993q.

    Examples
    --------
    >>> found = lens_position(axial_length_mm=23.5, corneal_power_d=43.5, pacd_mm=5.2)
    >>> round(float(found), 2)
    5.16
    """
    depth = chamber_depth(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        pacd_mm=pacd_mm,
        chamber_depth_limits_mm=chamber_depth_limits_mm,
    )
    return depth + LENS_PLANE_MM


def thin_eye(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    pacd_mm: ArrayLike,
    chamber_depth_limits_mm: tuple[float, float] | None = None,
) -> ThinEye:
    """Return the eye as Hoffer Q sees it: corneal power [D], length [mm], lens position [mm].

    Parameters as in :func:`chamber_depth`. Each part is as wide as the inputs it depends on.
    The cornea is the keratometry itself, the length the axial length itself, without limits.

    Notes
    -----
    Departures from print: none known. References: hoffer1993q.

    Examples
    --------
    >>> eye = thin_eye(axial_length_mm=23.5, corneal_power_d=43.5, pacd_mm=5.2)
    >>> [round(float(part), 2) for part in eye]
    [43.5, 23.5, 5.16]
    """
    position = lens_position(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        pacd_mm=pacd_mm,
        chamber_depth_limits_mm=chamber_depth_limits_mm,
    )
    return ThinEye(number(corneal_power_d), number(axial_length_mm), position)


def lens_power(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    target_refraction_d: ArrayLike,
    pacd_mm: ArrayLike,
    chamber_depth_limits_mm: tuple[float, float] | None = None,
) -> Array:
    """Return the lens power for a target refraction [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, pacd_mm, chamber_depth_limits_mm
        As in :func:`chamber_depth`.
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D].

    Notes
    -----
    Departures from print: none known. References: hoffer1993q, bmj2004webtable.

    Examples
    --------
    A printed table gives 34.6, 13.8 and −1.2 D for an A constant of 118.

    >>> power = lens_power(
    ...     axial_length_mm=[20.0, 26.0, 32.0],
    ...     corneal_power_d=42.5,
    ...     target_refraction_d=0.0,
    ...     pacd_mm=4.965,
    ... )
    >>> power.round(1).tolist()
    [34.6, 13.8, -1.2]
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        pacd_mm=pacd_mm,
        chamber_depth_limits_mm=chamber_depth_limits_mm,
    )
    return power_for(eye, target_refraction_d=target_refraction_d)


def refraction(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    pacd_mm: ArrayLike,
    chamber_depth_limits_mm: tuple[float, float] | None = None,
) -> Array:
    """Return the predicted refraction with a given lens, spectacle plane [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, pacd_mm, chamber_depth_limits_mm
        As in :func:`chamber_depth`.
    lens_power_d
        Power of the lens [D].

    Notes
    -----
    Departures from print: none known. References: hoffer1993q.

    Examples
    --------
    >>> left_over = refraction(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, pacd_mm=5.2
    ... )
    >>> round(float(left_over), 2)
    -0.66
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        pacd_mm=pacd_mm,
        chamber_depth_limits_mm=chamber_depth_limits_mm,
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
        As in :func:`chamber_depth`.
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
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, refraction_d=-0.658
    ... )
    >>> round(float(found), 2)
    5.16
    """
    return position_behind(
        corneal_power_d=corneal_power_d,
        length_mm=axial_length_mm,
        lens_power_d=lens_power_d,
        refraction_d=refraction_d,
    )


def _tangent(degrees: Array) -> Array:
    return np.tan(np.deg2rad(degrees))
