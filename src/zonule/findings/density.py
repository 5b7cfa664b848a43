"""How dense a lens is: dense, not dense, or not known."""

from __future__ import annotations

from typing import Final

from zonule.findings.answers import number
from zonule.findings.records import Eye

DENSE_LOOKS: Final = ("brunescent", "black", "white_intumescent", "white_other", "morgagnian")
DENSE_FROM_GRADE: Final = 5.0
"""Nuclear opalescence, LOCS III; usual practice."""


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
