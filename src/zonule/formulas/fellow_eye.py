"""What the first eye of a patient says about the second.

Part of an error goes with the patient (how the cornea bends light, how the length is read, how
the refraction is taken, how deep the lens settles), part with the eye, part with the place in
which this lens lies. Only the first part tells anything about the other eye, so the share that
is carried over follows from where the first lens sits. Gross errors are taken as belonging to
one eye: the larger the first error, the less of it is carried.

Every error is achieved minus predicted **for the placement the lens has**. Arrays broadcast; NaN
in, NaN out; nothing is raised and nothing is warned about.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.formulas.uncertainty.law import Law

Array = NDArray[np.float64]
Number: TypeAlias = float | Array


class Eye(NamedTuple):
    """One eye with its lens: slopes of the refraction, and errors that stay with this eye."""

    length_d_per_mm: Number
    cornea_d_per_d: Number
    position_d_per_mm: Number
    power_d_per_d: Number
    length_sd_mm: Number
    cornea_sd_d: Number
    refraction_sd_d: Number
    label_sd_d: Number
    position_sd_mm: Number
    """Scatter of the lens position that goes with this eye and this placement alone."""
    position_mean_sd_mm: Number
    """How well the mean position of this placement is known in these hands."""
    anatomy_share: Number
    """How much of the patient's own lens depth shows in this placement: 1 bag, 0 loose sulcus."""


class Shared(NamedTuple):
    """Spread of the errors that go with the patient."""

    length_sd_mm: Number
    cornea_sd_d: Number
    refraction_sd_d: Number
    position_sd_mm: Number


class CarryOver(NamedTuple):
    """What is carried over, and what the second eye's spread becomes."""

    share: Array
    """Share of the first error that is carried over."""
    share_of_position_d_per_mm: Array
    """What is carried per millimetre that the first lens lies off its place; 0 if unmeasured."""
    core_probability: Array
    """Chance that the first error holds no gross error."""
    mean_d: Array
    """Expected error of the second eye."""
    sd_d: Array
    """Its spread, without the second eye's own gross errors."""
    sd_before_d: Array
    """The spread without the first eye."""
    gain: Array
    """Share by which the spread of the second eye shrinks when the first has no gross error."""
    variance_first_d2: Array
    variance_second_d2: Array
    covariance_d2: Array
    residual_d: Array
    """First error without what the measured position of its lens explains; NaN if unmeasured."""
    means_d: Array
    """Last axis: expected second error if the first holds no gross error, and if it does."""
    sds_d: Array
    """Last axis: the same for its spread."""


