"""The id of a rule as it stands in a file: known and of the wanted scope, or told."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from zonule.intake.gathering import Gathering, shown_raw
from zonule.library.rules import Scope, rules


def rule_ids(scope: Scope | None = None) -> tuple[str, ...]:
    """Return the ids of the rules of one scope, or of all, in their order.

    Examples
    --------
    >>> "T-01" in rule_ids("eye"), "T-01" in rule_ids("program"), "T-01" in rule_ids()
    (True, False, True)
    """
    return tuple(key for key, rule in rules().items() if scope in (None, rule.scope))


def tell_unknown_rule(
    gathering: Gathering, found: dict[str, object], path: str, *, label: str, of_an_eye: bool
) -> None:
    """Tell a rule that does not exist, or that does not speak of an eye where it must.

    Parameters
    ----------
    gathering
        Where it is told.
    found
        The answers of the section; one without a rule has been told already.
    path, label
        Of the field ``rule``.
    of_an_eye
        Whether only rules that speak of an eye can stand here.
    """
    written = found.get("rule")
    if not isinstance(written, str) or written in rule_ids("eye" if of_an_eye else None):
        return
    if written in rule_ids():
        limit = "speaks of the department, not of one eye"
        remedy = "Settle it in the practice file, under [[rule_decision]]."
        check = "contradicts"
    else:
        limit, check = "is not a rule", "wrong_value"
        remedy = nearest_ids(written, rule_ids("eye" if of_an_eye else None))
    gathering.tell(path, label, limit, remedy, check=check, value=shown_raw(written))


def nearest_ids(written: str, known: Iterable[str]) -> str:
    """Return the nearest ids as a remedy.

    Examples
    --------
    >>> nearest_ids("d04", ("T-01", "D-04"))
    'Did you mean D-04?'
    >>> nearest_ids("D-41", ("D-04", "T-09", "D-01"))
    'Did you mean D-04 or D-01?'
    >>> nearest_ids("pupil", ("T-01", "D-04"))
    'Type the id of a rule, such as T-01.'
    """
    offered = get_close_matches(written[:20].upper(), list(known), n=3, cutoff=0.6)
    if not offered:
        return "Type the id of a rule, such as T-01."
    *others, last = offered
    return f"Did you mean {', '.join(others)} or {last}?" if others else f"Did you mean {last}?"
