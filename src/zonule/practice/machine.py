"""The surgeon's own machine: where its zero lies, and what a measuring cup told of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class CupTest:
    """One reading of a cup test: free flow at a height, and vacuum at a free flow."""

    height_cm: float
    """Fluid level above the tip."""
    collected_ml: float
    seconds: float
    measured_on: date
    vacuum_shown_mmhg: float | None = None
    aspiration_flow_ml_min: float | None = None
    """The flow that was set while that vacuum was shown."""
    height_sd_cm: float | None = None
    collected_sd_ml: float | None = None
    vacuum_sd_mmhg: float | None = None
    """Spreads of the readings; None: as assumed in ``library/fluidics.toml``."""


@dataclass(frozen=True, slots=True)
class Machine:
    """What a practice file says of its machine; None is not recorded."""

    label: str = ""
    infusion_offset_cm: float | None = None
    """Height of the machine's zero above the eye; negative where it lies below it."""
    allowed_floor_mmhg: float | None = None
    """Lowest pressure this surgeon allows in the chamber when a blocked tip clears."""
    cup_tests: tuple[CupTest, ...] = ()
