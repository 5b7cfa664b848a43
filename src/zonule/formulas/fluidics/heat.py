"""How power that is lost to the fluid warms it: while it flows, and while nothing flows.

Departures from print: nothing was printed; heat balance of water. References: own_derivation;
what heat does to tissue: crst2011burn, zacharias2016heat.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from zonule.formulas.fluidics.units import Array, as_array

SECONDS_PER_MINUTE: Final = 60.0


@np.errstate(all="ignore")
def rise_in_flow_k(
    *,
    power_w: ArrayLike,
    flow_ml_min: ArrayLike,
    density_g_per_ml: ArrayLike,
    heat_capacity_j_per_g_k: ArrayLike,
) -> Array:
    """Return how much warmer fluid leaves that flows past a source of heat [K].

    Parameters
    ----------
    power_w
        Power lost to the fluid, not the setting of the pedal [W].
    flow_ml_min
        Flow [mL/min].
    density_g_per_ml, heat_capacity_j_per_g_k
        Of the fluid.

    Examples
    --------
    >>> water = dict(density_g_per_ml=1.0, heat_capacity_j_per_g_k=4.18)
    >>> round(float(rise_in_flow_k(power_w=1.0, flow_ml_min=20.0, **water)), 2)
    0.72
    """
    grams_per_second = as_array(flow_ml_min) * as_array(density_g_per_ml) / SECONDS_PER_MINUTE
    return as_array(as_array(power_w) / (grams_per_second * as_array(heat_capacity_j_per_g_k)))


@np.errstate(all="ignore")
def rise_when_blocked_k_per_s(
    *, power_w: ArrayLike, mass_g: ArrayLike, heat_capacity_j_per_g_k: ArrayLike
) -> Array:
    """Return how fast a little fluid and tissue warms when nothing flows [K/s].

    No heat is led away in this figure, so it is a speed at the start.

    Parameters
    ----------
    power_w
        Power lost to it [W].
    mass_g
        Mass that is warmed [g].
    heat_capacity_j_per_g_k
        Of what is warmed.

    Examples
    --------
    >>> round(float(rise_when_blocked_k_per_s(
    ...     power_w=1.0, mass_g=0.05, heat_capacity_j_per_g_k=4.18)), 1)
    4.8
    """
    return as_array(as_array(power_w) / (as_array(mass_g) * as_array(heat_capacity_j_per_g_k)))
