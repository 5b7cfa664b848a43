"""What was kept otherwise than typed, read back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import number
from zonule.findings.checks.catalogue import of_eye
from zonule.findings.records import Case, Eye


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Read a plus cylinder back as the minus cylinder it is kept as."""
    for eye in (case.right, case.left):
        typed = eye.answer("old_refraction_as_typed")
        if isinstance(typed, str):
            key = "old_refraction_cylinder_d"
            yield of_eye("cylinder_read_back", eye, key, typed=typed, kept=_kept(eye))


def _kept(eye: Eye) -> str:
    sphere, cylinder, axis = (
        number(eye.answer(f"old_refraction_{part}")) for part in ("sphere_d", "cylinder_d", "axis")
    )
    said = f"{sphere or 0.0:+.2f} {cylinder or 0.0:+.2f}" + ("" if axis is None else f" × {axis:g}")
    return said.replace("-", "−")
