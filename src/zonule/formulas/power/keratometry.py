"""Keratometer readings: every index goes through the radius.

A keratometer measures a radius and prints a power under an index of its own. The formulas take
dioptres of index 1.3375; a reading under another index comes in through :func:`to_index_1_3375`.
Unconverted, a reading of index 1.332 is 0.7 D wrong.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.optics.thin_lens import Array
from zonule.formulas.power.from_thin_eye import number

KERATOMETER_INDEX: Final = 1.3375
"""7.5 mm reads 45 D."""


def radius_mm_from_power(
    *, corneal_power_d: ArrayLike, index: ArrayLike = KERATOMETER_INDEX
) -> Array:
    """Return the radius of the front of the cornea [mm].

    Parameters
    ----------
    corneal_power_d
        Keratometry [D].
    index
        Index under which the keratometer prints its dioptres.

    Returns
    -------
    Array
        Radius [mm], broadcast over the inputs; NaN where an input is not finite or is zero.

    Notes
    -----
    Departures from print: none. References: shammas2003cornea.

    Examples
    --------
    >>> float(radius_mm_from_power(corneal_power_d=45.0))
    7.5
    """
    with np.errstate(all="ignore"):
        return number((1000.0 * number(index) - 1000.0) / number(corneal_power_d))


def power_from_radius(*, radius_mm: ArrayLike, index: ArrayLike = KERATOMETER_INDEX) -> Array:
    """Return the power [D] that a radius [mm] has under an index.

    The inverse of :func:`radius_mm_from_power`; shapes and NaN as there.

    Notes
    -----
    Departures from print: none. References: shammas2003cornea.

    Examples
    --------
    >>> float(power_from_radius(radius_mm=7.5))
    45.0
    """
    with np.errstate(all="ignore"):
        return number((1000.0 * number(index) - 1000.0) / number(radius_mm))


def to_index_1_3375(*, power_d: ArrayLike, index: ArrayLike) -> Array:
    """Return a reading of another index in dioptres of index 1.3375.

    Parameters
    ----------
    power_d
        Power as the instrument prints it [D].
    index
        The instrument's index.

    Notes
    -----
    Departures from print: none. References: own_derivation.

    Examples
    --------
    >>> round(float(to_index_1_3375(power_d=43.0, index=1.332)), 2)
    43.71
    """
    radius_mm = radius_mm_from_power(corneal_power_d=power_d, index=index)
    return power_from_radius(radius_mm=radius_mm)
