"""How dense a lens is, as far as index myopia goes: dense, clear, or not known."""

from __future__ import annotations

from zonule.findings.answers import number
from zonule.findings.checks.catalogue import threshold
from zonule.findings.derived import DENSE_LOOKS
from zonule.findings.records import Eye

DENSE_FROM_GRADE = 5.0


def dense(eye: Eye) -> bool | None:
    """Tell whether the lens is brown, black, white or of nuclear grade 5 and above.

    Examples
    --------
    >>> dense(Eye(side="left", answers={"locs_no": 5.2})), dense(Eye(side="left"))
    (True, None)
    """
    grade, look = number(eye.answer("locs_no")), eye.answer("lens_look")
    if look in DENSE_LOOKS or (grade is not None and grade >= DENSE_FROM_GRADE):
        return True
    return None if grade is None and not isinstance(look, str) else False


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
