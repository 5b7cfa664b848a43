"""Anaesthesia of this eye: route, time flat, needle, and what scleral work would change."""

from __future__ import annotations

from collections.abc import Sequence

from zonule.findings.answers import Answer, is_known, number
from zonule.findings.conditions import Lookup, parse
from zonule.findings.labels import named, said
from zonule.library.reading import status, table
from zonule.plan.parts import Anaesthesia, RuleReading, Said
from zonule.practice.records import Practice


def _route(wanted: Answer, practice: Practice) -> tuple[str, str]:
    if is_known(wanted):
        return str(wanted), "this case"
    usual = practice.habits.anaesthesia
    return (usual, "your practice file") if usual else ("", "")


def needle(lookup: Lookup) -> tuple[bool | None, str, tuple[str, ...]]:
    """Return whether a sharp needle is allowed, what is said of it, and what it waits for.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> needle(lambda name: Unknown.NOT_RECORDED)[0] is None
    True
    """
    waits: list[str] = []
    against: list[str] = []
    for row in table("anaesthesia")["against_needle"]:
        condition = parse(row["when"])
        holds = condition.holds(lookup)
        if holds:
            because = said(condition, lookup(condition.finding))
            against.append(row["says"].format(because=because[:1].upper() + because[1:]))
        elif holds is None:
            waits.append(condition.finding)
    if against:
        return False, "; ".join(against), ()
    if waits:
        return None, f"waits for {', '.join(named(name) for name in waits)}", tuple(waits)
    return True, "nothing in the record speaks against it", ()


def _lines(readings: Sequence[RuleReading], lookup: Lookup) -> tuple[Said, ...]:
    rules = table("anaesthesia")
    carried = [
        Said(one.rule.id, one.rule.title, one.rule.why, one.rule.sources[0], one.rule.status)
        for one in readings
        if one.state == "fires" and one.rule.id in rules["carry"]["rules"]
    ]
    own = [
        Said(row["key"], row["says"], "", row["source"], status(row["status"]))
        for row in rules["line"]
        if parse(row["when"]).holds(lookup)
    ]
    return (*carried, *own, *_not_asked(lookup))


def _not_asked(lookup: Lookup) -> tuple[Said, ...]:
    """Return what nobody has said of the patient: not recorded is not absent."""
    rows = table("anaesthesia")["line"]
    open_ = [parse(row["when"]).finding for row in rows if parse(row["when"]).holds(lookup) is None]
    if not open_:
        return ()
    says = f"Not known: {', '.join(named(name) for name in open_)}"
    meta = table("anaesthesia")["meta"]
    return (Said("not_known", says, "", meta["source"], status(meta["status"])),)


def _flat_says(minutes: float | None, lookup: Lookup) -> str:
    if minutes is not None:
        return f"{minutes:g} minutes at most"
    flat = lookup("can_lie_flat")
    if flat is False:
        return "cannot lie flat; for how long in which position is not recorded"
    if flat is True:
        return "lies flat; for how long is not recorded"
    return "not recorded"


def _if_scleral(
    readings: Sequence[RuleReading], rows: dict[str, str], route: str, minutes: float | None
) -> str:
    """Return what scleral work would change, what forbids it first, and the time there is."""
    held = any(one.state == "fires" and one.rule.id == rows["held_by_rule"] for one in readings)
    first = f"{rows['held']}. " if held else ""
    time = f"; this patient lies flat {minutes:g} minutes at most" if minutes is not None else ""
    return f"{first}{rows[route]}{time}"


def anaesthesia_of(
    readings: Sequence[RuleReading], practice: Practice, lookup: Lookup
) -> Anaesthesia:
    """Return what is said about anaesthesia of this eye."""
    rows = table("anaesthesia")
    route, origin = _route(lookup("anaesthesia_route"), practice)
    minutes = number(lookup("longest_time_flat_min"))
    allowed, says, waits = needle(lookup)
    return Anaesthesia(
        route=rows["route"][route] if route else "not recorded",
        route_from=origin,
        longest_flat_min=minutes,
        flat_says=_flat_says(minutes, lookup),
        needle_allowed=allowed,
        needle_says=says,
        needle_waits_for=waits,
        lines=_lines(readings, lookup),
        if_scleral=_if_scleral(readings, rows["if_scleral"], route or "unknown", minutes),
    )
