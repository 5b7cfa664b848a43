"""How sure a share is that was counted: the Jeffreys interval, by a grid."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

REACHES_LOGIT: Final = 40.0
POINTS: Final = 40_001


def jeffreys_interval(
    *, events: ArrayLike, cases: ArrayLike, level: float = 0.9
) -> tuple[Array, Array]:
    """Return the equal-tailed Jeffreys interval of a share.

    The posterior of a share after ``events`` in ``cases`` from the prior Beta(1/2, 1/2), cut at
    both tails. It is computed on an even grid of the logit, so that no special function is
    needed; the ends are good to five decimals of the share.

    Parameters
    ----------
    events, cases
        Counts, any shapes that broadcast; ``0 <= events <= cases``.
    level
        Share of the posterior between the two ends, 0 to 1.

    Returns
    -------
    tuple of ndarray
        Lower and upper end, of the broadcast shape.

    Raises
    ------
    ValueError
        If there are more events than cases, or fewer than none.

    Notes
    -----
    Departures from print: with no event the usual convention sets the lower end to 0, and with
    nothing but events the upper end to 1; that is done here too.

    References
    ----------
    own_derivation

    Examples
    --------
    >>> low, high = jeffreys_interval(events=2, cases=25)
    >>> round(float(low), 3), round(float(high), 3)
    (0.023, 0.204)
    """
    happened, of = np.broadcast_arrays(np.asarray(events, float), np.asarray(cases, float))
    if np.any(happened < 0.0) or np.any(happened > of):
        raise ValueError("events must lie between 0 and the number of cases")
    tail = (1.0 - level) / 2.0
    ends = [_quantiles(k, n, tail) for k, n in zip(happened.ravel(), of.ravel(), strict=True)]
    low, high = (np.array([one[at] for one in ends]).reshape(happened.shape) for at in (0, 1))
    return np.where(happened == 0.0, 0.0, low), np.where(happened == of, 1.0, high)


def _quantiles(events: float, cases: float, tail: float) -> tuple[float, float]:
    """Return both ends for one count; the density on the logit axis has no pole to step over."""
    logit = np.linspace(-REACHES_LOGIT, REACHES_LOGIT, POINTS)
    log_share, log_rest = -np.logaddexp(0.0, -logit), -np.logaddexp(0.0, logit)
    log_density = (events + 0.5) * log_share + (cases - events + 0.5) * log_rest
    density = np.exp(log_density - log_density.max())
    below = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2.0)])
    at = np.interp([tail, 1.0 - tail], below / below[-1], logit)
    low, high = 1.0 / (1.0 + np.exp(-at))
    return float(low), float(high)
