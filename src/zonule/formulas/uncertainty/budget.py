"""The error budget of one eye: which errors there are, and what each does to the refraction.

Every spread, slope and correlation comes in as an argument; what the defaults of a practice are,
and how sure they are, is data. NaN in, NaN out; nothing is raised.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

ORDINARY_TILT_RAD: Final = 0.0750
"""Tilt of an ordinary lens in the bag, 4.3 degrees; its effect is in every lens constant."""
TILT_EFFECT: Final = 0.64
"""Myopic shift per dioptre of lens power and radian squared of tilt; status derived (fit to a
traced 21 D lens)."""
EYES_A_PUBLISHED_SPREAD_COUNTS_FOR: Final = 10.0
"""Status assumption."""


class TotalSlopes(NamedTuple):
    """Change of the refraction with each measurement, the predicted position moving along."""

    length_d_per_mm: Array
    cornea_d_per_d: Array
    chamber_d_per_mm: Array


class Budget(NamedTuple):
    """Variances of the refraction by part, all in dioptres squared.

    The four measured parts are ``length``, ``cornea``, ``chamber`` and ``length_with_chamber``,
    the last one twice the covariance of length and chamber, which may be below zero.
    """

    length: Array
    cornea: Array
    chamber: Array
    length_with_chamber: Array
    position: Array
    """Where the lens comes to rest, from eye to eye."""
    position_mean: Array
    """How well the mean place of the lens is known."""
    label: Array
    refraction: Array
    tilt: Array
    disagreement: Array
    """What the formulas differ by beyond the ordinary."""

    @property
    def measured(self) -> Array:
        """Variance of all measurements together."""
        return self.length + self.cornea + self.chamber + self.length_with_chamber

    @property
    def without_position(self) -> Array:
        """Variance of all parts but the two of the lens position."""
        return self.measured + self.label + self.refraction + self.tilt + self.disagreement

    @property
    def total(self) -> Array:
        """Variance of all parts together."""
        return self.without_position + self.position + self.position_mean

    @property
    def total_sd_d(self) -> Array:
        """Core spread of the predictive law [D]."""
        return np.sqrt(self.total)

    @property
    def sd_without_position_d(self) -> Array:
        """Core spread where the position is taken through the optics apart [D]."""
        return np.sqrt(self.without_position)


def total_slopes(
    *,
    length_d_per_mm: ArrayLike,
    cornea_d_per_d: ArrayLike,
    position_d_per_mm: ArrayLike,
    position_mm_per_length_mm: ArrayLike = 0.0,
    position_mm_per_cornea_d: ArrayLike = 0.0,
    position_mm_per_chamber_mm: ArrayLike = 0.0,
) -> TotalSlopes:
    """Return the slopes that a measurement error acts through.

    Parameters
    ----------
    length_d_per_mm, cornea_d_per_d, position_d_per_mm
        Slopes of the optics with the other inputs held fixed.
    position_mm_per_length_mm, position_mm_per_cornea_d, position_mm_per_chamber_mm
        Change of the predicted lens position with each measurement.

    Notes
    -----
    A wrong length also moves the predicted position, so a measurement error uses these total
    slopes; the scatter of the position itself uses the slope at fixed inputs.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> found = total_slopes(
    ...     length_d_per_mm=-2.85,
    ...     cornea_d_per_d=-0.99,
    ...     position_d_per_mm=1.44,
    ...     position_mm_per_length_mm=0.1,
    ... )
    >>> round(float(found.length_d_per_mm), 3)
    -2.706
    """
    position = np.asarray(position_d_per_mm, dtype=np.float64)
    per_length = np.asarray(position_mm_per_length_mm, dtype=np.float64)
    per_cornea = np.asarray(position_mm_per_cornea_d, dtype=np.float64)
    return TotalSlopes(
        length_d_per_mm=np.asarray(length_d_per_mm, dtype=np.float64) + position * per_length,
        cornea_d_per_d=np.asarray(cornea_d_per_d, dtype=np.float64) + position * per_cornea,
        chamber_d_per_mm=position * np.asarray(position_mm_per_chamber_mm, dtype=np.float64),
    )


def core_budget(
    *,
    length_d_per_mm: ArrayLike,
    cornea_d_per_d: ArrayLike,
    position_d_per_mm: ArrayLike,
    power_d_per_d: ArrayLike,
    length_sd_mm: ArrayLike,
    cornea_sd_d: ArrayLike,
    position_sd_mm: ArrayLike,
    label_sd_d: ArrayLike,
    refraction_sd_d: ArrayLike,
    chamber_d_per_mm: ArrayLike = 0.0,
    chamber_sd_mm: ArrayLike = 0.0,
    length_chamber_correlation: ArrayLike = 0.0,
    position_mean_sd_mm: ArrayLike = 0.0,
    tilt_sd_d: ArrayLike = 0.0,
    disagreement_d2: ArrayLike = 0.0,
) -> Budget:
    """Return the variances of the refraction by part.

    Parameters
    ----------
    length_d_per_mm, cornea_d_per_d, chamber_d_per_mm
        Total slopes, from :func:`total_slopes`.
    position_d_per_mm, power_d_per_d
        Slopes of the optics at fixed inputs.
    length_sd_mm, cornea_sd_d, chamber_sd_mm
        Spreads of the measurements.
    length_chamber_correlation
        Correlation of the errors of length and chamber depth, -1 to 1.
    position_sd_mm
        Spread of the lens position from eye to eye in this placement.
    position_mean_sd_mm
        How well the mean position of this placement is known.
    label_sd_d
        Spread of the true power about the label, at the lens.
    refraction_sd_d
        Spread of a recorded refraction about the settled one.
    tilt_sd_d
        From :func:`tilt_sd_d`.
    disagreement_d2
        From :func:`zonule.formulas.uncertainty.disagreement.excess_variance_d2`.

    Returns
    -------
    Budget
        Variances [D²]; ``total_sd_d`` is the core spread of the law.

    Notes
    -----
    Steps between stocked powers are no error of a lens that has been chosen. A known bias of a
    method is taken off its reading beforehand; it is no spread either.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> budget = core_budget(
    ...     length_d_per_mm=-2.80,
    ...     cornea_d_per_d=-1.00,
    ...     position_d_per_mm=1.44,
    ...     power_d_per_d=-0.70,
    ...     length_sd_mm=0.04,
    ...     cornea_sd_d=0.18,
    ...     position_sd_mm=0.185,
    ...     label_sd_d=0.15,
    ...     refraction_sd_d=0.20,
    ... )
    >>> round(float(budget.total_sd_d), 2), round(float(budget.sd_without_position_d), 2)
    (0.41, 0.31)
    """
    length = _product(length_d_per_mm, length_sd_mm)
    chamber = _product(chamber_d_per_mm, chamber_sd_mm)
    parts = (
        length**2,
        _product(cornea_d_per_d, cornea_sd_d) ** 2,
        chamber**2,
        2.0 * np.asarray(length_chamber_correlation, dtype=np.float64) * length * chamber,
        _product(position_d_per_mm, position_sd_mm) ** 2,
        _product(position_d_per_mm, position_mean_sd_mm) ** 2,
        _product(power_d_per_d, label_sd_d) ** 2,
        np.asarray(refraction_sd_d, dtype=np.float64) ** 2,
        np.asarray(tilt_sd_d, dtype=np.float64) ** 2,
        np.asarray(disagreement_d2, dtype=np.float64),
    )
    return Budget(*np.broadcast_arrays(*parts))


def spreads_d(budget: Budget) -> dict[str, Array]:
    """Return the standard deviation of each part a person is shown, by name.

    Examples
    --------
    >>> parts = Budget(*(np.array(v) for v in (0.01, 0.03, 0, 0, 0.09, 0, 0.01, 0.04, 0, 0)))
    >>> {name: round(float(sd), 2) for name, sd in spreads_d(parts).items() if sd > 0}
    {'measured': 0.2, 'position': 0.3, 'label': 0.1, 'refraction': 0.2}
    """
    names = ("position", "position_mean", "label", "refraction", "tilt", "disagreement")
    return {
        "measured": np.sqrt(budget.measured),
        **{name: np.sqrt(getattr(budget, name)) for name in names},
    }


def tilt_shift_d(
    *, lens_power_d: ArrayLike, tilt_mean_deg: ArrayLike, tilt_sd_deg: ArrayLike
) -> Array:
    """Return the mean shift of the refraction by tilt beyond that of an ordinary bag lens.

    Parameters
    ----------
    lens_power_d
        Power of the lens [D].
    tilt_mean_deg, tilt_sd_deg
        Mean and spread of the tilt in this placement [degrees].

    Returns
    -------
    Array
        Shift [D]; negative is myopic.

    Notes
    -----
    ``-0.64 P (u^2 + v^2 - 0.0750^2)``, mean u and spread v in radians.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> round(float(tilt_shift_d(lens_power_d=20.5, tilt_mean_deg=5.0, tilt_sd_deg=2.5)), 3)
    -0.051
    """
    u, v = np.radians(tilt_mean_deg), np.radians(tilt_sd_deg)
    power = np.asarray(lens_power_d, dtype=np.float64)
    return np.asarray(-TILT_EFFECT * power * (u**2 + v**2 - ORDINARY_TILT_RAD**2))


def tilt_sd_d(
    *, lens_power_d: ArrayLike, tilt_mean_deg: ArrayLike, tilt_sd_deg: ArrayLike
) -> Array:
    """Return the spread of the refraction that the scatter of tilt makes.

    Parameters as in :func:`tilt_shift_d`.

    Notes
    -----
    ``0.64 |P| sqrt(2 v^4 + 4 u^2 v^2)``: the spread of a squared normal.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> round(float(tilt_sd_d(lens_power_d=20.5, tilt_mean_deg=5.0, tilt_sd_deg=2.5)), 3)
    0.106
    """
    u, v = np.radians(tilt_mean_deg), np.radians(tilt_sd_deg)
    power = np.abs(np.asarray(lens_power_d, dtype=np.float64))
    return np.asarray(TILT_EFFECT * power * np.sqrt(2.0 * v**4 + 4.0 * u**2 * v**2))


def own_spread(
    *,
    published_sd: ArrayLike,
    own_sd: ArrayLike,
    own_eyes: ArrayLike,
    published_counts_for: ArrayLike = EYES_A_PUBLISHED_SPREAD_COUNTS_FOR,
) -> Array:
    """Return a spread between the published one and the surgeon's own.

    Parameters
    ----------
    published_sd, own_sd
        The two spreads, in one unit. With fewer than two own eyes there is no own spread and
        the published one is returned, whatever stands in ``own_sd``.
    own_eyes
        Number of own eyes n.
    published_counts_for
        Number of eyes that the published spread counts for.

    Notes
    -----
    ``s^2 = (10 s0^2 + (n - 1) s_own^2) / (10 + n - 1)``.

    Departures from print: none; nothing is printed. Source: own_derivation.

    Examples
    --------
    >>> round(float(own_spread(published_sd=0.45, own_sd=0.60, own_eyes=11)), 3)
    0.53
    """
    freedom = np.maximum(np.asarray(own_eyes, dtype=np.float64) - 1.0, 0.0)
    prior = np.asarray(published_counts_for, dtype=np.float64)
    own = np.where(freedom > 0.0, np.asarray(own_sd, dtype=np.float64), 0.0)
    published = np.asarray(published_sd, dtype=np.float64)
    pooled = (prior * published**2 + freedom * own**2) / (prior + freedom)
    return np.asarray(np.sqrt(pooled))


def _product(slope: ArrayLike, sd: ArrayLike) -> Array:
    return np.asarray(slope, dtype=np.float64) * np.asarray(sd, dtype=np.float64)
