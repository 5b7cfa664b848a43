"""The published power formulas: one table lists them, one selector picks.

Each is a module with the same five functions: ``thin_eye``, ``lens_position``, ``lens_power``,
``refraction`` and ``position_from_outcome``. Keratometry is of index 1.3375 everywhere, chamber
depths include the cornea, refractions are spherical equivalents at the spectacle plane, 12 mm.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from zonule.errors import NoSuchName
from zonule.formulas.optics.thin_lens import Array, ThinEye
from zonule.formulas.power import haigis, hofferq, holladay1, srkt, t2


@dataclass(frozen=True, slots=True)
class PowerFormula:
    """One power formula: what it is called, what it takes, and how far it is verified."""

    name: str
    label: str
    """As the trade writes it."""
    constants: tuple[str, ...]
    """The keywords its lens constants go by."""
    needs_chamber_depth: bool
    reference: str
    status: str
    """``confirmed``: the whole formula reproduces printed results (its single coefficients were
    not seen in print). ``memory``: nothing printed was found to hold it against."""
    verified_by: str
    """What the status rests on, in a few words."""
    thin_eye: Callable[..., ThinEye]
    lens_position: Callable[..., Array]
    lens_power: Callable[..., Array]
    refraction: Callable[..., Array]
    position_from_outcome: Callable[..., Array]


_TABLE: Final = (
    PowerFormula(
        name="srkt",
        label="SRK/T",
        constants=("a_constant",),
        needs_chamber_depth=False,
        reference="retzlaff1990srkt",
        status="confirmed",
        verified_by="a printed table, 20 to 32 mm at 42.5 D; the mean of 888 eyes",
        thin_eye=srkt.thin_eye,
        lens_position=srkt.lens_position,
        lens_power=srkt.lens_power,
        refraction=srkt.refraction,
        position_from_outcome=srkt.position_from_outcome,
    ),
    PowerFormula(
        name="t2",
        label="T2",
        constants=("a_constant",),
        needs_chamber_depth=False,
        reference="sheard2010t2",
        status="memory",
        verified_by="nothing printed was found",
        thin_eye=t2.thin_eye,
        lens_position=t2.lens_position,
        lens_power=t2.lens_power,
        refraction=t2.refraction,
        position_from_outcome=t2.position_from_outcome,
    ),
    PowerFormula(
        name="holladay1",
        label="Holladay 1",
        constants=("surgeon_factor",),
        needs_chamber_depth=False,
        reference="holladay1988three",
        status="confirmed",
        verified_by="the mean of 888 eyes",
        thin_eye=holladay1.thin_eye,
        lens_position=holladay1.lens_position,
        lens_power=holladay1.lens_power,
        refraction=holladay1.refraction,
        position_from_outcome=holladay1.position_from_outcome,
    ),
    PowerFormula(
        name="hofferq",
        label="Hoffer Q",
        constants=("pacd_mm",),
        needs_chamber_depth=False,
        reference="hoffer1993q",
        status="confirmed",
        verified_by="a printed table, 20 to 32 mm at 42.5 D; the mean of 888 eyes",
        thin_eye=hofferq.thin_eye,
        lens_position=hofferq.lens_position,
        lens_power=hofferq.lens_power,
        refraction=hofferq.refraction,
        position_from_outcome=hofferq.position_from_outcome,
    ),
    PowerFormula(
        name="haigis",
        label="Haigis",
        constants=("a0", "a1", "a2"),
        needs_chamber_depth=True,
        reference="haigis2000immersion",
        status="confirmed",
        verified_by="the mean of 888 eyes",
        thin_eye=haigis.thin_eye,
        lens_position=haigis.lens_position,
        lens_power=haigis.lens_power,
        refraction=haigis.refraction,
        position_from_outcome=haigis.position_from_outcome,
    ),
)

FORMULAS: Final[Mapping[str, PowerFormula]] = MappingProxyType({one.name: one for one in _TABLE})
"""Every power formula by name."""


def select(name: str) -> PowerFormula:
    """Return the formula with that name.

    Raises
    ------
    NoSuchName
        If there is none.

    Examples
    --------
    >>> select("hofferq").label
    'Hoffer Q'
    """
    if name not in FORMULAS:
        raise NoSuchName("formula", name, FORMULAS)
    return FORMULAS[name]


def arguments(
    name: str,
    *,
    anterior_chamber_depth_mm: ArrayLike | None,
    constants: Mapping[str, float],
) -> dict[str, ArrayLike]:
    """Return the keywords that a formula takes beside length and keratometry, and no others.

    Parameters
    ----------
    name
        Name of the formula.
    anterior_chamber_depth_mm
        Measured depth including the cornea [mm]; None where it is unknown, which gives NaN in
        the formula that needs it and changes nothing in the others.
    constants
        Constants by name; those of other formulas are ignored.

    Raises
    ------
    NoSuchName
        If there is no such formula, or a constant that it needs is not among ``constants``.

    Examples
    --------
    >>> both = {"a_constant": 118.4, "surgeon_factor": 1.45}
    >>> arguments("holladay1", anterior_chamber_depth_mm=3.1, constants=both)
    {'surgeon_factor': 1.45}
    """
    formula = select(name)
    for constant in formula.constants:
        if constant not in constants:
            raise NoSuchName(f"constant for {formula.label}", constant, constants)
    taken: dict[str, ArrayLike] = {constant: constants[constant] for constant in formula.constants}
    if formula.needs_chamber_depth:
        taken["anterior_chamber_depth_mm"] = (
            np.nan if anterior_chamber_depth_mm is None else anterior_chamber_depth_mm
        )
    return taken


def thin_eye(
    name: str,
    *,
    axial_length_mm: ArrayLike,
    corneal_power_d: ArrayLike,
    anterior_chamber_depth_mm: ArrayLike | None,
    constants: Mapping[str, float],
) -> ThinEye:
    """Return the eye as a named formula sees it, handing over only what that formula takes.

    Parameters
    ----------
    name
        Name of the formula.
    axial_length_mm
        Axial length [mm].
    corneal_power_d
        Keratometry of index 1.3375 [D].
    anterior_chamber_depth_mm, constants
        As in :func:`arguments`.

    Returns
    -------
    ThinEye
        Corneal power [D], length [mm] and lens position [mm], each as wide as the inputs it
        depends on; NaN where one of those is not finite.

    Raises
    ------
    NoSuchName
        As in :func:`arguments`.

    Examples
    --------
    >>> eye = thin_eye(
    ...     "srkt",
    ...     axial_length_mm=23.5,
    ...     corneal_power_d=43.5,
    ...     anterior_chamber_depth_mm=None,
    ...     constants={"a_constant": 118.4},
    ... )
    >>> round(float(eye.length_mm), 2)
    23.68
    """
    further = arguments(
        name, anterior_chamber_depth_mm=anterior_chamber_depth_mm, constants=constants
    )
    return select(name).thin_eye(
        axial_length_mm=axial_length_mm, corneal_power_d=corneal_power_d, **further
    )
