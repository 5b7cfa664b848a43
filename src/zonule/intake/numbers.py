"""One strict reading of a number typed by a person: accepted as it stands, or refused.

Nothing is repaired. A pasted true minus (U+2212) is a minus; every other dash, a second point,
a comma and letters are refused with what to type instead.
"""

from __future__ import annotations

import re
from typing import Final

TRUE_MINUS: Final = "\u2212"
OTHER_DASHES: Final = "\u2010\u2011\u2012\u2013\u2014\u2015\u00ad\ufe58\ufe63\uff0d"
_NUMBER: Final = re.compile(r"[+-]?(0|[1-9][0-9]{0,15})(\.[0-9]{1,15})?")

Fault = tuple[str, str]
"""What is wrong with it, and what to do."""


def strict_number(text: str) -> float | None:
    """Return the number a text holds under the strict reading, or None.

    Examples
    --------
    >>> strict_number("−0.25"), strict_number("+20.50"), strict_number("23,90")
    (-0.25, 20.5, None)
    """
    plain = text.replace(TRUE_MINUS, "-", 1) if text.startswith(TRUE_MINUS) else text
    return float(plain) if _NUMBER.fullmatch(plain) else None


def number_fault(text: str) -> Fault | None:
    """Tell why a text that starts like a number is none; None if it does not start like one.

    Examples
    --------
    >>> number_fault("23,90")
    ('a number takes a point, not a comma', 'Type a point instead of the comma.')
    >>> number_fault("23.9 mm")
    ('a number stands alone', 'Leave the letters out; the unit is in the key.')
    >>> number_fault("phakic") is None
    True
    """
    if not re.match(rf"[+\-{TRUE_MINUS}{OTHER_DASHES}]*\s*[.,]?[0-9]", text):
        return None
    for found, fault in _faults():
        if found.search(text):
            return fault
    return ("not a decimal number", "Type digits with one point, such as 23.90.")


def _faults() -> tuple[tuple[re.Pattern[str], Fault], ...]:
    return (
        (
            re.compile(f"[{OTHER_DASHES}]"),
            ("this dash is not a minus", "Type a plain minus, as in -0.25."),
        ),
        (
            re.compile(r",.*\.|\..*,"),
            ("a number has no comma beside its point", "Leave the comma out."),
        ),
        (
            re.compile(","),
            ("a number takes a point, not a comma", "Type a point instead of the comma."),
        ),
        (
            re.compile(r"\..*\."),
            ("a number has one point", "Take one of the points out."),
        ),
        (
            re.compile(r"[^\W\d_]|[°%]"),
            ("a number stands alone", "Leave the letters out; the unit is in the key."),
        ),
        (
            re.compile(r"[+\-\u2212].*[+\-\u2212]"),
            ("a number has one sign", "Keep one sign, before the digits."),
        ),
        (re.compile(r"_"), ("a number is digits only", "Leave the underscore out.")),
        (
            re.compile(r"^[+\-\u2212]?0[0-9]"),
            ("a number does not start with a spare zero", "Leave the leading zero out."),
        ),
        (
            re.compile(r"^[+\-\u2212]?\.|\.$"),
            ("a point has digits on both sides", "Write the zero too, as in 0.5."),
        ),
    )
