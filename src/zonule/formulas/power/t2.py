"""T2: SRK/T with its corneal height replaced by a regression, and so without its cusp.

References: sheard2010t2. Status of the coefficients: memory; no printed example of the whole
formula was found.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.optics.thin_lens import Array, ThinEye
from zonule.formulas.power.from_thin_eye import (
    number,
    position_behind,
    power_for,
    refraction_with,
)
from zonule.formulas.power.srkt_eye import (
    corneal_power,
    eye_from_position,
    optical_length,
    position_from_height,
)


@np.errstate(all="ignore")
def lens_position(
    *, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike, a_constant: ArrayLike
) -> Array:
    """Return the predicted effective lens position [mm].

    Parameters
    ----------
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].
    a_constant
        A constant, the same as for SRK/T.

    Returns
    -------
    Array
        Distance from the cornea to the thin lens [mm], broadcast over the inputs; NaN where an
        input is not finite.

    Notes
    -----
    The height is −10.326 + 0.32630 AL + 0.13533 K. Departures from print: none known; the
    coefficients are unverified. References: sheard2010t2.

    Examples
    --------
    >>> found = lens_position(axial_length_mm=28.0, corneal_power_d=47.0, a_constant=118.4)
    >>> round(float(found), 2)
    7.05
    """
    height = -10.326 + 0.32630 * number(axial_length_mm) + 0.13533 * number(corneal_power_d)
    return position_from_height(corneal_height_mm=height, a_constant=a_constant)


def thin_eye(
    *, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike, a_constant: ArrayLike
) -> ThinEye:
    """Return the eye as T2 sees it: corneal power [D], length [mm], lens position [mm].

    Parameters as in :func:`lens_position`. Each part is as wide as the inputs it depends on.

    Notes
    -----
    Departures from print: none. References: sheard2010t2.

    Examples
    --------
    >>> eye = thin_eye(axial_length_mm=23.5, corneal_power_d=43.5, a_constant=118.4)
    >>> [round(float(part), 2) for part in eye]
    [42.92, 23.68, 5.11]
    """
    position = lens_position(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d, a_constant=a_constant
    )
    return eye_from_position(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        lens_position_mm=position,
    )


def lens_power(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    target_refraction_d: ArrayLike,
    a_constant: ArrayLike,
) -> Array:
    """Return the lens power for a target refraction [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, a_constant
        As in :func:`lens_position`.
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D].

    Notes
    -----
    Departures from print: none. References: sheard2010t2.

    Examples
    --------
    >>> power = lens_power(
    ...     axial_length_mm=28.0, corneal_power_d=47.0, target_refraction_d=0.0, a_constant=118.4
    ... )
    >>> round(float(power), 2)
    2.1
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d, a_constant=a_constant
    )
    return power_for(eye, target_refraction_d=target_refraction_d)


def refraction(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    a_constant: ArrayLike,
) -> Array:
    """Return the predicted refraction with a given lens, spectacle plane [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, a_constant
        As in :func:`lens_position`.
    lens_power_d
        Power of the lens [D].

    Notes
    -----
    Departures from print: none. References: sheard2010t2.

    Examples
    --------
    >>> left_over = refraction(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, a_constant=118.4
    ... )
    >>> round(float(left_over), 2)
    -0.64
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d, a_constant=a_constant
    )
    return refraction_with(eye, lens_power_d=lens_power_d)


def position_from_outcome(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    refraction_d: ArrayLike,
) -> Array:
    """Return the lens position [mm] that explains an outcome, under T2's cornea and length.

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
    Departures from print: not printed; own_derivation.

    Examples
    --------
    >>> found = position_from_outcome(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, refraction_d=-0.644
    ... )
    >>> round(float(found), 2)
    5.11
    """
    return position_behind(
        corneal_power_d=corneal_power(corneal_power_d=corneal_power_d),
        length_mm=optical_length(axial_length_mm=axial_length_mm),
        lens_power_d=lens_power_d,
        refraction_d=refraction_d,
    )
