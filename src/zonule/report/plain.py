"""Plain characters for a terminal or a pipe that cannot carry the true ones.

A minus sign that is lost turns a refraction into its opposite, so nothing is trusted to a
codec's question marks.
"""

from __future__ import annotations

import codecs
import unicodedata
from typing import Final

STAND_INS: Final = {
    "\u2212": "-",
    "\u00b1": "+/-",
    "\u00b7": "*",
    "\u25cf": "o",
    "\u2500": "-",
    "\u2501": "=",
    "\u254c": ".",
    "\u2506": "|",
    "\u2026": "...",
    "\u00b0": " deg",
    "\u00d7": "x",
    "\u2264": "<=",
    "\u2265": ">=",
    "\u2013": "-",
    "\u2014": "-",
    "\u2018": "'",
    "\u2019": "'",
    "\u201c": '"',
    "\u201d": '"',
    "\u2192": "->",
    "\u00b5": "u",
    "\u03bc": "u",
    "\u00df": "ss",
    "\u00f8": "o",
    "\u00e6": "ae",
}
HANDLER: Final = "zonule_plain"


def plain(character: str) -> str:
    """Return what stands in for one character in plain ASCII.

    Examples
    --------
    >>> plain("\u2212"), plain("\u00b1"), plain("\u00e9"), plain("\u732b")
    ('-', '+/-', 'e', '?')
    """
    if character in STAND_INS:
        return STAND_INS[character]
    taken_apart = unicodedata.normalize("NFKD", character)
    return "".join(part for part in taken_apart if part.isascii()) or "?"


def fits(character: str, encoding: str) -> bool:
    """Tell whether an encoding has a character.

    Examples
    --------
    >>> fits("\u2212", "utf-8"), fits("\u2212", "latin-1"), fits("\u00b1", "latin-1")
    (True, False, True)
    """
    try:
        character.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _instead(error: UnicodeError) -> tuple[str, int]:
    assert isinstance(error, UnicodeEncodeError)
    lost = error.object[error.start : error.end]
    return "".join(plain(one) for one in lost), error.end


codecs.register_error(HANDLER, _instead)
