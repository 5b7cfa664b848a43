"""How far a surgeon may stand from the model before any case was counted."""

from __future__ import annotations

from zonule.formulas.risk.own_baseline import posterior
from zonule.library.reading import table
from zonule.practice.risk import OwnBaseline, RiskChoices


def own_spread(choices: RiskChoices) -> float:
    """Return the SD between surgeons, of the log odds: the practice's own, else the library's."""
    if choices.own_spread is not None:
        return choices.own_spread
    return float(table("risk/choices")["own_spread"]["value"])


def surgeons_in_general(choices: RiskChoices) -> OwnBaseline:
    """Return the baseline of a surgeon who counted no case: the spread between surgeons alone.

    Examples
    --------
    >>> found = surgeons_in_general(RiskChoices())
    >>> found.counted, round(found.mean, 3), round(found.sd, 3)
    (False, 0.0, 0.5)
    """
    spread = own_spread(choices)
    found = posterior(probability=[0.5], cases=0, events=0, spread=spread)
    return OwnBaseline(shift=found.shift, weight=found.weight, spread=spread)
