"""The thin-lens eye that the published power formulas share.

A cornea, a thin lens at a stated distance behind it, a retina, and one index for what lies
between. Each formula brings its own corneal power, its own length and its own lens position;
what happens between them is the same, and stands here once.

Arrays broadcast; NaN in, NaN out; nothing is raised and nothing is warned about.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

INDEX: Final = 1.336
"""Index of aqueous and vitreous."""
VERTEX_M: Final = 0.012
"""Distance from the spectacle plane to the cornea, in metres."""


class ThinEye(NamedTuple):
    """What a formula makes of an eye before any lens is chosen."""

    corneal_power_d: Array
    length_mm: Array
    lens_position_mm: Array


class Slopes(NamedTuple):
    """Change of the spectacle-plane refraction with each input, all others held fixed."""

    length_d_per_mm: Array
    cornea_d_per_d: Array
    position_d_per_mm: Array
    power_d_per_d: Array


def to_corneal_plane(spectacle_d: ArrayLike) -> Array:
    """Carry a refraction from the spectacle plane (12 mm) to the cornea.

    Examples
    --------
    >>> round(float(to_corneal_plane(-10.0)), 4)
    -8.9286
    """
    spectacle = np.asarray(spectacle_d, dtype=np.float64)
    return spectacle / (1.0 - VERTEX_M * spectacle)


def to_spectacle_plane(corneal_d: ArrayLike) -> Array:
    """Carry a refraction from the cornea to the spectacle plane (12 mm).

    Examples
    --------
    >>> round(float(to_spectacle_plane(to_corneal_plane(-10.0))), 12)
    -10.0
    """
    corneal = np.asarray(corneal_d, dtype=np.float64)
    return corneal / (1.0 + VERTEX_M * corneal)


def lens_power(
    *,
    corneal_power_d: ArrayLike,
    length_mm: ArrayLike,
    lens_position_mm: ArrayLike,
    target_refraction_d: ArrayLike,
) -> Array:
    """Return the lens power that gives a target refraction.

    Parameters
    ----------
    corneal_power_d
        Power of the cornea as the formula counts it [D].
    length_mm
        Optical length from the cornea to the retina [mm].
    lens_position_mm
        Distance from the cornea to the thin lens [mm].
    target_refraction_d
        Wanted spherical equivalent at the spectacle plane, 12 mm [D].

    Returns
    -------
    Array
        Lens power in aqueous [D], broadcast over the inputs.

    Notes
    -----
    Departures from print: none; the long fractions in which the formulas are printed reduce to
    this vergence form.

    Examples
    --------
    >>> power = lens_power(
    ...     corneal_power_d=43.0, length_mm=23.5, lens_position_mm=5.2, target_refraction_d=0.0
    ... )
    >>> round(float(power), 2)
    21.36
    """
    cornea = np.asarray(corneal_power_d, dtype=np.float64) + to_corneal_plane(target_refraction_d)
    length = np.asarray(length_mm, dtype=np.float64)
    position = np.asarray(lens_position_mm, dtype=np.float64)
    needed_behind_lens = 1000.0 * INDEX / (length - position)
    arriving_at_lens = INDEX / (INDEX / cornea - position / 1000.0)
    return needed_behind_lens - arriving_at_lens


def refraction(
    *,
    corneal_power_d: ArrayLike,
    length_mm: ArrayLike,
    lens_position_mm: ArrayLike,
    lens_power_d: ArrayLike,
) -> Array:
    """Return the spectacle-plane refraction that a given lens leaves.

    The inverse of :func:`lens_power` in the target; parameters as there.

    Notes
    -----
    Departures from print: none.

    Examples
    --------
    >>> left_over = refraction(
    ...     corneal_power_d=43.0, length_mm=23.5, lens_position_mm=5.2, lens_power_d=22.0
    ... )
    >>> round(float(left_over), 2)
    -0.45
    """
    length = np.asarray(length_mm, dtype=np.float64)
    position = np.asarray(lens_position_mm, dtype=np.float64)
    needed = 1000.0 * INDEX / (length - position) - np.asarray(lens_power_d, dtype=np.float64)
    at_cornea = INDEX * needed / (INDEX + position / 1000.0 * needed)
    return to_spectacle_plane(at_cornea - np.asarray(corneal_power_d, dtype=np.float64))


def lens_position(
    *,
    corneal_power_d: ArrayLike,
    length_mm: ArrayLike,
    lens_power_d: ArrayLike,
    refraction_d: ArrayLike,
) -> Array:
    """Return the lens position that explains an outcome.

    Parameters
    ----------
    corneal_power_d, length_mm
        As in :func:`lens_power`.
    lens_power_d
        Power of the implanted lens [D]. At zero no position explains anything: NaN.
    refraction_d
        Achieved spherical equivalent at the spectacle plane [D].

    Returns
    -------
    Array
        Distance from the cornea to the thin lens [mm]; NaN where no position explains the
        outcome, and where the refraction takes away the whole power of the cornea.

    Notes
    -----
    The closed-form root of the quadratic that :func:`refraction` becomes when the position is
    the unknown. Weak lenses (|power| below about 3 D) say next to nothing about their position.

    Departures from print: none.

    Examples
    --------
    >>> position = lens_position(
    ...     corneal_power_d=43.0, length_mm=23.5, lens_power_d=22.0, refraction_d=-0.45
    ... )
    >>> round(float(position), 1)
    5.2
    """
    length = np.asarray(length_mm, dtype=np.float64)
    power = np.asarray(lens_power_d, dtype=np.float64)
    cornea = np.asarray(corneal_power_d, dtype=np.float64) + to_corneal_plane(refraction_d)
    with np.errstate(divide="ignore", invalid="ignore"):
        image = 1000.0 * INDEX / cornea
        gap = image - length
        root = np.sqrt(gap**2 + 4000.0 * INDEX * gap / power)
        found = (length + image - root) / 2.0
    return np.where((power == 0.0) | (cornea <= 0.0), np.nan, found)


def slopes(
    *,
    corneal_power_d: ArrayLike,
    length_mm: ArrayLike,
    lens_position_mm: ArrayLike,
    lens_power_d: ArrayLike,
) -> Slopes:
    """Return the slopes of :func:`refraction`, exactly, at fixed other inputs.

    Parameters as in :func:`refraction`.

    Examples
    --------
    >>> at = dict(corneal_power_d=42.963, length_mm=23.5, lens_position_mm=5.2, lens_power_d=22.0)
    >>> round(float(slopes(**at).position_d_per_mm), 2)
    1.44
    """
    length = np.asarray(length_mm, dtype=np.float64)
    position = np.asarray(lens_position_mm, dtype=np.float64)
    behind = 1000.0 * INDEX / (length - position)
    needed = behind - np.asarray(lens_power_d, dtype=np.float64)
    through = INDEX / (INDEX + position / 1000.0 * needed)
    at_cornea = through * needed - np.asarray(corneal_power_d, dtype=np.float64)
    to_spectacles = 1.0 / (1.0 + VERTEX_M * at_cornea) ** 2
    behind_per_mm = behind**2 / (1000.0 * INDEX)
    carried = to_spectacles * through**2
    return Slopes(
        length_d_per_mm=-carried * behind_per_mm,
        cornea_d_per_d=-to_spectacles * np.ones_like(carried),
        position_d_per_mm=carried * (behind_per_mm - needed**2 / (1000.0 * INDEX)),
        power_d_per_d=-carried,
    )
