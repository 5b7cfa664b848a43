"""Pressure in the chamber while fluid runs steadily: what the height gives, less what flow costs.

The path of the fluid in costs pressure by a part in proportion to flow (a tube) and one by its
square (an opening): drop = a F + b F². What runs through it is what is aspirated, and what leaks.
With b = 0: P = (Pb − Ri Q) / (1 + Ri g). Departures from print: the square part and the leak are
solved together, in closed form. References: benjamin2018fluidics, seibel_phacodynamics,
jeng2001chamber.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.fluidics.units import Array, as_array


def pressure_drop_mmhg(
    *,
    flow_ml_min: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
) -> Array:
    """Return what a flow costs on its way in [mmHg].

    Parameters
    ----------
    flow_ml_min
        Flow through the irrigation path [mL/min].
    linear_mmhg_per_ml_min
        The part in proportion to flow, a [mmHg per mL/min].
    square_mmhg_per_ml2_min2
        The part by its square, b [mmHg per (mL/min)²].

    Examples
    --------
    >>> float(pressure_drop_mmhg(flow_ml_min=40.0, linear_mmhg_per_ml_min=0.25))
    10.0
    """
    flow = as_array(flow_ml_min)
    linear, square = as_array(linear_mmhg_per_ml_min), as_array(square_mmhg_per_ml2_min2)
    return as_array(linear * flow + square * flow**2)


@np.errstate(all="ignore")
def flow_for_drop_ml_min(
    *,
    drop_mmhg: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
) -> Array:
    """Return the flow that a pressure drives through the irrigation path [mL/min].

    Parameters
    ----------
    drop_mmhg
        Pressure across the path [mmHg].
    linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2
        As in :func:`pressure_drop_mmhg`.

    Returns
    -------
    Array
        NaN where the pressure is negative: no flow of that path has it.

    Examples
    --------
    >>> float(flow_for_drop_ml_min(drop_mmhg=10.0, linear_mmhg_per_ml_min=0.25))
    40.0
    """
    drop = as_array(drop_mmhg)
    linear, square = as_array(linear_mmhg_per_ml_min), as_array(square_mmhg_per_ml2_min2)
    rooted = np.sqrt(linear**2 + 4.0 * square * drop)
    return as_array(np.where(drop < 0.0, np.nan, 2.0 * drop / (linear + rooted)))


@np.errstate(all="ignore")
def chamber_pressure_mmhg(
    *,
    height_pressure_mmhg: ArrayLike,
    flow_ml_min: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
    leak_ml_min_per_mmhg: ArrayLike = 0.0,
) -> Array:
    """Return the pressure in the chamber at a steady flow [mmHg].

    Parameters
    ----------
    height_pressure_mmhg
        Pressure of the height above the eye, Pb [mmHg].
    flow_ml_min
        Flow that is aspirated [mL/min].
    linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2
        As in :func:`pressure_drop_mmhg`.
    leak_ml_min_per_mmhg
        What leaks by the wounds for each mmHg in the chamber, g.

    Returns
    -------
    Array
        Negative where the flow is more than the height can give: the chamber falls together.

    Examples
    --------
    >>> eye = dict(height_pressure_mmhg=55.167, flow_ml_min=25.0, linear_mmhg_per_ml_min=0.25)
    >>> round(float(chamber_pressure_mmhg(**eye)), 2)
    48.92
    >>> round(float(chamber_pressure_mmhg(**eye, leak_ml_min_per_mmhg=0.1)), 2)
    47.72
    """
    pressure, leak = as_array(height_pressure_mmhg), as_array(leak_ml_min_per_mmhg)
    linear, square = as_array(linear_mmhg_per_ml_min), as_array(square_mmhg_per_ml2_min2)
    wanted = as_array(flow_ml_min) + leak * pressure
    slope = 1.0 + leak * linear
    through = 2.0 * wanted / (slope + np.sqrt(slope**2 + 4.0 * leak * square * wanted))
    return as_array(pressure - linear * through - square * through**2)


def height_pressure_for_mmhg(
    *,
    chamber_pressure_mmhg: ArrayLike,
    flow_ml_min: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
    leak_ml_min_per_mmhg: ArrayLike = 0.0,
) -> Array:
    """Return the height pressure that a wanted chamber pressure needs at a flow [mmHg].

    Parameters
    ----------
    chamber_pressure_mmhg
        Wanted in the chamber [mmHg].
    flow_ml_min, linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2, leak_ml_min_per_mmhg
        As in :func:`chamber_pressure_mmhg`.

    Examples
    --------
    >>> needed = height_pressure_for_mmhg(
    ...     chamber_pressure_mmhg=50.0, flow_ml_min=20.0, linear_mmhg_per_ml_min=0.25
    ... )
    >>> float(needed)
    55.0
    """
    pressure = as_array(chamber_pressure_mmhg)
    through = as_array(flow_ml_min) + as_array(leak_ml_min_per_mmhg) * pressure
    return as_array(
        pressure
        + pressure_drop_mmhg(
            flow_ml_min=through,
            linear_mmhg_per_ml_min=linear_mmhg_per_ml_min,
            square_mmhg_per_ml2_min2=square_mmhg_per_ml2_min2,
        )
    )


def flow_for_pressure_ml_min(
    *,
    height_pressure_mmhg: ArrayLike,
    chamber_pressure_mmhg: ArrayLike,
    linear_mmhg_per_ml_min: ArrayLike,
    square_mmhg_per_ml2_min2: ArrayLike = 0.0,
    leak_ml_min_per_mmhg: ArrayLike = 0.0,
) -> Array:
    """Return the highest aspiration flow that leaves a wanted chamber pressure [mL/min].

    Parameters
    ----------
    height_pressure_mmhg
        Pressure of the height above the eye [mmHg].
    chamber_pressure_mmhg
        Wanted in the chamber [mmHg].
    linear_mmhg_per_ml_min, square_mmhg_per_ml2_min2, leak_ml_min_per_mmhg
        As in :func:`chamber_pressure_mmhg`.

    Returns
    -------
    Array
        NaN where the height is too low for the pressure at any flow; negative where the leak
        alone takes more than the path gives.

    Examples
    --------
    >>> found = flow_for_pressure_ml_min(
    ...     height_pressure_mmhg=55.0, chamber_pressure_mmhg=50.0, linear_mmhg_per_ml_min=0.25
    ... )
    >>> float(found)
    20.0
    """
    pressure = as_array(chamber_pressure_mmhg)
    through = flow_for_drop_ml_min(
        drop_mmhg=as_array(height_pressure_mmhg) - pressure,
        linear_mmhg_per_ml_min=linear_mmhg_per_ml_min,
        square_mmhg_per_ml2_min2=square_mmhg_per_ml2_min2,
    )
    return as_array(through - as_array(leak_ml_min_per_mmhg) * pressure)
