"""Measurements too old, older than an operation, or made too soon after contact lenses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import of_sitting, threshold
from zonule.findings.derived import deciding_biometry
from zonule.findings.records import Biometry, Case, Eye


def check(case: Case, on: date | None) -> Iterator[Problem]:
    """Judge the operative eye's deciding sitting; one warning at most about its day."""
    eye = case.operative_eye
    biometry = deciding_biometry(eye)
    if biometry is None:
        return
    if not _older_than_operation(eye, biometry):
        yield from _too_old(case, eye, biometry, on)
    else:
        done = eye.operation.done_on if eye.operation else ""
        yield of_sitting(
            "measured_before_operation",
            eye,
            "measured_on",
            value=str(biometry.measured_on),
            done_on=str(done),
        )
    off = biometry.contact_lens_off_days
    if is_known(off) and off < threshold("contact_lens_worn", "days"):
        yield of_sitting("contact_lens_worn", eye, "contact_lens_off_days", value=f"{off:g} days")


def _older_than_operation(eye: Eye, biometry: Biometry) -> bool:
    measured = biometry.measured_on
    done = eye.operation.done_on if eye.operation else None
    return isinstance(measured, date) and isinstance(done, date) and measured < done


def _too_old(case: Case, eye: Eye, biometry: Biometry, on: date | None) -> Iterator[Problem]:
    planned = case.surgery_planned_on
    day = planned if isinstance(planned, date) else on
    measured = biometry.measured_on
    if day is None or not isinstance(measured, date):
        return
    days = (day - measured).days
    if days > threshold("stale_measurement", "days"):
        months = f"{days / 30.44:.0f}"
        yield of_sitting(
            "stale_measurement", eye, "measured_on", value=str(measured), months=months
        )
