"""What the answers are before anybody in theatre has been asked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from zonule.errors import NoSuchName
from zonule.findings.conditions import Lookup, parse
from zonule.library.reading import table
from zonule.plan.states.records import NOT_KNOWN
from zonule.plan.states.tables import tables


def answers_before(lookup: Lookup, stage: str = "before_cut") -> dict[str, str]:
    """Return the answers that findings and the stage of the operation give.

    Parameters
    ----------
    lookup
        Every finding of the eye, by the name that rules use.
    stage
        Where the operation stands. What is only true before a stage is not known after it.

    Raises
    ------
    NoSuchName
        If there is no such stage.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> told = {"dialysis_clock_hours": 2.0, "lens_status": "phakic"}
    >>> found = answers_before(lambda name: told.get(name, Unknown.NOT_RECORDED))
    >>> found["gap_hours"], found["rhexis"], found["ring_in"]
    ('up_to_3', 'not_started', 'no')
    >>> answers_before(lambda name: Unknown.NOT_RECORDED, "nucleus")["rhexis"]
    'not_known'
    """
    if stage not in tables().stages:
        raise NoSuchName("stage", stage, tables().stages)
    found = dict.fromkeys(tables().questions, NOT_KNOWN)
    for row in table("theatre/prefill")["prefill"]:
        found[row["input"]] = _value(row, lookup, stage)
    return found


def _value(row: Mapping[str, Any], lookup: Lookup, stage: str) -> str:
    order = list(tables().stages)
    last = row.get("holds_through", order[-1])
    if order.index(stage) > order.index(last):
        return NOT_KNOWN
    if "bands" in row:
        bands: Mapping[str, str] = row["bands"]
        fits = (band for band, text in bands.items() if parse(text).holds(lookup))
        return next(fits, str(row["otherwise"]))
    known = all(parse(text).holds(lookup) for text in row.get("when_all", ()))
    return str(row["value"] if known else row["otherwise"])
