"""What lies in the room, what is to fetch and to order, and what for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from zonule.findings.conditions import Lookup, parse
from zonule.library.reading import table
from zonule.library.rules import Bring
from zonule.library.tray import item, items
from zonule.plan.parts import RuleReading, TrayItem
from zonule.plan.records import Rung
from zonule.practice.records import Practice

PLANNED_AND_TWIN: Final = 2
"""The lens that is meant, and one more of the same; a backup lies there once."""


@dataclass(slots=True)
class _Wanted:
    """What the rules want of one item, as it is gathered."""

    count: int = 1
    rules: list[str] = field(default_factory=list)
    waits_for: list[str] = field(default_factory=list)
    certain: bool = False
    places: list[str] = field(default_factory=list)
    """Labels of the places that cannot be done without it."""


def _gathered(readings: Iterable[RuleReading], lookup: Lookup) -> dict[str, _Wanted]:
    wanted: dict[str, _Wanted] = {}
    for reading in readings:
        if reading.state not in ("fires", "waits"):
            continue
        for bring in reading.rule.bring:
            _add(wanted, reading, bring, lookup)
    return wanted


def _add(wanted: dict[str, _Wanted], reading: RuleReading, bring: Bring, lookup: Lookup) -> None:
    """Add what one rule brings; an item of its own condition only while that can still hold."""
    holds = parse(bring.when).holds(lookup) if bring.when else True
    if holds is False:
        return
    one = wanted.setdefault(bring.item, _Wanted())
    one.rules.append(reading.rule.id)
    if reading.state == "fires" and holds:
        one.certain = True
        one.count = max(one.count, bring.count * (1 + bring.spare_sets))
        return
    one.waits_for += reading.waits_for if reading.state == "waits" else ()
    if holds is None:
        one.waits_for.append(parse(bring.when).finding)


def _add_for_places(wanted: dict[str, _Wanted], rungs: Iterable[Rung]) -> None:
    """Add what the places of this plan need: a backup that is offered must be possible."""
    kit = table("place_kit")["place"]
    for rung in rungs:
        for key in kit.get(rung.place.key, ()) if rung.offered else ():
            wanted.setdefault(key, _Wanted()).places.append(rung.place.label)


def _kept_out(readings: Iterable[RuleReading]) -> set[str]:
    return {key for one in readings if one.state == "fires" for key in one.rule.leave_out}


def _doubt(wanted: dict[str, _Wanted], readings: Iterable[RuleReading]) -> None:
    """Make an item wait where a rule that would keep it out still waits: unknown is not absent."""
    for reading in readings:
        for key in reading.rule.leave_out if reading.state == "waits" else ():
            if key in wanted:
                wanted[key].certain = False
                wanted[key].waits_for += reading.waits_for


def _device(key: str, wanted: _Wanted, practice: Practice) -> TrayItem:
    kind, kept, card = item(key), practice.kept.get(key), practice.recipe_cards.get(key)
    return TrayItem(
        key=key,
        label=kind.label,
        kind=kind.kind,
        count=wanted.count,
        kept=kept.kept if kept else "not_recorded",
        shelf=kept.shelf if kept else "",
        strength=card.strength if card else "",
        card=card.card if card else "",
        needs_card=kind.needs_card and card is None,
        rules=tuple(dict.fromkeys(wanted.rules)),
        waits_for=_settled_by(wanted),
        short=kept is not None and kept.quantity is not None and kept.quantity < wanted.count,
        for_places=() if wanted.certain else tuple(wanted.places),
    )


def _settled_by(wanted: _Wanted) -> tuple[str, ...]:
    """Return the findings that would settle whether an item is wanted; none where it is."""
    settled = wanted.certain or bool(wanted.places)
    return () if settled else tuple(dict.fromkeys(wanted.waits_for))


def _lens(rung: Rung) -> TrayItem:
    assert rung.lens is not None
    assert rung.chosen is not None
    assert rung.in_stock is not None
    needed = PLANNED_AND_TWIN if rung.order == 0 else 1
    return TrayItem(
        key=f"{rung.lens.name.replace(' ', '_')}:{rung.chosen.power_d:+.2f}",
        label=rung.lens.name,
        kind="lens",
        count=needed,
        kept=rung.in_stock.kept,
        shelf="",
        strength="",
        card="",
        needs_card=False,
        rules=(),
        short=rung.in_stock.quantity < needed,
        power_d=rung.chosen.power_d,
        lens=rung.lens.name,
        for_places=(rung.place.label,),
    )


def lenses_of(rungs: Sequence[Rung]) -> tuple[TrayItem, ...]:
    """Return each lens and power of a plan once, with every place it would go to."""
    found: dict[str, TrayItem] = {}
    for rung in rungs:
        if not rung.offered or rung.chosen is None:
            continue
        one = _lens(rung)
        known = found.get(one.key)
        found[one.key] = (
            replace(known, for_places=(*known.for_places, *one.for_places)) if known else one
        )
    return tuple(found.values())


def tray_of(
    readings: Sequence[RuleReading], rungs: Sequence[Rung], practice: Practice, lookup: Lookup
) -> tuple[TrayItem, ...]:
    """Return everything that should be there: lenses first, then in the order of the table.

    An item that a firing rule keeps out is not there, whoever wants it.
    """
    wanted, out = _gathered(readings, lookup), _kept_out(readings)
    _add_for_places(wanted, rungs)
    _doubt(wanted, readings)
    ordered = [key for key in items() if key in wanted and key not in out]
    return (*lenses_of(rungs), *(_device(key, wanted[key], practice) for key in ordered))
