"""Eyes, lenses and constants that the properties of the power formulas are tried on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from hypothesis import strategies as st

from zonule.formulas.power import FORMULAS, PowerFormula, arguments

CONSTANTS: Mapping[str, float] = {
    "a_constant": 118.4,
    "surgeon_factor": 1.45,
    "pacd_mm": 5.2,
    "a0": -0.5914,
    "a1": 0.357,
    "a2": 0.197,
}

FORMULA_LIST = tuple(FORMULAS.values())
LENGTHS_MM = st.floats(16.0, 38.0)
CORNEAS_D = st.floats(30.0, 58.0)
CHAMBERS_MM = st.floats(2.0, 4.5)
LENSES_D = st.floats(-15.0, 50.0)
TARGETS_D = st.floats(-12.0, 8.0)


class Measured(NamedTuple):
    """What is measured of one eye."""

    axial_length_mm: Any
    corneal_power_d: Any
    anterior_chamber_depth_mm: Any


MEASURED = st.builds(Measured, LENGTHS_MM, CORNEAS_D, CHAMBERS_MM)
AVERAGE = Measured(23.5, 44.0, 3.1)


def given_to(
    formula: PowerFormula, eye: Measured, constants: Mapping[str, float] = CONSTANTS
) -> dict[str, Any]:
    """Return the keywords of an eye and its constants that a formula takes."""
    further = arguments(
        formula.name,
        anterior_chamber_depth_mm=eye.anterior_chamber_depth_mm,
        constants=constants,
    )
    return {
        "axial_length_mm": eye.axial_length_mm,
        "corneal_power_d": eye.corneal_power_d,
        **further,
    }
