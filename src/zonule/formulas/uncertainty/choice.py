"""Which power, of those there are.

One law per power, powers on one axis; a rule gives each power a score, lower is better; powers
that the rule cannot tell apart go to the lens in the room, then to the myopic side.
"""

from __future__ import annotations

from typing import Final, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.errors import NoSuchName
from zonule.formulas.uncertainty import law as laws
from zonule.formulas.uncertainty.law import Law

Array = NDArray[np.float64]

AimRule = Literal["best_chance", "nearest", "asymmetric"]
AIM_RULES: Final[tuple[AimRule, ...]] = get_args(AimRule)

AS_GOOD_AS: Final[dict[AimRule, float]] = {
    "best_chance": 0.003,
    "nearest": 0.005,
    "asymmetric": 0.003,
}
"""Scores this close are a tie: a share of eyes; dioptres, half of the last digit shown; dioptres
of loss. Status assumption."""
HALF_WIDTH_D: Final = 0.50
"""What ``best_chance`` counts as on target."""


WITHIN_A_STEP_D: Final = 0.5
"""How much further from the aim a power may leave the eye and still count as equal; assumption."""


def score(
    law: Law,
    *,
    aim_d: ArrayLike,
    rule: str,
    hyperopia_weight: ArrayLike = 1.0,
    half_width_d: ArrayLike = HALF_WIDTH_D,
) -> Array:
    """Return how badly each power does under a rule; lower is better.

    Parameters
    ----------
    law
        Law of the refraction with each power; powers on the last axis before the components.
    aim_d
        Wanted refraction [D]; shape of the axes before the powers.
    rule
        ``best_chance``: share of eyes not on target. ``nearest``: distance of the median from
        the aim [D]. ``asymmetric``: expected loss, hyperopia counting more [D].
    hyperopia_weight
        Used by ``asymmetric`` only.
    half_width_d
        How far from the aim is still on target; used by ``best_chance`` only [D].

    Returns
    -------
    Array
        Scores, powers on the last axis.

    Raises
    ------
    NoSuchName
        If there is no such rule.

    Examples
    --------
    >>> law = laws.two_component(
    ...     median_d=[-0.6, -0.2], core_sd_d=0.4, tail_weight=0.02, tail_sd_d=1.36
    ... )
    >>> score(law, aim_d=-0.25, rule="nearest").round(2).tolist()
    [0.35, 0.05]
    """
    aim = np.asarray(aim_d, dtype=np.float64)[..., None]
    if rule == "best_chance":
        half_width = np.asarray(half_width_d, dtype=np.float64)[..., None]
        return 1.0 - laws.within(law, centre_d=aim, half_width_d=half_width)
    if rule == "nearest":
        return np.abs(laws.median(law) - aim)
    if rule == "asymmetric":
        weight = np.asarray(hyperopia_weight, dtype=np.float64)[..., None]
        return laws.expected_loss(law, aim_d=aim, hyperopia_weight=weight)
    raise NoSuchName("aim rule", rule, AIM_RULES)


def choose(
    law: Law,
    *,
    lens_power_d: ArrayLike,
    aim_d: ArrayLike,
    rule: str,
    hyperopia_weight: ArrayLike = 1.0,
    preferred: ArrayLike = False,
    half_width_d: ArrayLike = HALF_WIDTH_D,
    tie: float | None = None,
) -> NDArray[np.intp]:
    """Return the index of the power to use.

    Parameters
    ----------
    law
        Law of the refraction with each power; powers on the last axis before the components.
        A power that may not be used has NaN in its law.
    lens_power_d
        The powers [D], last axis.
    aim_d, rule, hyperopia_weight, half_width_d
        As in :func:`score`.
    preferred
        True for the powers in the room.
    tie
        Scores this close are equal; ``AS_GOOD_AS`` of the rule if not given.

    Returns
    -------
    Array
        Index along the power axis; -1 where no power can be used.

    Raises
    ------
    NoSuchName
        If there is no such rule.

    Notes
    -----
    All powers whose score lies within ``tie`` of the best are taken as equal, as long as none
    leaves the eye more than half a dioptre further from the aim than another: where no power
    comes near the aim all chances are next to nothing, and the nearest must win. Among equals
    those in the room go first, then the strongest. The order in which powers are listed plays
    no part.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> law = laws.two_component(
    ...     median_d=[0.1, -0.25, -0.6], core_sd_d=0.4, tail_weight=0.02, tail_sd_d=1.36
    ... )
    >>> int(choose(law, lens_power_d=[21.0, 21.5, 22.0], aim_d=-0.25, rule="best_chance"))
    1
    """
    closeness = AS_GOOD_AS[_known(rule)] if tie is None else tie
    scores = score(
        law,
        aim_d=aim_d,
        rule=rule,
        hyperopia_weight=hyperopia_weight,
        half_width_d=half_width_d,
    )
    powers = np.asarray(lens_power_d, dtype=np.float64)
    scores, powers, wanted = np.broadcast_arrays(scores, powers, np.asarray(preferred, dtype=bool))
    usable = ~np.isnan(scores) & ~np.isnan(powers)
    scores = np.where(usable, scores, np.inf)
    best = scores.min(axis=-1, keepdims=True)
    tied = usable & (scores <= best + closeness)
    off = np.abs(laws.median(law) - np.asarray(aim_d, dtype=np.float64)[..., None])
    off = np.where(tied, np.broadcast_to(off, tied.shape), np.inf)
    tied &= off <= off.min(axis=-1, keepdims=True) + WITHIN_A_STEP_D
    in_room = tied & wanted
    tied = np.where(in_room.any(axis=-1, keepdims=True), in_room, tied)
    strongest = np.where(tied, powers, -np.inf).argmax(axis=-1)
    return np.where(tied.any(axis=-1), strongest, -1)


def _known(rule: str) -> AimRule:
    for name in AIM_RULES:
        if name == rule:
            return name
    raise NoSuchName("aim rule", rule, AIM_RULES)
