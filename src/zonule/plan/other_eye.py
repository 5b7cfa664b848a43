"""The power the other eye would take, only to be held against this one; never shown."""

from __future__ import annotations

from zonule.assessment.applicable import formulas_for
from zonule.assessment.eye_optics import eye_optics
from zonule.assessment.measured import measured
from zonule.findings.facts import facts_of
from zonule.findings.records import Case, other_side
from zonule.library.placements import place
from zonule.practice.records import Lens


def power_of_other_eye(case: Case, lens: Lens) -> float | None:
    """Return the power that would bring the other eye to the same aim in the bag, in no step [D].

    None when the other eye has not been measured, or no formula applies to it.
    """
    found = measured(case.fellow_eye)
    if found is None:
        return None
    side = other_side(case.eye_to_do)
    optics = eye_optics(
        place("bag"), formulas_for(place("bag"), lens, found, facts_of(case, side)), found
    )
    return None if optics is None else optics.power_for(case.aim.spherical_equivalent_d)
