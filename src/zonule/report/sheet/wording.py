"""How the sheet words numbers, boxes and hours; its headings and standing sentences."""

from __future__ import annotations

import math
from types import MappingProxyType
from typing import Final

from zonule.errors import Side
from zonule.plan.main_wound import hour_of
from zonule.report.words import MINUS, dioptres, span

HEADS: Final = MappingProxyType(
    {
        "aim": "Aim",
        "on_the_box": "on the box",
        "different": "Different in this eye",
        "backups": "If it does not go well: backups in order",
        "place": "Place, and what has happened",
        "power": "Power",
        "lens": "Lens, where it is",
        "expected": "Expected",
        "chance": "Likelihood",
        "refused": "Not for this eye",
        "reasons": "reasons in the plan",
        "devices": "By clock hour",
        "machine": "Machine",
        "triggers": "If this happens, first words",
        "code": "code",
    }
)
"""Headings and labels of the page."""

BOX_SAYS: Final = (
    "On the box: what most boxes print, no plus sign and one decimal; the practice file does not "
    "record it. The long number is its code in the store. Read letter by letter, with the name."
)
EXPECTED_SAYS: Final = (
    "Expected: spherical equivalent to the nearest quarter of a dioptre, small: nine in ten such "
    "eyes."
)
SHARES_SAY: Final = "Likelihood: of eyes like this, operated as planned; shares of states assumed."
NO_SHARES_SAY: Final = "No likelihoods: the risk models are those of eyes with their own lens."
WIDE_SAYS: Final = "Much is not known of this eye: the ranges in the plan are wide."
NO_BACKUPS_SAY: Final = "No backup is open in this plan."
NOTHING_DIFFERENT: Final = "No rule names anything in what is recorded of this eye."
GAP_NOT_KNOWN: Final = "Zonular dialysis: not known."
NO_DEVICES_SAY: Final = "Nothing in this plan is given a clock hour."
NO_MACHINE_SAYS: Final = "No machine settings in this plan."
NO_TRIGGERS_SAY: Final = "No trigger is listed for this eye."
NO_POWER: Final = "NO LENS POWER"
NO_POWER_HERE: Final = "no power"
NOT_THE_PLAN: Final = "not signed · aid to planning, not validated; local protocol first"
SOURCE_PRINT: Final = "Read every power against the source print before a lens is opened."


def quarter(value: float) -> float:
    """Return a refraction to the nearest quarter of a dioptre; halfway goes to the myopic side.

    Examples
    --------
    >>> quarter(-0.21), quarter(0.125), quarter(-0.10)
    (-0.25, 0.0, 0.0)
    """
    return math.ceil(value * 4.0 - 0.5) / 4.0 + 0.0


def expected(value: float) -> str:
    """Return a predicted refraction as it is said in theatre.

    Examples
    --------
    >>> expected(-0.21)
    '−0.25 D'
    """
    return dioptres(quarter(value))


def band(low: float, high: float) -> str:
    """Return a band of predicted refractions as it is said in theatre.

    Examples
    --------
    >>> band(-0.97, 0.55)
    '−1.00 to +0.50'
    """
    return span(quarter(low), quarter(high))


def box_characters(power_d: float) -> str:
    """Return a power as most makers print it on the box: no plus sign, one decimal if that will do.

    A minus sign is always printed: it is another lens.

    Examples
    --------
    >>> box_characters(20.5), box_characters(21.0), box_characters(20.25), box_characters(-2.0)
    ('20.5 D', '21.0 D', '20.25 D', '−2.0 D')
    """
    decimals = 1 if math.isclose(power_d * 10.0, round(power_d * 10.0), abs_tol=1e-6) else 2
    return f"{power_d + 0.0:.{decimals}f} D".replace("-", MINUS)


def box_note(power_d: float, store_has_minus: bool) -> str:
    """Return what must be said of the sign where a store has powers on both sides of zero.

    Examples
    --------
    >>> box_note(2.0, True), box_note(-2.0, True), box_note(20.5, False)
    ('no minus sign', 'with a minus sign', '')
    """
    if power_d < 0.0:
        return "with a minus sign"
    return "no minus sign" if store_has_minus else ""


def hours_say(side: Side) -> str:
    """Return how clock hours are meant in the eye of that side.

    Examples
    --------
    >>> hours_say("right").partition("; ")[2]
    'in this right eye temporal is 9, nasal is 3. Proposed: check against the eye.'
    """
    temporal = temporal_hour(side)
    return (
        "Hours as an examiner facing the patient sees the eye, 12 towards the brow; in this "
        f"{side} eye temporal is {temporal}, nasal is {12 - temporal}. Proposed: check against "
        "the eye."
    )


def temporal_hour(side: Side) -> int:
    """Return the clock hour that is temporal.

    Examples
    --------
    >>> temporal_hour("left"), temporal_hour("right")
    (3, 9)
    """
    return int(hour_of("temporal", side))
