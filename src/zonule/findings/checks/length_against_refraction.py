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
_IMPOSSIBLE = "length_impossible_for_refraction"
_EXPLAINED = "length_explained_in_words"


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Ask, once, to read back a length that goes with no refraction near the one recorded."""
    judged = [(eye, _verdict(eye)) for eye in (case.operative_eye, case.fellow_eye)]
    odd = [(eye, name) for eye, name in judged if name]
    for eye, name in sorted(odd, key=lambda one: one[1] != _IMPOSSIBLE)[:1]:
        yield _told(eye, name, both=len(odd) == 2)


def _verdict(eye: Eye) -> str:
    """Return which check an eye falls under; empty when length and refraction go together."""
    biometry = deciding_biometry(eye)
    left_over = None if biometry is None else disagreement_d(eye, biometry)
    if biometry is None or left_over is None:
        return ""
    cornea_known = is_known(k_mean_d(biometry))
    cornea = "" if cornea_known else "cornea_unknown_"
    lens = "dense_lens_" if dense(eye) else ""
    low = -threshold(_NAME, f"more_myopic_{lens}by_d")
    if low <= left_over <= threshold(_NAME, f"more_hyperopic_{cornea}by_d"):
        return ""
    if is_known(biometry.difference_explained):
        return _EXPLAINED
    too_long = left_over > threshold(_NAME, "impossible_more_hyperopic_by_d")
    too_short = left_over < -threshold(_NAME, "impossible_more_myopic_by_d")
    return _IMPOSSIBLE if cornea_known and (too_long or too_short) else _NAME


def _told(eye: Eye, name: str, *, both: bool) -> Problem:
    biometry, refraction = deciding_biometry(eye) or Biometry(), old_refraction_d(eye)
    assert is_known(biometry.axial_length_mm)
    assert is_known(refraction)
    return of_sitting(
        name,
        eye,
        "axial_length_mm",
        value=millimetres(biometry.axial_length_mm),
        refraction=signed_dioptres(refraction),
        both=", in both eyes" if both else "",
        explanation=biometry.difference_explained
        if is_known(biometry.difference_explained)
        else "",
    )


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
