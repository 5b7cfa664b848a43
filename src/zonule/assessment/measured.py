"""What of an eye's measurements a power is computed from, and how sure each is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from zonule.findings.answers import Unknown, is_known
from zonule.findings.density import dense
from zonule.findings.derived import chamber_depth_mm, deciding_biometry
from zonule.findings.records import Biometry, Eye
from zonule.library.reading import table

LengthMethod = Literal["optical", "ultrasound_immersion", "ultrasound_contact"]


@dataclass(frozen=True, slots=True)
class Measured:
    """The numbers of one eye that the optics take, with the spread of each."""

    axial_length_mm: float
    corneal_power_d: float
    anterior_chamber_depth_mm: float | None
    length_method: LengthMethod
    length_sd_mm: float
    corneal_power_sd_d: float
    chamber_depth_sd_mm: float
    length_chamber_correlation: float
    biometry: Biometry
    length_spread_says: str


def length_method(method: str) -> LengthMethod:
    """Return the length method that an instrument's method belongs to.

    Examples
    --------
    >>> length_method("optical_swept_source"), length_method("ultrasound_contact")
    ('optical', 'ultrasound_contact')
    """
    if method == "ultrasound_immersion":
        return "ultrasound_immersion"
    if method == "ultrasound_contact":
        return "ultrasound_contact"
    return "optical"


def missing_for_power(eye: Eye) -> tuple[str, ...]:
    """Return the names of what must still be measured before any power can be computed.

    Examples
    --------
    >>> missing_for_power(Eye(side="left"))
    ('biometry',)
    """
    biometry = deciding_biometry(eye)
    if biometry is None:
        return ("biometry",)
    needed = ("method", "axial_length_mm", "k_flat_d", "k_steep_d")
    return tuple(name for name in needed if isinstance(getattr(biometry, name), Unknown))


def _figure(row: Mapping[str, Any] | float) -> float:
    return float(row["value"]) if isinstance(row, Mapping) else float(row)


def _length_spread(eye: Eye, biometry: Biometry, method: LengthMethod) -> tuple[float, str]:
    row = table("prediction")["length"][method]
    repeat = biometry.axial_length_sd_mm
    spread = _figure(row["sd_mm"])
    says = f"{row['label']} length, ±{spread:.2f} mm"
    if is_known(repeat) and repeat > row["repeat_sd_mm"]:
        spread = (repeat**2 + row["calibration_sd_mm"] ** 2) ** 0.5
        says = f"{row['label']} length, ±{spread:.2f} mm from the repeats of this eye"
    if method != "optical" and dense(eye) is not False and eye.lens_status != "aphakic":
        extra = float(table("prediction")["length"]["dense_lens_extra_sd_mm"]["value"])
        spread = (spread**2 + extra**2) ** 0.5
        says += f", {spread:.2f} mm with what the speed of sound in a dense lens leaves open"
    return spread, says


def measured(eye: Eye) -> Measured | None:
    """Return what the optics take from an eye; None while :func:`missing_for_power` names anything.

    The chamber depth is passed on only from a phakic eye and with a stated or usual definition
    (from the front of the cornea); a depth from the back of the cornea is brought to the front
    by the corneal thickness, and omitted when that is not known.
    """
    biometry = deciding_biometry(eye)
    if biometry is None or missing_for_power(eye):
        return None
    assert isinstance(biometry.method, str)
    assert isinstance(biometry.axial_length_mm, float)
    assert isinstance(biometry.k_flat_d, float)
    assert isinstance(biometry.k_steep_d, float)
    method = length_method(biometry.method)
    spread, says = _length_spread(eye, biometry, method)
    law = table("prediction")
    depth = chamber_depth_mm(eye)
    chamber = law["chamber"]["optical_sd_mm" if method == "optical" else "ultrasound_sd_mm"]
    return Measured(
        axial_length_mm=biometry.axial_length_mm,
        corneal_power_d=(biometry.k_flat_d + biometry.k_steep_d) / 2.0,
        anterior_chamber_depth_mm=depth if is_known(depth) else None,
        length_method=method,
        length_sd_mm=spread,
        corneal_power_sd_d=_figure(law["cornea"]["sd_d"]),
        chamber_depth_sd_mm=_figure(chamber),
        length_chamber_correlation=_figure(law["length"][method]["chamber_correlation"]),
        biometry=biometry,
        length_spread_says=says,
    )
