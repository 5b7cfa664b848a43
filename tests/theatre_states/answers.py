"""Answers that several tests start from."""

from __future__ import annotations

from typing import Final

WHOLE: Final = {
    "safe_to_go_on": "yes",
    "lens_in_eye": "none",
    "posterior_capsule": "intact",
    "rhexis": "continuous",
    "vitreous": "none",
    "gap_hours": "0",
    "usable_rim": "360",
    "capsule_opening_fit": "yes",
    "ring_in": "no",
}
"""Nothing has happened."""


def with_(**changed: str) -> dict[str, str]:
    """Return the answers of an eye in which this much has happened."""
    return WHOLE | changed
