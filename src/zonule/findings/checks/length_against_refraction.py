"""One eye whose length and old refraction cannot both be its own."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import millimetres, of_sitting, signed_dioptres, threshold
from zonule.findings.density import dense
from zonule.findings.derived import deciding_biometry, k_mean_d, old_refraction_d
from zonule.findings.records import Biometry, Case, Eye

_NAME = "length_against_refraction"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Ask, once, to read back a length that goes with no refraction near the one recorded."""
    odd = [eye for eye in (case.operative_eye, case.fellow_eye) if _odd(eye)]
    for eye in odd[:1]:
        length, refraction = (
            (deciding_biometry(eye) or Biometry()).axial_length_mm,
            old_refraction_d(eye),
        )
        if is_known(length) and is_known(refraction):
            yield of_sitting(
                _NAME,
                eye,
                "axial_length_mm",
                value=millimetres(length),
                refraction=signed_dioptres(refraction),
                both=", in both eyes" if len(odd) == 2 else "",
            )


def _odd(eye: Eye) -> bool:
    biometry = deciding_biometry(eye)
    if biometry is None or is_known(biometry.difference_explained):
        return False
    left_over = disagreement_d(eye, biometry)
    if left_over is None:
        return False
    cornea = "" if is_known(k_mean_d(biometry)) else "cornea_unknown_"
    lens = "dense_lens_" if dense(eye) else ""
    low = -threshold(_NAME, f"more_myopic_{lens}by_d")
    return not low <= left_over <= threshold(_NAME, f"more_hyperopic_{cornea}by_d")


def disagreement_d(eye: Eye, biometry: Biometry) -> float | None:
    """Return how much more hyperopic the eye is than its length and cornea say [D].

    None while length or refraction is not known; an unknown cornea counts as the usual one.

    Examples
    --------
    >>> eye = Eye(side="left", answers={"old_refraction_spherical_equivalent_d": 0.0})
    >>> round(disagreement_d(eye, Biometry(axial_length_mm=25.5)), 2)
    5.1
    """
    length, refraction, k = biometry.axial_length_mm, old_refraction_d(eye), k_mean_d(biometry)
    if not is_known(length) or not is_known(refraction):
        return None
    slope = threshold(_NAME, "slope_d_per_mm")
    from_length = slope * (length - threshold(_NAME, "usual_length_mm"))
    from_cornea = k - threshold(_NAME, "usual_k_d") if is_known(k) else 0.0
    return refraction + from_length + from_cornea
