"""The endothelial cell count: usual for an age, after an operation, and over the years.

Counts in cells/mm², losses and yearly rates as shares. Arrays broadcast; NaN in, NaN out;
nothing is raised and nothing is warned about.

Departures from print
---------------------
The fall with age is printed as two points; between them it is taken as the same share each year.
Losses are printed as mean and standard deviation; they are read as normal, and a loss below none
(a second count above the first) is set to none.

References
----------
bourne2003ageing, bourne1997tenyears, chen2021endothelium, dalby2020dislocation, own_derivation
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas.uncertainty import normal

Array = NDArray[np.float64]


def _number(value: ArrayLike) -> Array:
    return np.asarray(value, dtype=np.float64)


def usual_count(
    *,
    age_years: ArrayLike,
    first_age_years: ArrayLike,
    first_per_mm2: ArrayLike,
    second_age_years: ArrayLike,
    second_per_mm2: ArrayLike,
) -> Array:
    """Return the count that is usual for an age, by the same share lost each year.

    Parameters
    ----------
    age_years
        Age [years].
    first_age_years, first_per_mm2, second_age_years, second_per_mm2
        Two printed points: age [years] and count [cells/mm²].

    Examples
    --------
    >>> points = {"first_age_years": 15, "first_per_mm2": 3400}
    >>> points |= {"second_age_years": 85, "second_per_mm2": 2300}
    >>> round(float(usual_count(age_years=70, **points)))
    2501
    """
    rate = yearly_rate(
        before_per_mm2=first_per_mm2,
        after_per_mm2=second_per_mm2,
        years=_number(second_age_years) - _number(first_age_years),
    )
    passed = _number(age_years) - _number(first_age_years)
    return count_later(count_per_mm2=first_per_mm2, years=passed, yearly_rate=rate)


def count_after(*, before_per_mm2: ArrayLike, loss_share: ArrayLike) -> Array:
    """Return the count after an operation.

    Parameters
    ----------
    before_per_mm2
        The count before it [cells/mm²].
    loss_share
        Share lost, 0 to 1.

    Examples
    --------
    >>> float(count_after(before_per_mm2=2400, loss_share=0.15))
    2040.0
    """
    return _number(before_per_mm2) * (1.0 - _number(loss_share))


def loss_quantile(*, mean_share: ArrayLike, sd_share: ArrayLike, probability: ArrayLike) -> Array:
    """Return the loss that a given share of eyes stays below; never below none or above all.

    Parameters
    ----------
    mean_share, sd_share
        Printed mean and standard deviation of the loss, as shares.
    probability
        Share of eyes that lose less, 0 to 1.

    Examples
    --------
    >>> round(float(loss_quantile(mean_share=0.289, sd_share=0.092, probability=0.95)), 3)
    0.44
    >>> float(loss_quantile(mean_share=0.15, sd_share=0.12, probability=0.05))
    0.0
    """
    loss = _number(mean_share) + _number(sd_share) * normal.quantile(probability)
    return np.clip(loss, 0.0, 1.0)


def yearly_rate(*, before_per_mm2: ArrayLike, after_per_mm2: ArrayLike, years: ArrayLike) -> Array:
    """Return the share lost in a year between two counts.

    Parameters
    ----------
    before_per_mm2, after_per_mm2
        First and second count [cells/mm²].
    years
        Time between them [years].

    Examples
    --------
    >>> round(float(yearly_rate(before_per_mm2=2715, after_per_mm2=2539, years=10.6)), 4)
    0.0063
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.log(_number(before_per_mm2) / _number(after_per_mm2)) / _number(years)


def count_later(*, count_per_mm2: ArrayLike, years: ArrayLike, yearly_rate: ArrayLike) -> Array:
    """Return the count after some years.

    Parameters
    ----------
    count_per_mm2
        The count now [cells/mm²].
    years
        Time from now [years].
    yearly_rate
        Share lost in a year, by continuous loss.

    Examples
    --------
    >>> round(float(count_later(count_per_mm2=2040, years=10, yearly_rate=0.025)))
    1589
    """
    return _number(count_per_mm2) * np.exp(-_number(yearly_rate) * _number(years))


def years_to(
    *, count_per_mm2: ArrayLike, threshold_per_mm2: ArrayLike, yearly_rate: ArrayLike
) -> Array:
    """Return the years until the count falls to a threshold; none where it lies there already.

    Parameters
    ----------
    count_per_mm2
        The count now [cells/mm²].
    threshold_per_mm2
        The threshold [cells/mm²].
    yearly_rate
        Share lost in a year, by continuous loss.

    Examples
    --------
    >>> round(float(years_to(count_per_mm2=2040, threshold_per_mm2=700, yearly_rate=0.025)), 1)
    42.8
    >>> float(years_to(count_per_mm2=650, threshold_per_mm2=700, yearly_rate=0.025))
    0.0
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        years = np.log(_number(count_per_mm2) / _number(threshold_per_mm2)) / _number(yearly_rate)
    return np.maximum(years, 0.0)
