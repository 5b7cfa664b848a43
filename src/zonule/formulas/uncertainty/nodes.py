"""Nodes that stand for a unit normal when something is taken through the optics.

Pure numbers; nothing is raised and nothing is warned about.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from zonule.formulas.uncertainty import normal

Array = NDArray[np.float64]


class Nodes(NamedTuple):
    """Standard scores that stand for a unit normal, and what each one weighs."""

    standard_scores: Array
    weights: Array


def standard_nodes(*, count: int = 25, reach: float = 5.0) -> Nodes:
    """Return evenly spaced standard scores that stand for a unit normal.

    Parameters
    ----------
    count
        Number of nodes; an odd number puts one at the middle.
    reach
        Standard score of the outermost node.

    Notes
    -----
    Even spacing, not Gauss's: each node is blurred by the rest of the budget, and what matters
    is that no gap between nodes is wide against that blur. The gaps of nine Gauss-Hermite nodes
    are a whole standard deviation of the position; in a short eye with a scleral-fixated lens
    that leaves ripples that move a chance by up to seven points. Twenty-five even nodes stay
    within 0.1 points for a position spread of 0.56 mm in a 20 mm eye.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> nodes = standard_nodes(count=5, reach=2.0)
    >>> nodes.standard_scores.tolist()
    [-2.0, -1.0, 0.0, 1.0, 2.0]
    >>> nodes.weights.round(3).tolist()
    [0.054, 0.244, 0.403, 0.244, 0.054]
    """
    scores = np.linspace(-reach, reach, count)
    weights = normal.density(scores)
    return Nodes(standard_scores=scores, weights=weights / weights.sum())
