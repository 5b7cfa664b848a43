"""How much myopia the index of a lens may have added, by how dense it is."""

from __future__ import annotations

from zonule.findings.answers import number
from zonule.findings.checks.catalogue import threshold
from zonule.findings.density import dense
from zonule.findings.records import Eye


def index_myopia_limit_d(eye: Eye) -> float:
    """Return the most myopia that this eye's lens may have added [D].

    Examples
    --------
    >>> index_myopia_limit_d(Eye(side="left"))
    5.0
    """
    grade = number(eye.answer("locs_no"))
    if dense(eye):
        return threshold("unequal_lengths", "index_myopia_dense_lens_d")
    if grade is not None and grade < threshold("unequal_lengths", "clear_lens_below_grade"):
        return threshold("unequal_lengths", "index_myopia_clear_lens_d")
    return threshold("unequal_lengths", "index_myopia_d")
