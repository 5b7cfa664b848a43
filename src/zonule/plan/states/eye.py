"""What the findings of an eye say of each place: refused, asked about, or something to say."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from zonule.findings.conditions import Lookup, parse
from zonule.findings.fields import placements
from zonule.findings.labels import named
from zonule.library.reading import table


@dataclass(frozen=True, slots=True)
class EyeVerdict:
    """What the findings say of one place."""

    refused_because: str = ""
    asks: tuple[str, ...] = ()
    """To be seen under the microscope and answered yes: not known from before."""
    warns: tuple[str, ...] = ()
    closed_variants: Mapping[str, str] | None = None
    """Variants that are refused though the place is not, with the reason."""


NOTHING_SAID: Final = EyeVerdict()


def eye_filters(lookup: Lookup) -> Mapping[str, EyeVerdict]:
    """Return what the findings of an eye say of each place they speak of.

    A finding that is not known refuses the place where it must be known beforehand, and asks
    where it can be seen under the microscope.

    Parameters
    ----------
    lookup
        Every finding of the eye, by the name that rules use.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> told = {"ecd": 2400.0, "age": 78, "glaucoma": False, "angle_state": "open"}
    >>> found = eye_filters(lambda name: told.get(name, Unknown.NOT_RECORDED))
    >>> found["anterior_chamber"].refused_because, len(found["anterior_chamber"].asks)
    ('', 6)
    >>> eye_filters(lambda name: Unknown.NOT_RECORDED)["anterior_chamber"].refused_because
    'not known: endothelial cell count'
    """
    rows = table("theatre/eye_limits")
    speaks = dict.fromkeys(row["placement"] for row in (*rows["not_if"], *rows["warn_if"]))
    return {placement: _verdict(placement, rows, lookup) for placement in speaks}


def _verdict(placement: str, rows: Mapping[str, Any], lookup: Lookup) -> EyeVerdict:
    limits = [row for row in rows["not_if"] if row["placement"] == placement]
    closed = {
        variant: why
        for variant in placements().get(placement, ())
        if (why := _first_refusal([row for row in limits if row.get("variant") == variant], lookup))
    }
    return EyeVerdict(
        refused_because=_first_refusal([row for row in limits if "variant" not in row], lookup),
        asks=tuple(dict.fromkeys(row["ask"] for row in limits if _asks(row, lookup))),
        warns=tuple(
            row["says"]
            for row in rows["warn_if"]
            if row["placement"] == placement and parse(row["when"]).holds(lookup)
        ),
        closed_variants=closed,
    )


def _first_refusal(limits: list[dict[str, Any]], lookup: Lookup) -> str:
    """Return the first reason against a place: what is found before what is not known."""
    for row in limits:
        if parse(row["when"]).holds(lookup):
            return str(row["says"])
    waiting = (
        parse(row["when"])
        for row in limits
        if row["if_unknown"] == "hold" and parse(row["when"]).holds(lookup) is None
    )
    return next((f"not known: {_named(one.finding)}" for one in waiting), "")


def _asks(row: Mapping[str, Any], lookup: Lookup) -> bool:
    return row["if_unknown"] == "ask" and parse(row["when"]).holds(lookup) is None


def _named(finding: str) -> str:
    """Return a finding within a sentence, those of theatre among them."""
    theatre = table("theatre_findings")["finding"]
    label = theatre.get(finding, "")
    return label[:1].lower() + label[1:] if label else named(finding)
