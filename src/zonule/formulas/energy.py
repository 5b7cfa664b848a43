"""Ultrasound energy: what a measure sums up, and what the own log says of a density.

The own log is read by a straight line through the logarithm of energy over the grade of nuclear
colour. Bands are those of the next eye (Student's t, line and scatter both uncertain), not of the
line. Arrays broadcast; cases stand on the last axis; NaN in, NaN out; nothing is raised and
nothing is warned about.

Departures from print
---------------------
The rise is printed as exponential for ultrasound time, without coefficients; it is taken over to
energy, and only own cases draw the line.

References
----------
davison2003locs, energy_definitions, own_derivation
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas import student_t

Array = NDArray[np.float64]

FEWEST: Final = 3
"""Cases below which a line has no scatter."""


class LogLine(NamedTuple):
    """A straight line through the logarithm of energy, with what its bands need."""

    intercept: Array
    slope_per_grade: Array
    sd: Array
    """Scatter of ln(energy) round the line, n - 2 degrees of freedom."""
    cases: Array
    mean_grade: Array
    grade_squares: Array
    """Sum of squares of the grades about their mean."""


def _number(value: ArrayLike) -> Array:
    return np.asarray(value, dtype=np.float64)


def energy(*, seconds: ArrayLike, power_share: ArrayLike, factor: ArrayLike) -> Array:
    """Return an energy measure: the sum of its terms over the last axis.

    Parameters
    ----------
    seconds
        Time of ultrasound in each mode [s].
    power_share
        Mean power or amplitude in each mode, 0 to 1.
    factor
        Weight of each mode in this measure.

    Examples
    --------
    >>> both = energy(seconds=[12.0, 45.0], power_share=[0.30, 0.60], factor=[1.0, 0.4])
    >>> round(float(both), 6)
    14.4
    """
    terms = _number(seconds) * _number(power_share) * _number(factor)
    return np.asarray(terms.sum(axis=-1), dtype=np.float64)


def fit_log_line(*, grade: ArrayLike, energy: ArrayLike) -> LogLine:
    """Return the line of least squares through ln(energy) over the grade.

    NaN throughout with fewer than three cases, or where all cases have one grade.

    Parameters
    ----------
    grade
        LOCS III nuclear colour of each case.
    energy
        Energy of each case, above 0, all of one measure, machine, mode and tip.

    Examples
    --------
    >>> line = fit_log_line(grade=[2.0, 3.0, 4.0, 5.0], energy=[5.0, 9.0, 22.0, 41.0])
    >>> round(float(line.slope_per_grade), 4), round(float(line.sd), 4)
    (0.7206, 0.0921)
    """
    found, response = np.broadcast_arrays(_number(grade), np.log(_number(energy)))
    cases = np.asarray(found.shape[-1], dtype=np.float64)
    middle, level = found.mean(axis=-1), response.mean(axis=-1)
    off, above = found - middle[..., None], response - level[..., None]
    squares = np.sum(off**2, axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        slope = np.where(squares > 0.0, np.sum(off * above, axis=-1) / squares, np.nan)
        rest = np.sum((above - slope[..., None] * off) ** 2, axis=-1)
        sd = np.sqrt(rest / (cases - 2.0)) if cases >= FEWEST else np.full_like(slope, np.nan)
    slope = np.where(np.isnan(sd), np.nan, slope)
    return LogLine(level - slope * middle, slope, sd, cases, middle, squares)


def next_eye(line: LogLine, *, grade: ArrayLike, probability: ArrayLike) -> Array:
    """Return the energy that the next eye of a grade stays below with a given probability.

    Parameters
    ----------
    line
        The line through the own log.
    grade
        LOCS III nuclear colour of the next eye.
    probability
        Between 0 and 1; 0.5 is the middle.

    Examples
    --------
    >>> line = fit_log_line(grade=[2.0, 3.0, 4.0, 5.0], energy=[5.0, 9.0, 22.0, 41.0])
    >>> [round(float(one), 1) for one in next_eye(line, grade=4.0, probability=[0.5, 0.9])]
    [20.4, 24.8]
    """
    at = _number(grade)
    centre = line.intercept + line.slope_per_grade * at
    with np.errstate(divide="ignore", invalid="ignore"):
        spread = line.sd * np.sqrt(
            1.0 + 1.0 / line.cases + (at - line.mean_grade) ** 2 / line.grade_squares
        )
    return np.exp(centre + student_t.quantile(probability, degrees=line.cases - 2.0) * spread)
