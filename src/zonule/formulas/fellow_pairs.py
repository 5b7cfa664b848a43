"""What series of pairs of eyes say: the share in steep and flat corneas, and one's own pairs.

Arrays broadcast; NaN in, NaN out; nothing is raised and nothing is warned about.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas.uncertainty import normal

Array = NDArray[np.float64]


def share_in_cornea_group(
    *,
    covariance_d2: ArrayLike,
    variance_d2: ArrayLike,
    bias_d_per_d: ArrayLike,
    mean_square_d2: ArrayLike,
) -> Array:
    """Return the best single share in a group of corneas when the formula is biased by cornea.

    Parameters
    ----------
    covariance_d2, variance_d2
        Covariance and variance of the errors without that bias [D²].
    bias_d_per_d
        Error of the formula per dioptre of corneal power off the mean.
    mean_square_d2
        From :func:`mean_square_between`, for this group [D²].

    Notes
    -----
    ``(C + beta^2 m2) / (V + beta^2 m2)``. The bias is common to both eyes, so it looks like a
    larger share in steep and flat corneas. A formula without the bias needs one share only.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> share = share_in_cornea_group(
    ...     covariance_d2=0.022, variance_d2=0.11, bias_d_per_d=0.22, mean_square_d2=0.2554
    ... )
    >>> round(float(share), 2)
    0.28
    """
    bias = np.asarray(bias_d_per_d, dtype=np.float64) ** 2 * np.asarray(mean_square_d2)
    shared = np.asarray(covariance_d2, dtype=np.float64) + bias
    return np.asarray(shared / (np.asarray(variance_d2, dtype=np.float64) + bias))


def mean_square_between(
    *, low_d: ArrayLike, high_d: ArrayLike, mean_d: ArrayLike, sd_d: ArrayLike
) -> Array:
    """Return the mean squared distance from the mean, of corneas between two powers.

    Parameters
    ----------
    low_d, high_d
        Limits of the group [D]; infinities are allowed.
    mean_d, sd_d
        Mean and spread of the corneal power over all eyes, taken as normal [D].

    Examples
    --------
    >>> middle = mean_square_between(low_d=42.8, high_d=44.6, mean_d=43.7, sd_d=1.4)
    >>> round(float(middle), 4)
    0.2554
    """
    sd = np.asarray(sd_d, dtype=np.float64)
    centre = np.asarray(mean_d, dtype=np.float64)
    low = (np.asarray(low_d, dtype=np.float64) - centre) / sd
    high = (np.asarray(high_d, dtype=np.float64) - centre) / sd
    share = normal.cdf(high) - normal.cdf(low)
    return np.asarray(sd**2 * (1.0 - (_moment(high) - _moment(low)) / share))


def _moment(score: Array) -> Array:
    finite = np.where(np.isinf(score), 0.0, score)
    return finite * normal.density(score)


def own_correlation(
    *,
    own_correlation: ArrayLike,
    own_pairs: ArrayLike,
    published_correlation: ArrayLike,
    published_sd_z: ArrayLike,
) -> Array:
    """Return a correlation between the published one and that of the surgeon's own pairs.

    Parameters
    ----------
    own_correlation
        Correlation of the errors of the two eyes in the surgeon's own pairs.
    own_pairs
        Number of pairs; three or fewer say nothing and the published value is returned,
        whatever stands in ``own_correlation``.
    published_correlation, published_sd_z
        Published correlation, and how sure it is on Fisher's z.

    Notes
    -----
    Shrunk on Fisher's z, where an estimate from n pairs has variance ``1 / (n - 3)``.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> mixed = own_correlation(
    ...     own_correlation=0.30, own_pairs=28, published_correlation=0.55, published_sd_z=0.20
    ... )
    >>> round(float(mixed), 2)
    0.43
    """
    information = np.maximum(np.asarray(own_pairs, dtype=np.float64) - 3.0, 0.0)
    own = np.where(information > 0.0, np.asarray(own_correlation, dtype=np.float64), 0.0)
    prior = np.asarray(published_sd_z, dtype=np.float64) ** -2
    z = prior * np.arctanh(published_correlation) + information * np.arctanh(own)
    return np.asarray(np.tanh(z / (prior + information)))
