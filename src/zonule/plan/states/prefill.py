"""What the answers are before anybody in theatre has been asked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from zonule.errors import NoSuchName
from zonule.findings.conditions import Lookup, parse
from zonule.library.reading import table
from zonule.plan.states.records import NOT_KNOWN
from zonule.plan.states.tables import tables
from zonule.plan.states.truth import Answers

SEEN_AGAIN: Final = (
    "posterior_capsule",
    "vitreous",
    "gap_hours",
    "usable_rim",
    "capsule_opening_fit",
)
BY_STAGE: Final = ("rhexis", "lens_in_eye", "ring_in")


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
    if "unless" in row and parse(row["unless"]).holds(lookup):
        return str(row["otherwise"])
    if "bands" in row:
        bands: Mapping[str, str] = row["bands"]
        fits = (band for band, text in bands.items() if parse(text).holds(lookup))
        return next(fits, str(row["otherwise"]))
    known = all(parse(text).holds(lookup) for text in row.get("when_all", ()))
    return str(row["value"] if known else row["otherwise"])


def still_presumed(before: Answers, told: Answers, stage: str = "") -> dict[str, str]:
    """Return what is still taken from plan and stage, once the team has spoken.

    What was found before surgery holds until something happens. A torn capsule or rim, vitreous,
    or another gap than before make it stale: whether vitreous is there, how wide the gap is and
    what the rim is like must then be seen again. Without a stage not even the rhexis, the ring
    and the new lens are taken for what they were at the start.

    Examples
    --------
    >>> before = {"gap_hours": "0", "vitreous": "none", "safe_to_go_on": "yes"}
    >>> still_presumed(before, {"vitreous": "through_gap"}, "nucleus")
    {'gap_hours': 'not_known', 'vitreous': 'not_known', 'safe_to_go_on': 'yes'}
    >>> still_presumed(before, {"rhexis": "continuous"}, "nucleus") == before
    True
    """
    if not _happened(before, told):
        return dict(before)
    stale = SEEN_AGAIN if stage else (*SEEN_AGAIN, *BY_STAGE)
    return {name: NOT_KNOWN if name in stale else said for name, said in before.items()}


def _happened(before: Answers, told: Answers) -> bool:
    """Tell whether the team says that something is no longer as it was before surgery."""
    gap = told.get("gap_hours", NOT_KNOWN)
    return (
        told.get("posterior_capsule", "intact") not in ("intact", NOT_KNOWN)
        or told.get("vitreous", "none") not in ("none", NOT_KNOWN)
        or told.get("rhexis", "continuous") not in ("not_started", "continuous", NOT_KNOWN)
        or gap not in (NOT_KNOWN, before.get("gap_hours", NOT_KNOWN))
    )