def carry_over(
    *,
    first: Eye,
    second: Eye,
    shared: Shared,
    first_error_d: ArrayLike,
    tail_weight: ArrayLike,
    tail_sd_d: ArrayLike,
    same_placement: ArrayLike = False,
    same_length_method: ArrayLike = True,
    same_keratometer: ArrayLike = True,
    same_kind_of_refraction: ArrayLike = True,
    measured_deviation_mm: ArrayLike = np.nan,
    measured_sd_mm: ArrayLike = np.nan,
    known_bias_first_d: ArrayLike = 0.0,
    known_bias_second_d: ArrayLike = 0.0,
) -> CarryOver:
    """Return what the first eye's error says about the second eye's.

    Parameters
    ----------
    first, second
        The two eyes, each with the lens in the place it has or would have.
    shared
        Errors that go with the patient.
    first_error_d
        Achieved minus predicted, for the placement that the first lens has [D].
    tail_weight, tail_sd_d
        Share of first eyes with a gross error of their own, and its spread [D].
    same_placement
        Whether both lenses lie in the same placement, so that the surgeon's mean offset there is
        common to both.
    same_length_method, same_keratometer, same_kind_of_refraction
        Whether both eyes were measured alike. Where not, that error stays with each eye.
    measured_deviation_mm
        Position of the first lens minus the position predicted for its placement [mm]; NaN
        where it was not measured.
    measured_sd_mm
        Spread of that measurement, with the step from a physical to an optical position [mm].
    known_bias_first_d, known_bias_second_d
        Error that is known beforehand, such as that of a formula with a bias by corneal power.
        It is taken off before the share is carried and put back for the second eye.

    Returns
    -------
    CarryOver
        Shares, expected error and spread; variances and covariance beside them.

    Notes
    -----
    With covariance C and variances V1, V2 the share is ``C / V1``; with the position of the
    first lens measured it is ``c' S^-1`` over the pair (error, deviation). With a tail the chance
    q that the first error holds no gross one follows from the two densities, and the share is the
    mean of the shares with V1 and with ``V1 + tau^2``.

    Departures from print: none; nothing is printed. Source: own_derivation. How the errors are
    split between patient and eye is an assumption, only its sum is tied to printed correlations.

    Examples
    --------
    >>> eye = Eye(
    ...     length_d_per_mm=-2.79,
    ...     cornea_d_per_d=-0.99,
    ...     position_d_per_mm=1.42,
    ...     power_d_per_d=-0.70,
    ...     length_sd_mm=0.018,
    ...     cornea_sd_d=0.10,
    ...     refraction_sd_d=0.14,
    ...     label_sd_d=0.15,
    ...     position_sd_mm=0.12,
    ...     position_mean_sd_mm=0.0,
    ...     anatomy_share=1.0,
    ... )
    >>> shared = Shared(
    ...     length_sd_mm=0.035, cornea_sd_d=0.15, refraction_sd_d=0.14, position_sd_mm=0.14
    ... )
    >>> carried = carry_over(
    ...     first=eye,
    ...     second=eye,
    ...     shared=shared,
    ...     first_error_d=-0.6,
    ...     tail_weight=0.02,
    ...     tail_sd_d=1.36,
    ... )
    >>> round(float(carried.share), 2), round(float(carried.mean_d), 2)
    (0.55, -0.33)
    """
    position_first = _position_variance(first, shared)
    common_position = _common_position(first, second, shared, same_placement)
    covariance = (
        first.position_d_per_mm * second.position_d_per_mm * common_position
        + first.length_d_per_mm
        * second.length_d_per_mm
        * _if(same_length_method, shared.length_sd_mm)
        + first.cornea_d_per_d * second.cornea_d_per_d * _if(same_keratometer, shared.cornea_sd_d)
        + _if(same_kind_of_refraction, shared.refraction_sd_d)
    )
    seen = _Seen(
        error=np.asarray(first_error_d, dtype=np.float64) - np.asarray(known_bias_first_d),
        deviation=np.asarray(measured_deviation_mm, dtype=np.float64),
        variance_error=_variance(first, shared),
        variance_deviation=position_first + np.asarray(measured_sd_mm, dtype=np.float64) ** 2,
        error_with_deviation=first.position_d_per_mm * position_first,
        second_with_error=covariance,
        second_with_deviation=second.position_d_per_mm * common_position,
        variance_second=_variance(second, shared),
    )
    tail_variance = np.asarray(tail_sd_d, dtype=np.float64) ** 2
    core, gross = _regress(seen), _regress(_with_gross_error(seen, tail_variance))
    return _mixed(
        core=core,
        gross=gross,
        core_probability=_core_probability(core, gross, np.asarray(tail_weight, dtype=np.float64)),
        seen=seen,
        residual=seen.error - first.position_d_per_mm * seen.deviation,
        bias_second=np.asarray(known_bias_second_d, dtype=np.float64),
    )


def second_eye_law(
    carried: CarryOver, *, centre_d: ArrayLike, tail_weight: ArrayLike, tail_sd_d: ArrayLike
) -> Law:
    """Return the predictive law of the second eye after the first has spoken.

    Parameters
    ----------
    carried
        From :func:`carry_over`.
    centre_d
        Predicted refraction of the second eye without the first [D].
    tail_weight, tail_sd_d
        The second eye's own gross errors.

    Examples
    --------
    >>> two = np.array([0.0, 0.0])
    >>> carried = CarryOver(
    ...     *(np.array(v) for v in (0.5, 0, 1, -0.3, 0.35, 0.4, 0.1, 0.16, 0.16, 0.08, np.nan)),
    ...     means_d=np.array([-0.3, -0.02]),
    ...     sds_d=np.array([0.35, 0.4]),
    ... )
    >>> law = second_eye_law(carried, centre_d=-0.25, tail_weight=0.02, tail_sd_d=1.36)
    >>> law.means_d.round(2).tolist()
    [-0.55, -0.27, -0.55, -0.27]
    """
    ordinary = carried.core_probability[..., None]
    weights = np.concatenate([ordinary, 1.0 - ordinary], axis=-1)
    tail = np.asarray(tail_weight, dtype=np.float64)[..., None]
    means = np.asarray(centre_d, dtype=np.float64)[..., None] + carried.means_d
    widened = np.hypot(carried.sds_d, np.asarray(tail_sd_d, dtype=np.float64)[..., None])
    parts = np.broadcast_arrays(
        weights * (1.0 - tail), weights * tail, means, carried.sds_d, widened
    )
    return Law(
        weights=np.concatenate(parts[:2], axis=-1),
        means_d=np.concatenate([parts[2], parts[2]], axis=-1),
        sds_d=np.concatenate(parts[3:], axis=-1),
    )


