"""The 14 digits that name one lens model in one power on its box."""

from __future__ import annotations


def check_digit(thirteen: str) -> int:
    """Return the fourteenth digit that belongs to the first thirteen.

    Weights 3 and 1 alternate from the first digit; the sum and the check digit make a multiple
    of ten (General Specifications of the numbering standard; from memory).

    Examples
    --------
    >>> check_digit("0401234512345")
    6
    """
    total = sum(int(digit) * (3 if place % 2 == 0 else 1) for place, digit in enumerate(thirteen))
    return -total % 10


def fault(identifier: str) -> str:
    """Return what is wrong with an identifier; empty if nothing is.

    Examples
    --------
    >>> fault("04012345123456"), fault("04012345123457")
    ('', 'its check digit does not fit')
    """
    if len(identifier) != 14 or not (identifier.isascii() and identifier.isdigit()):
        return "must be 14 digits"
    right = check_digit(identifier[:13]) == int(identifier[13])
    return "" if right else "its check digit does not fit"
