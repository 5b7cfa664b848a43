"""Lengths that differ between the eyes, judged together with the refractions.

A true anisometrope passes; a slip of the pen does not. The refractions say how far apart the
lengths may be (about 2.3 to 2.8 D for each millimetre, and a dioptre for each dioptre of K);
what remains is index myopia of the more myopic eye's lens, or an error.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import (
    dioptres,
    millimetres,
    of_sitting,
    problem,
    threshold,
)
from zonule.findings.checks.index_myopia import index_myopia_limit_d
from zonule.findings.derived import deciding_biometry, k_mean_d, old_refraction_d
from zonule.findings.records import Biometry, Case, Eye

_NAME = "unequal_lengths"
_EXCHANGED = " They would fit if right and left were exchanged."


@dataclass(frozen=True, slots=True)
class Pair:
    """Right minus left: lengths, corneas, refractions, and what stays unexplained."""

    longer: Eye
    longer_mm: float
    length_mm: float
    k_d: float
    refraction_d: float | None

    def unexplained_d(self, *, exchanged: bool = False) -> float:
        """Return what the lengths and corneas do not explain [D]; below 0 more myopia, right eye.

        Examples
        --------
        >>> eye = Eye(side="left")
        >>> Pair(eye, 25.0, 1.0, 0.0, -2.5).unexplained_d()
        0.0
        >>> round(Pair(eye, 25.0, 1.0, 0.0, 0.0).unexplained_d(), 2)
        2.3
        """
        assert self.refraction_d is not None
        length = -self.length_mm if exchanged else self.length_mm
        ends = sorted(
            -threshold(_NAME, f"slope_{end}_d_per_mm") * length for end in ("low", "high")
        )
        seen = self.refraction_d + self.k_d
        return seen - min(max(seen, ends[0]), ends[1])


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Judge the two lengths together with the two old refractions."""
    pair = pair_of(case)
    if pair is None:
        return
    name, eye = _verdict(case, pair)
    explanation = _explanation(case)
    if explanation and name and row_interrupts(name):
        name = "lengths_explained_in_words"
    if name:
        yield _told(name, pair, eye, explanation)


def row_interrupts(name: str) -> bool:
    """Tell whether a check interrupts.

    Examples
    --------
    >>> row_interrupts("lengths_differ"), row_interrupts("lengths_differ_a_little")
    (True, False)
    """
    sample = problem(
        name,
        field="",
        label="",
        difference="",
        refractions="",
        left_over="",
        exchanged="",
        explanation="",
    )
    return sample.severity in ("block", "confirm", "warn")


def pair_of(case: Case) -> Pair | None:
    """Return the two eyes compared; None while a length is not known."""
    right, left = deciding_biometry(case.right), deciding_biometry(case.left)
    if right is None or left is None:
        return None
    mine, theirs = right.axial_length_mm, left.axial_length_mm
    if not is_known(mine) or not is_known(theirs):
        return None
    return Pair(
        longer=case.right if mine >= theirs else case.left,
        longer_mm=max(mine, theirs),
        length_mm=mine - theirs,
        k_d=_k_difference(right, left),
        refraction_d=_refraction_difference(case),
    )


def _refraction_difference(case: Case) -> float | None:
    mine, theirs = old_refraction_d(case.right), old_refraction_d(case.left)
    return mine - theirs if is_known(mine) and is_known(theirs) else None


def _k_difference(right: Biometry, left: Biometry) -> float:
    """Return the difference of the mean K [D]; unknown corneas count as alike."""
    mine, theirs = k_mean_d(right), k_mean_d(left)
    return mine - theirs if is_known(mine) and is_known(theirs) else 0.0


def unusual_from_mm(longer_mm: float) -> float:
    """Return the difference that is unusual for a pair with this longer eye [mm].

    Examples
    --------
    >>> unusual_from_mm(23.5), unusual_from_mm(26.5), unusual_from_mm(30.0)
    (0.7, 1.35, 2.0)
    """
    start, end = threshold(_NAME, "long_from_mm"), threshold(_NAME, "very_long_from_mm")
    share = min(max((longer_mm - start) / (end - start), 0.0), 1.0)
    plain, long = threshold(_NAME, "unusual_from_mm"), threshold(_NAME, "unusual_very_long_mm")
    return round(plain + share * (long - plain), 6)


def _verdict(case: Case, pair: Pair) -> tuple[str, Eye]:
    apart = abs(pair.length_mm)
    unusual = apart >= threshold(_NAME, "unusual_from_mm")
    if pair.refraction_d is None:
        return _unrefracted(pair, apart), pair.longer
    left_over = pair.unexplained_d()
    more_myopic = case.right if left_over < 0 else case.left
    if not unusual:
        return _nearly_equal(apart, left_over), pair.longer
    if abs(left_over) > index_myopia_limit_d(more_myopic):
        return "lengths_cannot_both_be_right", pair.longer
    if abs(left_over) > threshold(_NAME, "confirm_from_d"):
        return "lengths_hardly_fit", pair.longer
    if abs(left_over) > threshold(_NAME, "explained_within_d"):
        return "lengths_look_again", pair.longer
    return "lengths_explained_by_refraction", pair.longer


def _unrefracted(pair: Pair, apart: float) -> str:
    unusual = unusual_from_mm(pair.longer_mm)
    if apart >= threshold(_NAME, "block_unrefracted_from_mm"):
        return "lengths_differ_beyond_pairs"
    if apart >= max(unusual, threshold(_NAME, "confirm_unrefracted_from_mm")):
        return "lengths_differ_much"
    if apart >= unusual:
        return "lengths_differ"
    return "lengths_differ_a_little" if apart >= threshold(_NAME, "look_from_mm") else ""


def _nearly_equal(apart: float, left_over: float) -> str:
    if abs(left_over) > threshold(_NAME, "unequal_refraction_from_d"):
        return "refractions_differ_at_equal_length"
    return "lengths_differ_a_little" if apart >= threshold(_NAME, "look_from_mm") else ""


def _explanation(case: Case) -> str:
    for eye in (case.operative_eye, case.fellow_eye):
        biometry = deciding_biometry(eye)
        if biometry is not None and is_known(biometry.difference_explained):
            return biometry.difference_explained
    return ""


def _told(name: str, pair: Pair, eye: Eye, explanation: str) -> Problem:
    known = pair.refraction_d is not None
    left_over = abs(pair.unexplained_d()) if known else 0.0
    within = threshold(_NAME, "explained_within_d")
    would_fit = known and left_over > within and abs(pair.unexplained_d(exchanged=True)) <= within
    return of_sitting(
        name,
        eye,
        "axial_length_mm",
        value=millimetres(pair.longer_mm),
        difference=millimetres(abs(pair.length_mm)),
        refractions=dioptres(abs(pair.refraction_d or 0.0)),
        left_over=dioptres(left_over),
        exchanged=_EXCHANGED if would_fit and abs(pair.length_mm) >= 0.3 else "",
        explanation=explanation,
    )
