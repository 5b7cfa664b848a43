"""SRK/T: the lens position from the height of a corneal dome, in long and steep eyes with care.

References: retzlaff1990srkt, aramberri2005reply. Status: the coefficients were not seen in
print; the whole formula reproduces a printed table from 20 to 32 mm at 42.5 D
(bmj2004webtable), and one printed figure fixes the corneal height (aramberri2005reply).

In steep and long eyes the corneal height is the root of a number that falls to zero and below.
Near that cusp the formula misleads; :func:`cusp_flag` says where.
"""

from __future__ import annotations

from typing import Final, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.errors import NoSuchName
from zonule.formulas.optics.thin_lens import Array, ThinEye
from zonule.formulas.power import t2
from zonule.formulas.power.from_thin_eye import (
    number,
    position_behind,
    power_for,
    refraction_with,
)
from zonule.formulas.power.keratometry import radius_mm_from_power
from zonule.formulas.power.srkt_eye import (
    corneal_power,
    eye_from_position,
    optical_length,
    position_from_height,
)

NegativeRadicand = Literal["zero", "absolute"]
"""What is done where the number under the root is negative."""

NEGATIVE_RADICANDS: Final[tuple[NegativeRadicand, ...]] = get_args(NegativeRadicand)
CUSP_DIFFERENCE_D: Final = 0.5
"""Difference from T2 beyond which SRK/T is flagged; an assumption of this program."""


@np.errstate(all="ignore")
def corneal_height_radicand(*, axial_length_mm: ArrayLike, corneal_power_d: ArrayLike) -> Array:
    """Return the number under the root of the corneal height [mm²].

    Parameters
    ----------
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].

    Returns
    -------
    Array
        Radius squared less a quarter of the squared corneal width, broadcast over the inputs;
        negative in steep, long eyes; NaN where an input is not finite.

    Notes
    -----
    The corrected length steps up by 0.0015 mm at 24.2 mm, as printed. Departures from print:
    none; the width is halved before it is squared (aramberri2005reply corrects a reprint that
    omitted this).

    Examples
    --------
    >>> found = corneal_height_radicand(axial_length_mm=[33.1, 33.2], corneal_power_d=45.0)
    >>> found > 0
    array([ True, False])
    """
    axial_length = number(axial_length_mm)
    radius = radius_mm_from_power(corneal_power_d=corneal_power_d)
    corrected = np.where(
        axial_length <= 24.2,
        axial_length,
        -3.446 + 1.716 * axial_length - 0.0237 * axial_length**2,
    )
    width = -5.40948 + 0.58412 * corrected + 0.098 * number(corneal_power_d)
    return number(radius**2 - width**2 / 4.0)


@np.errstate(all="ignore")
def lens_position(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    a_constant: ArrayLike,
    negative_radicand: NegativeRadicand = "zero",
) -> Array:
    """Return the predicted effective lens position [mm].

    Parameters
    ----------
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].
    a_constant
        A constant.
    negative_radicand
        ``zero`` sets a negative number under the root to zero; ``absolute`` drops its sign.
        Both are in use; neither answer deserves trust.

    Returns
    -------
    Array
        Distance from the cornea to the thin lens [mm], broadcast over the inputs; NaN where an
        input is not finite.

    Raises
    ------
    NoSuchName
        If ``negative_radicand`` is neither of the two.

    Notes
    -----
    Departures from print: the print does not say what to do where the root fails; see
    ``negative_radicand``. References: retzlaff1990srkt, aramberri2005reply.

    Examples
    --------
    >>> steep = dict(axial_length_mm=28.0, corneal_power_d=47.0, a_constant=118.4)
    >>> round(float(lens_position(**steep)), 2)
    9.06
    >>> round(float(lens_position(**steep, negative_radicand="absolute")), 2)
    8.56
    """
    if negative_radicand not in NEGATIVE_RADICANDS:
        raise NoSuchName("way with a negative radicand", negative_radicand, NEGATIVE_RADICANDS)
    radicand = corneal_height_radicand(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d
    )
    rooted = np.abs(radicand) if negative_radicand == "absolute" else np.maximum(radicand, 0.0)
    height = radius_mm_from_power(corneal_power_d=corneal_power_d) - np.sqrt(rooted)
    return position_from_height(corneal_height_mm=height, a_constant=a_constant)


