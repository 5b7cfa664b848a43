"""One value against the field it stands in: an answer, or the reason why not."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, datetime
from difflib import get_close_matches
from typing import Final

from zonule.findings.answers import Answer, Unknown
from zonule.findings.fields import Field, placement_names, shown
from zonule.intake import slips
from zonule.intake.numbers import number_fault, strict_number

SAID_UNKNOWN: Final = {
    answer.value: answer for answer in Unknown if answer is not Unknown.NOT_RECORDED
}
EARLIEST: Final = date(1900, 1, 1)
LATEST: Final = date(2199, 12, 31)
LONGEST_TEXT: Final = 500
MOST_ITEMS: Final = 100


class Refused(Exception):
    """A value that the field cannot take."""

    def __init__(self, limit: str, remedy: str, *, check: str = "wrong_value") -> None:
        self.limit, self.remedy, self.check = limit, remedy, check
        super().__init__(limit)


def read(asked: Field, raw: object, *, written: str = "") -> Answer:
    """Return the answer a raw value stands for.

    Parameters
    ----------
    asked
        The field.
    raw
        The value as the file format gave it.
    written
        How it stands in the file, where known: numbers with letters in them are told by it.

    Raises
    ------
    Refused
        With what it must be and what to do.

    Examples
    --------
    >>> from zonule.findings.fields import field
    >>> read(field("eye", "pupil_dilated_mm"), 4)
    4.0
    >>> read(field("eye", "pupil_dilated_mm"), "not_possible")
    <Unknown.NOT_POSSIBLE: 'not_possible'>
    """
    if asked.may_be_unknown and isinstance(raw, str) and raw in SAID_UNKNOWN:
        return SAID_UNKNOWN[raw]
    readers: dict[str, Callable[[Field, object, str], Answer]] = {
        "number": _number,
        "whole": _whole_number,
        "yes_no": _yes_no,
        "choice": _choice,
        "text": _text,
        "date": _date,
        "choices": _choices,
        "texts": _texts,
        "placements": _placements,
    }
    return readers[asked.type](asked, raw, written)


def _must(asked: Field) -> str:
    return asked.limit_sentence()


def _number(asked: Field, raw: object, written: str) -> float:
    number = float(_as_number(asked, raw, written))
    if not math.isfinite(number):
        raise Refused(_must(asked), "Type the measured number, or leave the line out.")
    if (asked.low is not None and number < asked.low) or (
        asked.high is not None and number > asked.high
    ):
        raise Refused(_must(asked), slips.remedy(asked, number), check="outside_limits")
    return number


def _as_number(asked: Field, raw: object, written: str) -> float | int:
    if isinstance(raw, bool):
        raise Refused(_must(asked), "Type the number; true and false are none.")
    if isinstance(raw, int | float):
        fault = number_fault(written) if _has_letters(written) else None
        if fault:
            raise Refused(*fault)
        if isinstance(raw, int) and abs(raw) > 10**15:
            raise Refused(_must(asked), "Check the number.", check="outside_limits")
        return raw
    if isinstance(raw, str):
        return _number_in_quotes(asked, raw)
    raise Refused(_must(asked), "Type the number by itself.")


def _has_letters(written: str) -> bool:
    plain = written.lstrip("+-")
    return plain[:1].isdigit() and any(sign.isalpha() or sign == "_" for sign in plain)


def _number_in_quotes(asked: Field, raw: str) -> float:
    number = strict_number(raw)
    if number is not None:
        return number
    fault = number_fault(raw)
    if fault:
        raise Refused(*fault)
    raise Refused(_must(asked), _words_for_unknown(asked))


def _words_for_unknown(asked: Field) -> str:
    if not asked.may_be_unknown:
        return "Type the number by itself."
    return "Type the number, or one of not_examined, not_possible, unknown."


def _whole_number(asked: Field, raw: object, written: str) -> int:
    number = _number(asked, raw, written)
    if number != int(number):
        raise Refused(_must(asked), "Type a whole number.")
    return int(number)


def _yes_no(asked: Field, raw: object, _: str) -> bool:
    if isinstance(raw, bool):
        return raw
    raise Refused(_must(asked), "Type true or false, without quotation marks.")


def _choice(asked: Field, raw: object, _: str) -> str:
    if isinstance(raw, str) and raw in asked.choices:
        return raw
    raise Refused(_must(asked), nearest(raw, asked.choices))


def nearest(raw: object, known: tuple[str, ...]) -> str:
    """Return the nearest correct names as a remedy.

    Examples
    --------
    >>> nearest("phakik", ("phakic", "pseudophakic", "aphakic"))
    'Did you mean phakic?'
    """
    found = get_close_matches(raw[:80], known, n=1, cutoff=0.6) if isinstance(raw, str) else []
    return f"Did you mean {found[0]}?" if found else "Choose one of these."


def _text(asked: Field, raw: object, _: str) -> str:
    if not isinstance(raw, str):
        raise Refused(_must(asked), "Put it in quotation marks.")
    if raw in SAID_UNKNOWN and not asked.may_be_unknown:
        raise Refused("must be known here", "Type it; this key takes no word for not known.")
    if not raw.strip():
        raise Refused("must not be empty", "Type it, or leave the line out.")
    if len(raw) > LONGEST_TEXT:
        raise Refused(f"must be at most {LONGEST_TEXT} characters", "Shorten it.")
    if not all(sign.isprintable() or sign in "\n\t" for sign in raw):
        raise Refused("must hold printable characters only", "Type it again.")
    return raw


def _date(asked: Field, raw: object, _: str) -> date:
    if not isinstance(raw, date) or isinstance(raw, datetime):
        raise Refused(_must(asked), "Type year-month-day without quotation marks or time.")
    if not EARLIEST <= raw <= LATEST:
        raise Refused("must be a day from 1900 to 2199", "Check the year.", check="outside_limits")
    return raw


def _items(asked: Field, raw: object) -> list[str]:
    if not isinstance(raw, list) or not all(isinstance(item, str) for item in raw):
        raise Refused(_must(asked), 'Write it as a list, ["first", "second"].')
    if len(raw) > MOST_ITEMS:
        raise Refused(f"must be at most {MOST_ITEMS} items", "Keep those that matter.")
    if len(set(raw)) < len(raw):
        raise Refused("must name each item once", "Take the second mention out.")
    return raw


def _choices(asked: Field, raw: object, _: str) -> tuple[str, ...]:
    return _each_of(asked, _items(asked, raw), asked.choices)


def _each_of(asked: Field, items: list[str], known: tuple[str, ...]) -> tuple[str, ...]:
    for item in items:
        if item not in known:
            raise Refused(_must(asked), f"{shown(item[:40])!r}: {nearest(item, known)}")
    return tuple(items)


def _texts(asked: Field, raw: object, written: str) -> tuple[str, ...]:
    return tuple(_text(asked, item, written) for item in _items(asked, raw))


def _placements(asked: Field, raw: object, _: str) -> tuple[str, ...]:
    return _each_of(asked, _items(asked, raw), placement_names())
