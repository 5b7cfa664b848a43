"""Puts the map of an eye together: what is there, what is wanted, where it goes."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from zonule.errors import Side
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.clock_map.eye import AtTheLimbus, at_the_limbus
from zonule.plan.clock_map.marks import (
    clashes_of,
    in_order,
    in_the_way,
    label_of,
    mark_of,
    moved_notes,
    no_room,
)
from zonule.plan.clock_map.proposal import Proposal, propose
from zonule.plan.clock_map.records import Clash, ClockMap, Mark, Seat
from zonule.plan.clock_map.scleral import scleral_ports
from zonule.plan.clock_map.spots import Spot, one_stab
from zonule.plan.clock_map.steep_axis import steep_axis_of
from zonule.plan.main_wound import hour_of, hours_apart
from zonule.practice.records import Practice

SEATS: Final[tuple[Seat, Seat]] = ("superior", "temporal")
NO_MIDDLE: Final = (
    "The rules ask for an anchor, and there is no gap with a middle to put it at: two segments "
    "opposite each other, at the hours that the bag shows."
)


def clock_map_of(
    case: Case,
    practice: Practice,
    lookup: Lookup,
    *,
    firing: frozenset[str],
    waiting: frozenset[str],
    scleral_backup: bool,
) -> ClockMap:
    """Return what lies where at the limbus of the eye to be done, and what is proposed.

    Parameters
    ----------
    case, practice
        As read.
    lookup
        Every finding of the eye to be done, by the name that rules use.
    firing
        Ids of the rules that shape this operation.
    waiting
        Ids of those that wait for something not known.
    scleral_backup
        Whether a place held by the sclera stands among the likelier ones of this plan.
    """
    eye = at_the_limbus(case, practice, lookup, firing)
    found = None if eye.there.lost else propose(eye.start, eye.fixed, eye.wanted)
    spots = _spots(found, eye, scleral_backup=scleral_backup) if found else ()
    marks = in_order((*_there(eye), *_proposed(found, spots, eye)))
    wound = next((one for one in marks if one.kind == "main_wound"), None)
    return ClockMap(
        side=eye.side,
        seat=seat_of(wound.hour if wound else None, eye.site, eye.side),
        marks=marks,
        clashes=_clashes(found, spots, eye),
        waits_for=eye.there.waits_for,
        notes=(*moved_notes(marks), *_shared(spots), *_no_middle(eye), *_not_yet(eye, waiting)),
        steep_axis=steep_axis_of(lookup, wound.degrees if wound else None),
        asks="" if found else _asks(eye),
    )


def seat_of(hour: float | None, site: str, side: Side) -> Seat:
    """Return where the surgeon sits: where the wound is nearest, else as usual.

    Examples
    --------
    >>> seat_of(3.0, "superior", "left"), seat_of(1.5, "superior", "left")
    ('temporal', 'superior')
    """
    usual: Seat = "superior" if site == "superior" else "temporal"
    if hour is None:
        return usual
    return min(SEATS, key=lambda seat: (hours_apart(hour, hour_of(seat, side)), seat != usual))


def _spots(found: Proposal, eye: AtTheLimbus, *, scleral_backup: bool) -> tuple[Spot, ...]:
    """Return everything proposed: the main wound, what goes in with it, ports for a backup."""
    placed = (found.wound, *(spot for _, spot in found.placed))
    if not scleral_backup:
        return placed
    return (*placed, *scleral_ports(found.wound.quarters, (*eye.fixed, found.wound)))


def _there(eye: AtTheLimbus) -> tuple[Mark, ...]:
    return tuple(
        mark_of(
            one,
            eye.side,
            usual=one.quarters,
            firing=eye.firing,
            assumed=one.kind in eye.there.assumed,
        )
        for one in eye.fixed
    )


def _proposed(found: Proposal | None, spots: tuple[Spot, ...], eye: AtTheLimbus) -> Iterator[Mark]:
    """Yield the marks of what is proposed; none where nothing is."""
    if found is None:
        return
    usual = {slot.key: float(slot.usual) for slot, _ in found.placed}
    for one in spots:
        if one.kind == "main_wound":
            yield _wound(one, eye)
        else:
            began = usual.get(one.key, one.quarters)
            yield mark_of(one, eye.side, usual=began, firing=eye.firing)


def _wound(wound: Spot, eye: AtTheLimbus) -> Mark:
    """Return the mark of the main wound, with why it lies there."""
    usual, moved = eye.usual_wound, ""
    because = eye.first.because if eye.first.site == eye.site else eye.site
    says = f"{because[:1].upper()}{because[1:]}."
    if wound.quarters != usual.quarters:
        off = in_the_way(usual, eye.there.spots) or in_the_way(usual, eye.fixed)
        moved = f"off {off}" if off else "to make room"
        says = f"Moved {moved}."
    return mark_of(wound, eye.side, usual=usual.quarters, firing=eye.firing, says=says, moved=moved)


def _shared(spots: tuple[Spot, ...]) -> tuple[str, ...]:
    """Return which hooks use one stab, one after the other."""
    return tuple(
        f"One stab for {label_of(first).lower()}, then for {label_of(second).lower()}."
        for first, second in combinations(spots, 2)
        if one_stab(first, second)
    )


def _no_middle(eye: AtTheLimbus) -> tuple[str, ...]:
    return (NO_MIDDLE,) if eye.asked("segment") and eye.wanted.segment is None else ()


def _not_yet(eye: AtTheLimbus, waiting: frozenset[str]) -> tuple[str, ...]:
    """Return what may still have to go in: unknown is not absent."""
    rows = table("clock_map")["kind"]
    held = [
        row["many"].lower()
        for kind, row in rows.items()
        if waiting & set(row.get("when_rule", ())) and not eye.asked(kind)
    ]
    which = " and ".join((", ".join(held[:-1]), held[-1])) if len(held) > 1 else "".join(held)
    return (f"Not drawn yet, a rule that asks for them still waits: {which}.",) if held else ()


def _clashes(
    found: Proposal | None, spots: tuple[Spot, ...], eye: AtTheLimbus
) -> tuple[Clash, ...]:
    """Return what found no room, then what still lies too near."""
    if found is None:
        return () if eye.there.lost else no_room(eye.usual_wound, eye.there.spots)
    drawn = (*eye.fixed, *spots)
    unplaced = (clash for one in found.no_room for clash in no_room(one, drawn))
    return (*unplaced, *clashes_of(drawn))


def _asks(eye: AtTheLimbus) -> str:
    """Return why no hour is proposed."""
    if eye.there.lost:
        return f"{' and '.join(eye.there.lost)} is not known"
    if eye.first.hour is None:
        return eye.first.because
    return (
        f"no hour that hands can reach is clear of {in_the_way(eye.usual_wound, eye.there.spots)}"
    )
