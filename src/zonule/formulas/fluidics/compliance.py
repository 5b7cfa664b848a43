"""How much the globe gives for a change of pressure: three laws, none of them this patient's.

Departures from print: none known; constants are arguments, and two of the three laws have theirs
from memory. References: werff1981rigidity, friedenwald1937rigidity, silver2000volume.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.fluidics.units import Array, as_array


@np.errstate(all="ignore")
def cube_root_law_ul_per_mmhg(*, pressure_mmhg: ArrayLike, k_per_ul: ArrayLike) -> Array:
    """Return the compliance of the law with one parameter, dV = (P2^⅓ − P1^⅓) / k [µL/mmHg].

    Parameters
    ----------
    pressure_mmhg
        Pressure [mmHg].
    k_per_ul
        Its parameter [mmHg^⅓/µL].

    Examples
    --------
    >>> cube_root_law_ul_per_mmhg(pressure_mmhg=[15, 70], k_per_ul=0.03).round(2)
    array([1.83, 0.65])
    """
    pressure = as_array(pressure_mmhg)
    return as_array(np.cbrt(pressure) / (3.0 * as_array(k_per_ul) * pressure))


def cube_root_law_volume_ul(
    *, from_mmhg: ArrayLike, to_mmhg: ArrayLike, k_per_ul: ArrayLike
) -> Array:
    """Return the volume that a change of pressure takes in, by the same law [µL].

    Parameters
    ----------
    from_mmhg, to_mmhg
        Pressures [mmHg].
    k_per_ul
        Its parameter [mmHg^⅓/µL].

    Examples
    --------
    >>> round(float(cube_root_law_volume_ul(from_mmhg=31.4, to_mmhg=55.17, k_per_ul=0.03)), 1)
    21.7
    """
    change = np.cbrt(as_array(to_mmhg)) - np.cbrt(as_array(from_mmhg))
    return as_array(change / as_array(k_per_ul))


@np.errstate(all="ignore")
def logarithmic_law_ul_per_mmhg(
    *, pressure_mmhg: ArrayLike, rigidity_log10_per_ul: ArrayLike
) -> Array:
    """Return the compliance of the logarithmic law, log10(P2/P1) = K dV [µL/mmHg].

    Parameters
    ----------
    pressure_mmhg
        Pressure [mmHg].
    rigidity_log10_per_ul
        Its rigidity, K [1/µL].

    Examples
    --------
    >>> logarithmic_law_ul_per_mmhg(pressure_mmhg=[15, 70], rigidity_log10_per_ul=0.0215).round(2)
    array([1.35, 0.29])
    """
    rigidity = as_array(rigidity_log10_per_ul) * np.log(10.0)
    return as_array(1.0 / (rigidity * as_array(pressure_mmhg)))


@np.errstate(all="ignore")
def living_eye_law_ul_per_mmhg(
    *, pressure_mmhg: ArrayLike, volume_ul: ArrayLike, c0: ArrayLike, c1_per_mmhg: ArrayLike
) -> Array:
    """Return the compliance of the law for living eyes, dV = V (C + C0 ln P + C1 P) [µL/mmHg].

    Parameters
    ----------
    pressure_mmhg
        Pressure [mmHg].
    volume_ul
        Volume of the eye, V [µL].
    c0, c1_per_mmhg
        Its constants; C drops out.

    Examples
    --------
    >>> living_eye_law_ul_per_mmhg(
    ...     pressure_mmhg=[15, 70], volume_ul=6500, c0=4.87e-3, c1_per_mmhg=3.89e-5).round(2)
    array([2.36, 0.71])
    """
    slope = as_array(c0) / as_array(pressure_mmhg) + as_array(c1_per_mmhg)
    return as_array(as_array(volume_ul) * slope)
