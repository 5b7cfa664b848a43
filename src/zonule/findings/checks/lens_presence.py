"""Lens status against what is recorded: graded after removal, implanted while phakic."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import of_eye, problem
from zonule.findings.fields import sections
from zonule.findings.records import Case, Eye

_HOLDS_NO_LENS = ("later", "none_final")


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Compare lens status, gradings and operation of each eye; exchanged eyes are one finding."""
    if not is_known(case.operative_eye.lens_status):
        yield of_eye("lens_status_missing", case.operative_eye, "lens_status")
    if _exchanged(case.right, case.left) or _exchanged(case.left, case.right):
        yield of_eye("eyes_exchanged", case.operative_eye, "lens_status")
        return
    for eye in (case.right, case.left):
        yield from _graded(eye)
        yield from _implant(eye)


def _exchanged(one: Eye, other: Eye) -> bool:
    """Tell whether one phakic eye holds the operation that the other, operated one lacks."""
    return (
        one.lens_status == "phakic"
        and one.operation is not None
        and other.lens_status == "pseudophakic"
        and other.operation is None
        and bool(_gradings(other))
    )


def _gradings(eye: Eye) -> list[str]:
    fields = sections("case")["eye"].values()
    return [row.label for row in fields if row.phakic_only and is_known(eye.answer(row.key))]


def _graded(eye: Eye) -> Iterator[Problem]:
    graded = _gradings(eye)
    if eye.lens_status in ("pseudophakic", "aphakic") and graded:
        article = "an" if eye.lens_status == "aphakic" else "a"
        yield of_eye(
            "graded_without_a_lens",
            eye,
            "lens_status",
            lens_status_said=f"{article} {eye.lens_status}",
            what=", ".join(graded),
        )


def _implant(eye: Eye) -> Iterator[Problem]:
    signs = _signs_of_implant(eye)
    names = {"phakic": "implant_in_phakic_eye", "aphakic": "implant_in_aphakic_eye"}
    name = names.get(str(eye.lens_status))
    if name and signs:
        yield problem(
            name,
            field=f"{eye.side}.lens_status",
            label=f"Lens status, {eye.side} eye",
            value="phakic" if name == "implant_in_phakic_eye" else "",
            eye=eye.side,
            what=", ".join(signs),
        )


def _signs_of_implant(eye: Eye) -> list[str]:
    operation = eye.operation
    signs = ["implant stability"] if is_known(eye.answer("implant_stability")) else []
    if operation is None:
        return signs
    if is_known(operation.placement) and operation.placement not in _HOLDS_NO_LENS:
        signs.append(operation.placement.replace("_", " "))
    if is_known(operation.lens_power_d) and eye.lens_status == "phakic":
        signs.append("lens power")
    if is_known(operation.lens_name) and eye.lens_status == "phakic":
        signs.append("lens name")
    return signs
