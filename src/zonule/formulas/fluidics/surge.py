"""How low the chamber can fall when a blocked tip clears, at worst, and the vacuum that allows it.

At worst the aspiration line is so soft that it keeps its whole vacuum while fluid rushes through:
the chamber then lies between the infusion and the line as between two resistances. The true
lowest pressure lies above this floor; how far depends on the line, its venting and the pump, which
nothing here knows. With b = 0 and r = Ri / Ra: floor = (Pb − r V) / (1 + r), and
highest vacuum = (Pb − P (1 + r)) / r. Departures from print: nothing was printed; a divider of
pressures, with the square part of the way in. References: own_derivation, yalamanchili2025surge
(direction).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.fluidics.steady import flow_for_drop_ml_min
from zonule.formulas.fluidics.units import Array, as_array


@np.errstate(all="ignore")
def floor_mmhg(
    *,
    height_pressure_mmhg: ArrayLike,
    vacuum_mmhg: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    aspiration_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
) -> Array:
    """Return the lowest pressure in the chamber that a vacuum can bring at worst [mmHg].

    Parameters
    ----------
    height_pressure_mmhg
        Pressure of the height above the eye, Pb [mmHg].
    vacuum_mmhg
        Vacuum in the line when the tip clears, V, as a positive number [mmHg].
    linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2
        Irrigation path: drop = a F + b F².
    aspiration_mmhg_per_ml_min
        Resistance of the aspiration path, Ra [mmHg per mL/min].

    Returns
    -------
    Array
        Negative where the chamber would fall together.

    Examples
    --------
    >>> setup = dict(linear_mmhg_per_ml_min=0.25, aspiration_mmhg_per_ml_min=3.0)
    >>> round(float(floor_mmhg(height_pressure_mmhg=55.167, vacuum_mmhg=400.0, **setup)), 1)
    20.2
    """
    pressure, vacuum = as_array(height_pressure_mmhg), as_array(vacuum_mmhg)
    out = as_array(aspiration_mmhg_per_ml_min)
    flow = flow_for_drop_ml_min(
        drop_mmhg=pressure + vacuum,
        linear_mmhg_per_ml_min=as_array(linear_mmhg_per_ml_min) + out,
        square_mmhg_per_ml2_min2=square_mmhg_per_ml2_min2,
    )
    return as_array(out * flow - vacuum)


@np.errstate(all="ignore")
def highest_vacuum_mmhg(
    *,
    height_pressure_mmhg: ArrayLike,
    allowed_floor_mmhg: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    aspiration_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
) -> Array:
    """Return the highest vacuum whose worst floor is still allowed [mmHg].

    Parameters
    ----------
    height_pressure_mmhg
        Pressure of the height above the eye, Pb [mmHg].
    allowed_floor_mmhg
        Lowest pressure that is allowed in the chamber, P [mmHg].
    linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2, aspiration_mmhg_per_ml_min
        As in :func:`floor_mmhg`.

    Returns
    -------
    Array
        Negative where even no vacuum keeps that floor once the tip is open; NaN where the height
        does not reach it.

    Examples
    --------
    >>> setup = dict(linear_mmhg_per_ml_min=0.25, aspiration_mmhg_per_ml_min=3.0)
    >>> round(float(highest_vacuum_mmhg(
    ...     height_pressure_mmhg=55.167, allowed_floor_mmhg=10.0, **setup)))
    532
    """
    allowed = as_array(allowed_floor_mmhg)
    flow = flow_for_drop_ml_min(
        drop_mmhg=as_array(height_pressure_mmhg) - allowed,
        linear_mmhg_per_ml_min=linear_mmhg_per_ml_min,
        square_mmhg_per_ml2_min2=square_mmhg_per_ml2_min2,
    )
    return as_array(as_array(aspiration_mmhg_per_ml_min) * flow - allowed)


@np.errstate(all="ignore")
def highest_vacuum_log_sd(
    *,
    height_pressure_mmhg: ArrayLike,
    allowed_floor_mmhg: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    irrigation_log_sd: ArrayLike,
    aspiration_log_sd: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
) -> Array:
    """Return the spread of the logarithm of highest vacuum plus allowed floor.

    That sum is the aspiration resistance times the flow at the floor. Where the path is linear
    and both resistances are log-normal it is log-normal, and this is exact.

    Parameters
    ----------
    height_pressure_mmhg, allowed_floor_mmhg, linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2
        As in :func:`highest_vacuum_mmhg`.
    irrigation_log_sd, aspiration_log_sd
        Spread of the logarithm of each resistance.

    Examples
    --------
    >>> round(float(highest_vacuum_log_sd(
    ...     height_pressure_mmhg=55.0, allowed_floor_mmhg=10.0, linear_mmhg_per_ml_min=0.25,
    ...     irrigation_log_sd=0.03, aspiration_log_sd=0.04)), 3)
    0.05
    """
    linear, square = as_array(linear_mmhg_per_ml_min), as_array(square_mmhg_per_ml2_min2)
    flow = flow_for_drop_ml_min(
        drop_mmhg=as_array(height_pressure_mmhg) - as_array(allowed_floor_mmhg),
        linear_mmhg_per_ml_min=linear,
        square_mmhg_per_ml2_min2=square,
    )
    share = (linear + square * flow) / (linear + 2.0 * square * flow)
    return as_array(np.hypot(share * as_array(irrigation_log_sd), as_array(aspiration_log_sd)))
