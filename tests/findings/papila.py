"""The pairs of eyes of papila_even.csv (Kovalyk et al., Sci Data 2022;9:291; CC BY 4.0)."""

import csv
from collections import defaultdict
from pathlib import Path
from typing import Any

from zonule.errors import Side
from zonule.findings.records import Aim, Biometry, Case, Eye, Patient

Measured = tuple[float | None, float | None]
"""Length [mm] and spherical equivalent [D]."""

FILE = Path(__file__).parents[1] / "data" / "papila_even.csv"
ASKED = Patient("demo", answers={"allergies": ("none_known",)})


def _number(text: str) -> float | None:
    return float(text) if text else None


def _measured(row: dict[str, str]) -> Measured:
    """Return length and spherical equivalent of one row."""
    sphere, cylinder = _number(row["sphere"]), _number(row["cylinder"])
    equivalent = None if sphere is None else sphere + (cylinder or 0.0) / 2.0
    return _number(row["al_mm"]), equivalent


def pairs() -> dict[str, tuple[Measured, Measured]]:
    rows: dict[str, dict[str, dict[str, str]]] = defaultdict(dict)
    with FILE.open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            rows[row["patient_id"]][row["eye"]] = row
    return {who: (_measured(eyes["OD"]), _measured(eyes["OS"])) for who, eyes in rows.items()}


def eye(
    side: Side,
    length_mm: float | None,
    refraction_d: float | None,
    *,
    locs_no: float | None = None,
    explained: str | None = None,
) -> Eye:
    answers = {"old_refraction_spherical_equivalent_d": refraction_d, "locs_no": locs_no}
    sitting: dict[str, Any] = {"axial_length_mm": length_mm, "difference_explained": explained}
    known = {key: value for key, value in sitting.items() if value is not None}
    biometry = Biometry(method="optical_swept_source", measured_as="phakic", **known)
    return Eye(
        side=side,
        lens_status="phakic",
        answers={key: value for key, value in answers.items() if value is not None},
        biometry=(biometry,) if length_mm is not None else (),
    )


def case(right: Measured, left: Measured, **more: Any) -> Case:
    return Case("left", ASKED, Aim(0.0), eye("right", *right), eye("left", *left, **more))
