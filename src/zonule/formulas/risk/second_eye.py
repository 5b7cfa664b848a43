"""The second eye after a rupture in the first: what both eyes share and no model lists.

A patient carries one unlisted effect on the log odds in both eyes, normal among patients. That the
first eye ruptured makes a high effect more likely, and with it the risk of the second.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas.risk.odds import expit, logit
from zonule.formulas.uncertainty.nodes import standard_nodes
from zonule.formulas.uncertainty.roots import bracketed_root

Array = NDArray[np.float64]

NODES: Final = standard_nodes(count=161, reach=8.0)
"""Even nodes of a smooth function: exact to far more than two decimals up to a spread of 3."""


def risk_given_first(
    *,
    probability: ArrayLike,
    spread: ArrayLike,
    first_probability: ArrayLike | None = None,
    ruptured: bool = True,
) -> Array:
    """Return the risk of the second eye, given what happened in the first.

    Parameters
    ----------
    probability
        Risk of the second eye from its own findings, 0 to 1.
    spread
        Spread among patients of what both eyes share [log odds]; 0 where the cause of the first
        rupture cannot carry over. An assumption: no published figure was found.
    first_probability
        Risk of the first eye from its own findings; that of the second if not given.
    ruptured
        What happened in the first eye.

    Returns
    -------
    Array
        Risk, broadcast; NaN where an input is NaN or outside its range.

    Notes
    -----
    Findings that both eyes share stand in ``probability`` already and are not counted again.
    Departures from print: nothing is printed; that a first-eye rupture counts on its own is
    (elhusseiny2024secondeye), by how much is not. References: elhusseiny2024secondeye,
    own_derivation.

    Examples
    --------
    >>> risk = risk_given_first(probability=[0.01, 0.06, 0.16], spread=0.8)
    >>> (100 * risk).round(2).tolist()
    [1.84, 9.84, 22.79]
    """
    second, wide = _ranged(probability, spread)
    first = second if first_probability is None else _ranged(first_probability, spread)[0]
    second, first, wide = np.broadcast_arrays(second, first, wide)
    effect = wide[..., None] * NODES.standard_scores
    in_first = expit(logit=_centre(first, effect)[..., None] + effect)
    in_second = expit(logit=_centre(second, effect)[..., None] + effect)
    happened = in_first if ruptured else 1.0 - in_first
    weight = happened * NODES.weights
    return np.asarray((weight * in_second).sum(axis=-1) / weight.sum(axis=-1))


def _ranged(probability: ArrayLike, spread: ArrayLike) -> tuple[Array, Array]:
    risk, wide = np.asarray(probability, dtype=np.float64), np.asarray(spread, dtype=np.float64)
    return (
        np.where((risk > 0.0) & (risk < 1.0), risk, np.nan),
        np.where(wide >= 0.0, wide, np.nan),
    )


def _centre(risk: Array, effect: Array) -> Array:
    """Return the log odds at effect 0 such that the mean over patients is the risk."""

    def gap(value: Array) -> Array:
        mean = (expit(logit=value[..., None] + effect) * NODES.weights).sum(axis=-1)
        return np.asarray(mean - risk)

    def slope(value: Array) -> Array:
        each = expit(logit=value[..., None] + effect)
        return np.asarray((each * (1.0 - each) * NODES.weights).sum(axis=-1))

    middle, most = logit(probability=risk), effect.max(axis=-1)
    return bracketed_root(gap, slope=slope, low=middle - most, high=middle + most)
