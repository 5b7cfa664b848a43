"""The predictive law of one eye: a finite mixture of normal distributions.

Most eyes scatter about the prediction with the spread of their own error budget; a few carry an
added, independent error that no formula sees. Where the place of the lens is uncertain by a lot,
its scatter is taken through the optics at a set of nodes, so the law may lean to one side. Both
are mixtures of normals, and everything a person is shown (bands, chances, expected loss) is read
off that one mixture.

The components stand on the last axis of a :class:`Law`; all leading axes broadcast. NaN in, NaN
out; a standard deviation that is not above zero, or a tail weight outside 0 to 1, gives NaN;
nothing is raised and nothing is warned about.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas.uncertainty import normal
from zonule.formulas.uncertainty.nodes import Nodes, standard_nodes
from zonule.formulas.uncertainty.roots import bracketed_root

__all__ = [
    "Band",
    "Law",
    "Nodes",
    "above",
    "band",
    "cdf",
    "density",
    "expected_loss",
    "mean",
    "median",
    "over_positions",
    "quantile",
    "sample",
    "shift",
    "standard_deviation",
    "standard_nodes",
    "two_component",
    "within",
]

Array = NDArray[np.float64]


class Law(NamedTuple):
    """A mixture of normals of the error or the refraction, components on the last axis."""

    weights: Array
    """Weight of each component; they sum to 1."""
    means_d: Array
    sds_d: Array


class Band(NamedTuple):
    """The two ends of an equal-tailed band."""

    low_d: Array
    high_d: Array


def two_component(
    *, median_d: ArrayLike, core_sd_d: ArrayLike, tail_weight: ArrayLike, tail_sd_d: ArrayLike
) -> Law:
    """Return the law of an eye whose error budget is taken as linear.

    Parameters
    ----------
    median_d
        Predicted refraction m, or 0 for the law of the error [D].
    core_sd_d
        Spread s of the ordinary eye, from its own budget [D].
    tail_weight
        Share w of eyes that carry an added error, 0 to 1.
    tail_sd_d
        Spread tau of that added error [D].

    Returns
    -------
    Law
        ``(1 - w) N(m, s^2) + w N(m, s^2 + tau^2)``, two components on the last axis.

    Notes
    -----
    The tail is added to the core, never a multiple of it: eyes with a narrow budget meet the
    same gross errors as others. A placement whose spread was taken from a published total
    standard deviation holds the tail already and must come with a small weight.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> law = two_component(median_d=-0.41, core_sd_d=0.41, tail_weight=0.113, tail_sd_d=1.36)
    >>> round(float(within(law, centre_d=-0.25, half_width_d=0.5)), 2)
    0.69
    """
    return over_positions(
        node_means_d=np.asarray(median_d, dtype=np.float64)[..., None],
        node_weights=[1.0],
        core_sd_d=core_sd_d,
        tail_weight=tail_weight,
        tail_sd_d=tail_sd_d,
    )


def over_positions(
    *,
    node_means_d: ArrayLike,
    node_weights: ArrayLike,
    core_sd_d: ArrayLike,
    tail_weight: ArrayLike,
    tail_sd_d: ArrayLike,
) -> Law:
    """Return the law with the lens position taken through the optics, the rest linear.

    Parameters
    ----------
    node_means_d
        Refraction with the lens at each node of :func:`standard_nodes`, nodes last [D].
    node_weights
        Weights of the nodes; they sum to 1.
    core_sd_d
        Spread of the budget **without** its position parts [D]; shape of the leading axes.
    tail_weight, tail_sd_d
        As in :func:`two_component`.

    Returns
    -------
    Law
        Two components for every node, on the last axis: first the ordinary eye at all nodes,
        then the eye with the added error at all nodes.

    Notes
    -----
    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> nodes = standard_nodes()
    >>> law = over_positions(
    ...     node_means_d=-0.5 + 0.6 * nodes.standard_scores,
    ...     node_weights=nodes.weights,
    ...     core_sd_d=0.35,
    ...     tail_weight=0.02,
    ...     tail_sd_d=1.36,
    ... )
    >>> round(float(standard_deviation(law)), 3)
    0.721
    """
    core_sd = np.asarray(core_sd_d, dtype=np.float64)[..., None]
    tail_sd = np.asarray(tail_sd_d, dtype=np.float64)[..., None]
    tail = np.asarray(tail_weight, dtype=np.float64)[..., None]
    tail = np.where((tail >= 0.0) & (tail <= 1.0), tail, np.nan)
    core_sd = np.where(core_sd > 0.0, core_sd, np.nan)
    weights, means, core_sds, tails, tail_sds = np.broadcast_arrays(
        np.asarray(node_weights, dtype=np.float64),
        np.asarray(node_means_d, dtype=np.float64),
        core_sd,
        tail,
        tail_sd,
    )
    return Law(
        weights=np.concatenate([weights * (1.0 - tails), weights * tails], axis=-1),
        means_d=np.concatenate([means, means], axis=-1),
        sds_d=np.concatenate([core_sds, np.hypot(core_sds, tail_sds)], axis=-1),
    )


def cdf(law: Law, *, value_d: ArrayLike) -> Array:
    """Return the chance of landing at or below a value.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.4, tail_weight=0.113, tail_sd_d=1.36)
    >>> float(cdf(law, value_d=0.0))
    0.5
    """
    value = np.asarray(value_d, dtype=np.float64)[..., None]
    scores = (value - law.means_d) / law.sds_d
    return np.asarray((law.weights * normal.cdf(scores)).sum(axis=-1))


def density(law: Law, *, value_d: ArrayLike) -> Array:
    """Return the density per dioptre at a value.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.5, tail_weight=0.0, tail_sd_d=1.36)
    >>> round(float(density(law, value_d=0.0)), 4)
    0.7979
    """
    value = np.asarray(value_d, dtype=np.float64)[..., None]
    scores = (value - law.means_d) / law.sds_d
    return np.asarray((law.weights * normal.density(scores) / law.sds_d).sum(axis=-1))


def above(law: Law, *, threshold_d: ArrayLike) -> Array:
    """Return the chance of landing above a threshold.

    Examples
    --------
    >>> law = two_component(median_d=-0.41, core_sd_d=0.41, tail_weight=0.113, tail_sd_d=1.36)
    >>> round(float(above(law, threshold_d=0.0)), 2)
    0.18
    """
    threshold = np.asarray(threshold_d, dtype=np.float64)[..., None]
    scores = (law.means_d - threshold) / law.sds_d
    return np.asarray((law.weights * normal.cdf(scores)).sum(axis=-1))


def within(law: Law, *, centre_d: ArrayLike, half_width_d: ArrayLike) -> Array:
    """Return the chance of landing within a distance of a refraction.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.5, tail_weight=0.0, tail_sd_d=1.36)
    >>> round(float(within(law, centre_d=0.0, half_width_d=0.5)), 4)
    0.6827
    """
    centre = np.asarray(centre_d, dtype=np.float64)
    half_width = np.asarray(half_width_d, dtype=np.float64)
    upper = cdf(law, value_d=centre + half_width)
    return upper - cdf(law, value_d=centre - half_width)


def mean(law: Law) -> Array:
    """Return the mean refraction.

    Examples
    --------
    >>> float(mean(shift(Law(np.array([0.5, 0.5]), np.array([-1.0, 0.0]), np.ones(2)), by_d=1.0)))
    0.5
    """
    return np.asarray((law.weights * law.means_d).sum(axis=-1))


def standard_deviation(law: Law) -> Array:
    """Return the standard deviation of the whole law, tail included.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.409, tail_weight=0.02, tail_sd_d=1.36)
    >>> round(float(standard_deviation(law)), 3)
    0.452
    """
    deviations = law.means_d - mean(law)[..., None]
    return np.asarray(np.sqrt((law.weights * (law.sds_d**2 + deviations**2)).sum(axis=-1)))


def shift(law: Law, *, by_d: ArrayLike) -> Law:
    """Return the same law moved along the axis of refraction.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.5, tail_weight=0.0, tail_sd_d=1.36)
    >>> float(mean(shift(law, by_d=-0.25)))
    -0.25
    """
    moved = law.means_d + np.asarray(by_d, dtype=np.float64)[..., None]
    weights, means, sds = np.broadcast_arrays(law.weights, moved, law.sds_d)
    return Law(weights=weights, means_d=means, sds_d=sds)


def expected_loss(law: Law, *, aim_d: ArrayLike, hyperopia_weight: ArrayLike) -> Array:
    """Return the expected loss when a dioptre of hyperopia counts more than one of myopia.

    Parameters
    ----------
    law
        Law of the refraction.
    aim_d
        Wanted refraction a [D].
    hyperopia_weight
        How many times worse than a myopic miss a hyperopic miss of the same size counts, k.

    Returns
    -------
    Array
        Mean of ``k (Y - a)`` above the aim and ``(a - Y)`` below it [D].

    Notes
    -----
    For each component ``(k + 1) (s phi(z) + d Phi(z)) - d`` with ``d = m - a``, ``z = d / s``.
    With a lens of any power to hand, the best aim puts a at the ``1 / (k + 1)`` quantile from
    the hyperopic end: the wider the spread, the lower the aim.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.5, tail_weight=0.0, tail_sd_d=1.36)
    >>> round(float(expected_loss(law, aim_d=0.0, hyperopia_weight=1.0)), 4)
    0.3989
    """
    distance = law.means_d - np.asarray(aim_d, dtype=np.float64)[..., None]
    weight = np.asarray(hyperopia_weight, dtype=np.float64)[..., None]
    scores = distance / law.sds_d
    hyperopic = law.sds_d * normal.density(scores) + distance * normal.cdf(scores)
    return np.asarray((law.weights * ((weight + 1.0) * hyperopic - distance)).sum(axis=-1))


def sample(law: Law, *, rng: np.random.Generator, count: int) -> Array:
    """Return draws from the law, ``count`` of them on a new last axis.

    The same seed gives the same draws: hand every placement a generator with the same seed and
    they are compared on the same eyes.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.4, tail_weight=0.02, tail_sd_d=1.36)
    >>> sample(law, rng=np.random.default_rng(7), count=3).shape
    (3,)
    """
    weights, means, sds = np.broadcast_arrays(*law)
    shape = (*weights.shape[:-1], count)
    ranks = rng.random(shape)
    scores = rng.standard_normal(shape)
    thresholds = np.cumsum(weights, axis=-1)[..., :-1]
    chosen = (ranks[..., None] > thresholds[..., None, :]).sum(axis=-1)
    drawn_means = np.take_along_axis(means, chosen, axis=-1)
    return np.asarray(drawn_means + np.take_along_axis(sds, chosen, axis=-1) * scores)


def quantile(law: Law, *, probability: ArrayLike) -> Array:
    """Return the value below which the law lies with a given probability.

    Parameters
    ----------
    law
        Law of the refraction or the error.
    probability
        0 to 1, broadcast against the leading axes of the law. Minus and plus infinity at 0 and
        1; NaN outside.

    Returns
    -------
    Array
        Quantiles [D], true to about 1e-12 D.

    Notes
    -----
    The root lies between the smallest and the largest quantile of the components.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.4, tail_weight=0.113, tail_sd_d=1.36)
    >>> round(float(quantile(law, probability=0.95)), 3)
    0.818
    """
    wanted = np.asarray(probability, dtype=np.float64)
    ends = law.means_d + law.sds_d * normal.quantile(wanted)[..., None]
    ends = np.where(np.isnan(law.weights), np.nan, ends)
    low, high = ends.min(axis=-1), ends.max(axis=-1)
    same = low == high
    found = bracketed_root(
        lambda value: cdf(law, value_d=value) - wanted,
        slope=lambda value: density(law, value_d=value),
        low=np.where(same, np.nan, low),
        high=high,
    )
    return np.where(same, low, found)


def median(law: Law) -> Array:
    """Return the refraction with as many eyes above it as below.

    Examples
    --------
    >>> law = two_component(median_d=-0.25, core_sd_d=0.4, tail_weight=0.113, tail_sd_d=1.36)
    >>> round(float(median(law)), 4)
    -0.25
    """
    return quantile(law, probability=0.5)


def band(law: Law, *, level: ArrayLike) -> Band:
    """Return the equal-tailed band that holds a given share of eyes.

    Parameters
    ----------
    law
        Law of the refraction or the error.
    level
        Share of eyes inside, 0 to 1, broadcast against the leading axes of the law.

    Examples
    --------
    >>> law = two_component(median_d=0.0, core_sd_d=0.4, tail_weight=0.113, tail_sd_d=1.36)
    >>> nine_in_ten = band(law, level=0.9)
    >>> round(float(nine_in_ten.low_d), 2), round(float(nine_in_ten.high_d), 2)
    (-0.82, 0.82)
    """
    outside = 0.5 * (1.0 - np.asarray(level, dtype=np.float64))
    return Band(
        low_d=quantile(law, probability=outside), high_d=quantile(law, probability=1.0 - outside)
    )