def thin_eye(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    a_constant: ArrayLike,
    negative_radicand: NegativeRadicand = "zero",
) -> ThinEye:
    """Return the eye as SRK/T sees it: corneal power [D], length [mm], lens position [mm].

    Parameters and errors as in :func:`lens_position`. Each part is as wide as the inputs it
    depends on.

    Notes
    -----
    Departures from print: as in :func:`lens_position`. References: retzlaff1990srkt.

    Examples
    --------
    >>> eye = thin_eye(axial_length_mm=23.5, corneal_power_d=43.5, a_constant=118.4)
    >>> [round(float(part), 2) for part in eye]
    [42.92, 23.68, 5.09]
    """
    position = lens_position(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        a_constant=a_constant,
        negative_radicand=negative_radicand,
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
    negative_radicand: NegativeRadicand = "zero",
) -> Array:
    """Return the lens power for a target refraction [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, a_constant, negative_radicand
        As in :func:`lens_position`, with its errors.
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D].

    Notes
    -----
    Departures from print: as in :func:`lens_position`. References: retzlaff1990srkt,
    bmj2004webtable.

    Examples
    --------
    A printed table gives 32.9, 13.9 and −0.3 D.

    >>> power = lens_power(
    ...     axial_length_mm=[20.0, 26.0, 32.0],
    ...     corneal_power_d=42.5,
    ...     target_refraction_d=0.0,
    ...     a_constant=118.0,
    ... )
    >>> power.round(1).tolist()
    [32.9, 13.9, -0.3]
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        a_constant=a_constant,
        negative_radicand=negative_radicand,
    )
    return power_for(eye, target_refraction_d=target_refraction_d)


def refraction(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    a_constant: ArrayLike,
    negative_radicand: NegativeRadicand = "zero",
) -> Array:
    """Return the predicted refraction with a given lens, spectacle plane [D].

    Parameters
    ----------
    axial_length_mm, corneal_power_d, a_constant, negative_radicand
        As in :func:`lens_position`, with its errors.
    lens_power_d
        Power of the lens [D].

    Notes
    -----
    Departures from print: as in :func:`lens_position`. References: retzlaff1990srkt.

    Examples
    --------
    >>> left_over = refraction(
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, a_constant=118.4
    ... )
    >>> round(float(left_over), 2)
    -0.66
    """
    eye = thin_eye(
        axial_length_mm=axial_length_mm,
        corneal_power_d=corneal_power_d,
        a_constant=a_constant,
        negative_radicand=negative_radicand,
    )
    return refraction_with(eye, lens_power_d=lens_power_d)


def position_from_outcome(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    lens_power_d: ArrayLike,
    refraction_d: ArrayLike,
) -> Array:
    """Return the lens position [mm] that explains an outcome, under SRK/T's cornea and length.

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
    ...     axial_length_mm=23.5, corneal_power_d=43.5, lens_power_d=21.5, refraction_d=-0.662
    ... )
    >>> round(float(found), 2)
    5.09
    """
    return position_behind(
        corneal_power_d=corneal_power(corneal_power_d=corneal_power_d),
        length_mm=optical_length(axial_length_mm=axial_length_mm),
        lens_power_d=lens_power_d,
        refraction_d=refraction_d,
    )


@np.errstate(all="ignore")
def cusp_flag(
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    a_constant: ArrayLike,
    difference_d: float = CUSP_DIFFERENCE_D,
) -> NDArray[np.bool_]:
    """Tell where SRK/T stands on or near its cusp and T2 should be looked at beside it.

    Parameters
    ----------
    axial_length_mm, corneal_power_d, a_constant
        As in :func:`lens_position`.
    difference_d
        Difference between the emmetropic powers of SRK/T and T2 beyond which the eye is
        flagged [D].

    Returns
    -------
    Array of bool
        True where the number under the root is zero or below, or the two formulas differ by
        more than ``difference_d``; broadcast over the inputs. True also where an input is not
        finite: an eye that cannot be judged is not clear of the cusp.

    Notes
    -----
    The radicand alone is a poor flag: the two formulas differ by more than a dioptre in eyes
    whose radicand is well above zero. Departures from print: not printed; own_derivation.

    Examples
    --------
    >>> cusp_flag(axial_length_mm=[23.5, 28.0], corneal_power_d=[43.5, 47.0], a_constant=118.4)
    array([False,  True])
    """
    difference = np.abs(
        lens_power(
            axial_length_mm=axial_length_mm,
            corneal_power_d=corneal_power_d,
            target_refraction_d=0.0,
            a_constant=a_constant,
        )
        - t2.lens_power(
            axial_length_mm=axial_length_mm,
            corneal_power_d=corneal_power_d,
            target_refraction_d=0.0,
            a_constant=a_constant,
        )
    )
    radicand = corneal_height_radicand(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d
    )
    clear = (radicand > 0.0) & (difference <= difference_d)
    return ~np.asarray(clear)
