"""From the eye a formula makes to the numbers a person asks for.

The five formulas differ in the cornea, the length and the lens position they hand over; here
the same vergence answers for all of them. Whatever is not finite on its way in or out becomes
NaN, so that no formula has to guard itself.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.optics import thin_lens
from zonule.formulas.optics.thin_lens import VERTEX_M, Array, ThinEye


def number(values: ArrayLike) -> Array:
    """Return values as floats, with NaN for everything that is not finite.

    Examples
    --------
    >>> number([23.5, float("inf")])
    array([23.5,  nan])
    """
    array = np.asarray(values, dtype=np.float64)
    return np.where(np.isfinite(array), array, np.nan)


def power_for(eye: ThinEye, *, target_refraction_d: ArrayLike) -> Array:
    """Return the lens power [D] that leaves this eye with a target refraction.

    Parameters
    ----------
    eye
        The eye as a formula sees it.
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D]; broadcasts against the
        eye. A target of +83.3 D or more lies beyond the pole of the vertex rule and gives NaN.

    Examples
    --------
    >>> eye = ThinEye(np.array(43.0), np.array(23.5), np.array(5.2))
    >>> round(float(power_for(eye, target_refraction_d=0.0)), 2)
    21.36
    """
    target = number(target_refraction_d)
    with np.errstate(all="ignore"):
        reachable = np.where(target < 1.0 / VERTEX_M, target, np.nan)
        return number(
            thin_lens.lens_power(
                corneal_power_d=eye.corneal_power_d,
                length_mm=eye.length_mm,
                lens_position_mm=eye.lens_position_mm,
                target_refraction_d=reachable,
            )
        )


def refraction_with(eye: ThinEye, *, lens_power_d: ArrayLike) -> Array:
    """Return the refraction [D] at the spectacle plane that a given lens leaves.

    Parameters
    ----------
    eye
        The eye as a formula sees it.
    lens_power_d
        Power of the lens [D]; broadcasts against the eye. A lens so strong that no spectacle
        lens at 12 mm could correct the eye (below −83.3 D at the cornea) gives NaN.

    Examples
    --------
    >>> eye = ThinEye(np.array(43.0), np.array(23.5), np.array(5.2))
    >>> round(float(refraction_with(eye, lens_power_d=22.0)), 2)
    -0.45
    """
    with np.errstate(all="ignore"):
        found = thin_lens.refraction(
            corneal_power_d=eye.corneal_power_d,
            length_mm=eye.length_mm,
            lens_position_mm=eye.lens_position_mm,
            lens_power_d=number(lens_power_d),
        )
        return number(np.where(found < 1.0 / VERTEX_M, found, np.nan))


def position_behind(
    *,
    corneal_power_d: ArrayLike,
    length_mm: ArrayLike,
    lens_power_d: ArrayLike,
    refraction_d: ArrayLike,
) -> Array:
    """Return the lens position [mm] that explains an outcome, NaN where none does.

    Parameters
    ----------
    corneal_power_d, length_mm
        The formula's own cornea [D] and length [mm].
    lens_power_d
        Power of the implanted lens [D]. Below about 3 D either way the answer is worth little.
    refraction_d
        Settled spherical equivalent at the spectacle plane [D]. Where it exceeds the cornea
        itself (myopia beyond −45 D even with a cornea of 30 D) the answer is NaN.

    Examples
    --------
    >>> found = position_behind(
    ...     corneal_power_d=43.0, length_mm=23.5, lens_power_d=22.0, refraction_d=-0.45
    ... )
    >>> round(float(found), 1)
    5.2
    """
    cornea, outcome = number(corneal_power_d), number(refraction_d)
    with np.errstate(all="ignore"):
        found = thin_lens.lens_position(
            corneal_power_d=cornea,
            length_mm=number(length_mm),
            lens_power_d=number(lens_power_d),
            refraction_d=outcome,
        )
    return number(found)
