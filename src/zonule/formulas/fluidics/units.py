"""Heights of water as pressures and back, with the machine's zero away from eye level counted in.

The factor is an argument, so that it stands once, in the data. Departures from print: none.
References: basics2012fluidics; the factor follows from the definitions of both units.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

PASCAL_PER_CMH2O: Final = 98.0665
"""By definition, water of 1 g/mL under standard gravity [Pa]."""
PASCAL_PER_MMHG: Final = 133.322387415
"""By definition [Pa]."""


def as_array(value: ArrayLike) -> Array:
    """Return numbers as an array of doubles.

    Examples
    --------
    >>> as_array([1, 2])
    array([1., 2.])
    """
    return np.asarray(value, dtype=np.float64)


def mmhg_from_cm(*, height_cm: ArrayLike, mmhg_per_cmh2o: ArrayLike) -> Array:
    """Return the pressure of a height of water [mmHg].

    Parameters
    ----------
    height_cm
        Height of the fluid level above the point of interest [cm].
    mmhg_per_cmh2o
        Pressure of 1 cm of water [mmHg/cm].

    Examples
    --------
    >>> mmhg_from_cm(height_cm=[75, 150], mmhg_per_cmh2o=0.73556).round(1)
    array([ 55.2, 110.3])
    """
    return as_array(as_array(height_cm) * as_array(mmhg_per_cmh2o))


def cm_from_mmhg(*, pressure_mmhg: ArrayLike, mmhg_per_cmh2o: ArrayLike) -> Array:
    """Return the height of water that has a pressure [cm].

    Parameters
    ----------
    pressure_mmhg
        Pressure [mmHg].
    mmhg_per_cmh2o
        Pressure of 1 cm of water [mmHg/cm].

    Examples
    --------
    >>> round(float(cm_from_mmhg(pressure_mmhg=1.0, mmhg_per_cmh2o=0.73556)), 4)
    1.3595
    """
    return as_array(as_array(pressure_mmhg) / as_array(mmhg_per_cmh2o))


def height_above_the_eye(*, shown_cm: ArrayLike, zero_above_the_eye_cm: ArrayLike) -> Array:
    """Return how high the infusion stands above the eye [cm].

    Parameters
    ----------
    shown_cm
        Height as the machine shows it [cm].
    zero_above_the_eye_cm
        Height of the machine's zero above the eye, negative where it lies below it [cm].

    Examples
    --------
    >>> float(height_above_the_eye(shown_cm=78.0, zero_above_the_eye_cm=-8.0))
    70.0
    """
    return as_array(as_array(shown_cm) + as_array(zero_above_the_eye_cm))


def height_to_set(*, above_the_eye_cm: ArrayLike, zero_above_the_eye_cm: ArrayLike) -> Array:
    """Return the height to set on the machine so that the eye gets a height [cm].

    Parameters
    ----------
    above_the_eye_cm
        Height wanted above the eye [cm].
    zero_above_the_eye_cm
        Height of the machine's zero above the eye, negative where it lies below it [cm].

    Examples
    --------
    >>> float(height_to_set(above_the_eye_cm=70.0, zero_above_the_eye_cm=-8.0))
    78.0
    """
    return as_array(as_array(above_the_eye_cm) - as_array(zero_above_the_eye_cm))
