"""Corneas: unequal between the eyes, flat above steep, axes that do not stand square."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import dioptres, of_sitting, threshold
from zonule.findings.derived import deciding_biometry, k_mean_d
from zonule.findings.records import Biometry, Case, Eye


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Compare the corneas with each other and with themselves."""
    yield from _unequal(case)
    for eye in (case.right, case.left):
        biometry = deciding_biometry(eye)
        if biometry is not None:
            yield from _flat_above_steep(eye, biometry)
            yield from _axes_not_square(eye, biometry)


def _unequal(case: Case) -> Iterator[Problem]:
    eye = case.operative_eye
    mine, theirs = deciding_biometry(eye), deciding_biometry(case.fellow_eye)
    if mine is None or theirs is None:
        return
    k, other = k_mean_d(mine), k_mean_d(theirs)
    if not is_known(k) or not is_known(other):
        return
    if abs(k - other) <= threshold("unequal_corneas", "above_d") + 1e-9:
        return
    explanation = next(
        (one.difference_explained for one in (mine, theirs) if is_known(one.difference_explained)),
        "",
    )
    yield of_sitting(
        "unequal_corneas_explained" if explanation else "unequal_corneas",
        eye,
        "k_flat_d",
        value=f"(mean {dioptres(k)})",
        difference=dioptres(abs(k - other)),
        explanation=str(explanation),
    )


def _flat_above_steep(eye: Eye, biometry: Biometry) -> Iterator[Problem]:
    flat, steep = biometry.k_flat_d, biometry.k_steep_d
    if is_known(flat) and is_known(steep) and flat > steep:
        yield of_sitting(
            "flat_and_steep_exchanged", eye, "k_flat_d", value=dioptres(flat), steep=dioptres(steep)
        )


def _axes_not_square(eye: Eye, biometry: Biometry) -> Iterator[Problem]:
    flat, steep = biometry.k_flat_axis, biometry.k_steep_axis
    if not is_known(flat) or not is_known(steep):
        return
    apart = abs(flat - steep) % 180
    apart = min(apart, 180 - apart)
    if 90 - apart > threshold("axes_not_square", "off_by_more_than_degrees"):
        yield of_sitting(
            "axes_not_square", eye, "k_steep_axis", value=f"{steep:g}°", apart=f"{apart:g}°"
        )
