"""Reads a condition such as ``phacodonesis in ['slight','marked']`` and answers in three values.

Grammar: ``FINDING OP VALUE`` with OP one of ``== != < <= > >= in has``. ``in``: the finding is one
of the list; ``has``: the finding, itself a list, holds the value. A finding that is not known
makes the condition unknown (None), never false.
"""

from __future__ import annotations

import ast
import operator
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from zonule.errors import LibraryFault
from zonule.findings.answers import Answer, Unknown

Lookup = Callable[[str], Answer]

NOBODY_KNOWS: Final = ("unknown", "not_done")
"""Answers that are words of a choice and yet say only that nothing is known."""
_CONDITION: Final = re.compile(r"(\w+) (==|!=|<=|>=|<|>|in|has) (.+)")
_OPERATORS: Final[dict[str, Callable[[Any, Any], bool]]] = {
    "==": operator.eq,
    "!=": operator.ne,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "in": lambda answer, wanted: answer in wanted,
    "has": lambda answer, wanted: wanted in answer,
}


@dataclass(frozen=True, slots=True)
class Condition:
    """One parsed condition."""

    finding: str
    operator: str
    value: Any

    def holds(self, lookup: Lookup) -> bool | None:
        """Tell whether the condition holds: True, False, or None while it is not known.

        Examples
        --------
        >>> loose = parse("phacodonesis in ['slight','marked']")
        >>> loose.holds({"phacodonesis": "slight"}.__getitem__)
        True
        >>> loose.holds(lambda name: Unknown.NOT_RECORDED) is None
        True
        """
        answer = lookup(self.finding)
        if isinstance(answer, Unknown) or self._nobody_knows(answer):
            return None
        return _OPERATORS[self.operator](answer, self.value)

    def _nobody_knows(self, answer: Answer) -> bool:
        """Tell whether the answer only says that nobody knows, and the condition asks for more."""
        asked = self.value if isinstance(self.value, list) else [self.value]
        return isinstance(answer, str) and answer in NOBODY_KNOWS and answer not in asked


@cache
def parse(text: str) -> Condition:
    """Parse a condition string.

    Raises
    ------
    LibraryFault
        If the string is not of the grammar.

    Examples
    --------
    >>> parse("axial_length_mm > 26")
    Condition(finding='axial_length_mm', operator='>', value=26)
    """
    match = _CONDITION.fullmatch(text.strip())
    if match is None:
        raise LibraryFault(f"{text!r} is not FINDING OP VALUE")
    literal = {"true": "True", "false": "False"}.get(match[3], match[3])
    try:
        value = ast.literal_eval(literal)
    except (ValueError, SyntaxError) as fault:
        raise LibraryFault(f"{text!r} has no readable value") from fault
    return Condition(finding=match[1], operator=match[2], value=value)
