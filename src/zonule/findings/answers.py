"""What an answer about an eye can be: a value, or one of four ways of not knowing.

Nothing that was not recorded is ever read as absent. The four ways differ for a person (was it
asked? was it tried?) and are the same to a rule or a model: unknown.
"""

from __future__ import annotations

from datetime import date
from enum import Enum
from typing import TypeAlias, TypeGuard, TypeVar


class Unknown(Enum):
    """Why a value is not there."""

    NOT_RECORDED = "not_recorded"
    """The key is absent from the file, or the cell is empty."""
    NOT_EXAMINED = "not_examined"
    """Nobody looked."""
    NOT_POSSIBLE = "not_possible"
    """Someone looked and it could not be seen or measured."""
    UNKNOWN = "unknown"
    """Asked, and nobody knows."""


Value: TypeAlias = bool | int | float | str | date | tuple[str, ...]
Answer: TypeAlias = Value | Unknown

T = TypeVar("T")


def is_known(answer: T | Unknown) -> TypeGuard[T]:
    """Tell whether an answer holds a value.

    Examples
    --------
    >>> is_known(3.5), is_known(False), is_known(Unknown.NOT_EXAMINED)
    (True, True, False)
    """
    return not isinstance(answer, Unknown)


def number(answer: Answer) -> float | None:
    """Return a numeric answer as a float, and None for anything else.

    Examples
    --------
    >>> number(3), number(True), number(Unknown.UNKNOWN)
    (3.0, None, None)
    """
    if isinstance(answer, bool) or not isinstance(answer, int | float):
        return None
    return float(answer)
