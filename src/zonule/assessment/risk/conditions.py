"""All of, any of: several conditions on the findings of an eye, in three values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from zonule.findings.conditions import Lookup, parse


def all_hold(conditions: Iterable[str], lookup: Lookup) -> bool | None:
    """Tell whether every condition holds; None while that is open.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> findings = {"age": 72, "pxf": Unknown.NOT_RECORDED}
    >>> all_hold(["age >= 70", "age < 80"], findings.__getitem__)
    True
    >>> all_hold(["age >= 70", "pxf == true"], findings.__getitem__) is None
    True
    >>> all_hold(["age < 70", "pxf == true"], findings.__getitem__)
    False
    """
    answers = [parse(text).holds(lookup) for text in conditions]
    if False in answers:
        return False
    return None if None in answers else True


def any_holds(conditions: Iterable[str], lookup: Lookup) -> bool | None:
    """Tell whether one condition at least holds; None while that is open.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> findings = {"pxf": Unknown.NOT_RECORDED, "phacodonesis": "slight"}
    >>> any_holds(["pxf == true", "phacodonesis in ['slight','marked']"], findings.__getitem__)
    True
    """
    answers = [parse(text).holds(lookup) for text in conditions]
    if True in answers:
        return True
    return None if None in answers else False


def waits_for(conditions: Sequence[str], lookup: Lookup) -> tuple[str, ...]:
    """Return the findings among the conditions that are not known."""
    open_ones = (parse(text) for text in conditions if parse(text).holds(lookup) is None)
    return tuple(dict.fromkeys(one.finding for one in open_ones))