class _Seen(NamedTuple):
    """What was seen of the first eye, and how it varies with the second eye's error."""

    error: Array
    deviation: Array
    variance_error: Number
    variance_deviation: Number
    error_with_deviation: Number
    second_with_error: Number
    second_with_deviation: Number
    variance_second: Number


class _Regression(NamedTuple):
    """The second eye's error given the first, if the first is of one kind."""

    share: Array
    share_of_position: Array
    mean: Array
    variance: Array
    log_density: Array
    """Of what was seen of the first eye, up to a constant."""


def _position_variance(eye: Eye, shared: Shared) -> Number:
    anatomy = eye.anatomy_share * shared.position_sd_mm
    return anatomy**2 + eye.position_sd_mm**2 + eye.position_mean_sd_mm**2


def _common_position(first: Eye, second: Eye, shared: Shared, same_placement: ArrayLike) -> Number:
    anatomy = first.anatomy_share * second.anatomy_share * shared.position_sd_mm**2
    offset = first.position_mean_sd_mm * second.position_mean_sd_mm
    return anatomy + np.where(same_placement, offset, 0.0)


def _if(alike: ArrayLike, sd: Number) -> Array:
    """Return the variance that both eyes share, which is none if they were measured unlike."""
    return np.where(alike, np.asarray(sd, dtype=np.float64) ** 2, 0.0)


def _variance(eye: Eye, shared: Shared) -> Number:
    length = eye.length_d_per_mm**2 * (shared.length_sd_mm**2 + eye.length_sd_mm**2)
    cornea = eye.cornea_d_per_d**2 * (shared.cornea_sd_d**2 + eye.cornea_sd_d**2)
    refraction = shared.refraction_sd_d**2 + eye.refraction_sd_d**2
    label = (eye.power_d_per_d * eye.label_sd_d) ** 2
    position = eye.position_d_per_mm**2 * _position_variance(eye, shared)
    return length + cornea + refraction + label + position


def _with_gross_error(seen: _Seen, tail_variance: Array) -> _Seen:
    return seen._replace(variance_error=seen.variance_error + tail_variance)


def _regress(seen: _Seen) -> _Regression:
    measured = ~np.isnan(seen.deviation)
    error, deviation = seen.error, np.where(measured, seen.deviation, 0.0)
    v11, v12, v22 = seen.variance_error, seen.error_with_deviation, seen.variance_deviation
    c1, c2 = seen.second_with_error, seen.second_with_deviation
    determinant = v11 * v22 - v12**2
    share = np.where(measured, (c1 * v22 - c2 * v12) / determinant, c1 / v11)
    of_position = np.where(measured, (c2 * v11 - c1 * v12) / determinant, 0.0)
    both = (v22 * error**2 - 2.0 * v12 * error * deviation + v11 * deviation**2) / determinant
    squared = np.where(measured, both, error**2 / v11)
    return _Regression(
        share=share,
        share_of_position=of_position,
        mean=share * error + of_position * deviation,
        variance=np.asarray(seen.variance_second - share * c1 - of_position * c2),
        log_density=-0.5 * (squared + np.log(np.where(measured, determinant, v11))),
    )


def _core_probability(core: _Regression, gross: _Regression, tail_weight: Array) -> Array:
    with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
        odds = np.log(tail_weight) - np.log1p(-tail_weight) + gross.log_density - core.log_density
        return np.asarray(1.0 / (1.0 + np.exp(odds)))


def _mixed(
    *,
    core: _Regression,
    gross: _Regression,
    core_probability: Array,
    seen: _Seen,
    residual: Array,
    bias_second: Array,
) -> CarryOver:
    q, not_q = core_probability, 1.0 - core_probability
    between = q * not_q * (core.mean - gross.mean) ** 2
    before, after, after_gross, *_ = np.broadcast_arrays(
        np.sqrt(seen.variance_second), np.sqrt(core.variance), np.sqrt(gross.variance), q
    )
    means = np.broadcast_arrays(core.mean + bias_second, gross.mean + bias_second, q)[:2]
    return CarryOver(
        share=q * core.share + not_q * gross.share,
        share_of_position_d_per_mm=q * core.share_of_position + not_q * gross.share_of_position,
        core_probability=q,
        mean_d=q * core.mean + not_q * gross.mean + bias_second,
        sd_d=np.sqrt(q * core.variance + not_q * gross.variance + between),
        sd_before_d=before,
        gain=1.0 - after / before,
        variance_first_d2=np.asarray(seen.variance_error, dtype=np.float64),
        variance_second_d2=np.asarray(seen.variance_second, dtype=np.float64),
        covariance_d2=np.asarray(seen.second_with_error, dtype=np.float64),
        residual_d=residual,
        means_d=np.stack(means, axis=-1),
        sds_d=np.stack([after, after_gross], axis=-1),
    )
