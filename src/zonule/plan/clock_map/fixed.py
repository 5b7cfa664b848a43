"""What is at the limbus already, and what nobody knows of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from zonule.errors import Side
from zonule.findings.answers import is_known, number
from zonule.findings.conditions import Lookup
from zonule.library.reading import table
from zonule.plan.clock_map.positions import from_hour
from zonule.plan.clock_map.spots import Spot

KINDS: Final = ("dialysis", "bleb", "old_wound", "vessels")


@dataclass(frozen=True, slots=True)
class Found:
    """What is there already."""

    spots: tuple[Spot, ...] = ()
    waits_for: tuple[str, ...] = ()
    """Findings that could put something more there."""
    lost: tuple[str, ...] = ()
    """What is known to be there, but nobody recorded where; without it no hour is proposed."""
    assumed: tuple[str, ...] = ()
    """Kinds whose width nobody recorded."""


@dataclass(frozen=True, slots=True)
class _One:
    centre: float | None
    width: float | None
    there: bool | None
    """None: not known."""


def _read(row: dict[str, Any], lookup: Lookup) -> _One:
    """Return what is known of one kind; a width of nought, or a "no", rules it out."""
    centre, width = (number(lookup(key)) for key in row["find"])
    if width is not None or centre is not None:
        return _One(centre, width, there=width is None or width > 0.0)
    any_at_all = lookup(row["if_any"]) if "if_any" in row else None
    there = any_at_all if isinstance(any_at_all, bool) else None
    return _One(centre, width, there)


def _kind(kind: str, side: Side, lookup: Lookup) -> Found:
    row = table("clock_map")["kind"][kind]
    one = _read(row, lookup)
    where, how_wide = row["find"]
    if one.there is False:
        return Found()
    if one.there is None or (one.width is None and "hours" not in row):
        asked = row.get("if_any", how_wide)
        return Found(waits_for=(how_wide if is_known(lookup(asked)) else asked,))
    if one.centre is None:
        wide = f" of {one.width:g} clock hours" if one.width is not None else ""
        lost = (f"where the {row['lost']}{wide} lies",) if row.get("must_be_found") else ()
        return Found(waits_for=(where,), lost=lost)
    width = row["hours"] if one.width is None else one.width
    spot = Spot(kind, kind, from_hour(one.centre, side), 15.0 * width)
    return Found(
        spots=(spot,),
        waits_for=(how_wide,) if one.width is None else (),
        assumed=(kind,) if one.width is None else (),
    )


def _all(side: Side, lookup: Lookup) -> Iterator[Found]:
    for kind in KINDS:
        yield _kind(kind, side, lookup)


def what_is_there(side: Side, lookup: Lookup) -> Found:
    """Return what is at the limbus already; what was not recorded is waited for, never absent.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> found = {"dialysis_centre_clock": 8.0, "dialysis_clock_hours": 4.0}
    >>> there = what_is_there("left", lambda key: found.get(key, Unknown.NOT_RECORDED))
    >>> [(one.kind, one.quarters, one.half_degrees) for one in there.spots]
    [('dialysis', -16.0, 60.0)]
    >>> there.waits_for[0]
    'hist_glaucoma_surgery'
    """
    each = tuple(_all(side, lookup))
    return Found(
        spots=tuple(spot for one in each for spot in one.spots),
        waits_for=tuple(key for one in each for key in one.waits_for),
        lost=tuple(said for one in each for said in one.lost),
        assumed=tuple(kind for one in each for kind in one.assumed),
    )
