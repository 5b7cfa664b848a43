"""Conversions between the constants of the formulas: starting values only.

They come from the ultrasound era. A converted constant may open a file; it must never sign a
plan: each formula deserves a constant found with that formula, on eyes measured as this one
was.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.optics.thin_lens import Array
from zonule.formulas.power.from_thin_eye import number


@np.errstate(all="ignore")
def a_to_srkt_acd(*, a_constant: ArrayLike) -> Array:
    """Return SRK/T's own chamber-depth constant [mm] from an A constant.

    Part of SRK/T and T2, not a starting value. Status: confirmed as part of the whole formula,
    which reproduces a printed table. References: retzlaff1990srkt, bmj2004webtable.

    Notes
    -----
    Departures from print: none.

    Examples
    --------
    >>> round(float(a_to_srkt_acd(a_constant=118.4)), 3)
    5.214
    """
    return number(0.62467 * number(a_constant) - 68.747)


@np.errstate(all="ignore")
def a_to_surgeon_factor(*, a_constant: ArrayLike) -> Array:
    """Return a starting surgeon factor [mm] for Holladay 1 from an A constant.

    Starting values only. Status: memory; agrees with the other two conversions to the printed
    digit. References: holladay1988three.

    Notes
    -----
    Departures from print: none.

    Examples
    --------
    >>> round(float(a_to_surgeon_factor(a_constant=118.4)), 2)
    1.45
    """
    return number(0.5663 * number(a_constant) - 65.60)


@np.errstate(all="ignore")
def a_to_pacd(*, a_constant: ArrayLike) -> Array:
    """Return a starting personalised chamber depth [mm] for Hoffer Q from an A constant.

    Starting values only. Status: confirmed as part of the whole formula, which reproduces a
    printed table that gives the A constant. References: hoffer1993q, bmj2004webtable.

    Notes
    -----
    Departures from print: none.

    Examples
    --------
    >>> round(float(a_to_pacd(a_constant=118.4)), 3)
    5.199
    """
    return number(0.58357 * number(a_constant) - 63.896)


@np.errstate(all="ignore")
def pacd_to_surgeon_factor(*, pacd_mm: ArrayLike) -> Array:
    """Return a starting surgeon factor [mm] from a personalised chamber depth [mm].

    Starting values only. Status: memory; agrees with the other two conversions to the printed
    digit. References: holladay1988three.

    Notes
    -----
    Departures from print: none.

    Examples
    --------
    >>> round(float(pacd_to_surgeon_factor(pacd_mm=5.199)), 2)
    1.45
    """
    return number(0.9704 * number(pacd_mm) - 3.595)


@np.errstate(all="ignore")
def a_to_haigis_a0(*, a_constant: ArrayLike) -> Array:
    """Return a starting a0 [mm] for Haigis, to go with a1 = 0.4 and a2 = 0.1.

    Starting values only, and poor ones: in an average eye (23.5 mm, 44 D, chamber 3.1 mm) this
    a0 asks for 0.84 D more than SRK/T with the same A constant. Status: memory.
    References: haigis2000immersion.

    Notes
    -----
    Departures from print: none.

    Examples
    --------
    >>> round(float(a_to_haigis_a0(a_constant=118.4)), 3)
    1.527
    """
    return number(0.62467 * number(a_constant) - 72.434)
