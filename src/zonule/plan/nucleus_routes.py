"""How a dense nucleus comes out: the intended way, then backups agreed beforehand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.library.reading import status, table
from zonule.library.tray import item
from zonule.plan.parts import NucleusRoute, RuleReading
from zonule.plan.rules import heard
from zonule.practice.records import Practice


def _never(_: str) -> bool:
    return False


def _route(row: dict[str, Any], order: int, firing: set[str], practice: Practice) -> NucleusRoute:
    own = practice.habits.nucleus_routes
    return NucleusRoute(
        key=row["key"],
        name=row["name"],
        order=order,
        trigger=row["trigger"],
        wound=row["wound"],
        suture=row["suture"],
        items=tuple(item(key).label for key in row["items"]),
        astigmatism=row["astigmatism"],
        rules=tuple(key for key in row["rules"] if key in firing),
        source=row["source"],
        status=status(row["status"]),
        in_repertoire=row["key"] in own if own else None,
    )


def nucleus_routes_of(
    readings: Sequence[RuleReading], case: Case, practice: Practice, lookup: Lookup
) -> tuple[NucleusRoute, ...]:
    """Return the ways for the nucleus to come out, where it is or may be dense; else none.

    A way that the practice file leaves out of the repertoire stays in sight, and says so.
    """
    if case.operative_eye.lens_status in ("aphakic", "pseudophakic"):
        return ()
    rows = table("nucleus_routes")
    if heard((), rows["meta"]["dense"], lookup, _never).holds is False:
        return ()
    firing = {one.rule.id for one in readings if one.state == "fires"}
    return tuple(_route(row, at, firing, practice) for at, row in enumerate(rows["route"]))
