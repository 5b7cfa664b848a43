"""The operation of this eye, step by step, each with the rules that shape it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.main_wound import MainWound, main_wound, on_the_clock
from zonule.plan.parts import ConflictReading, RuleReading, Step
from zonule.practice.records import Practice


def _hours(
    wound: MainWound, firing: set[str], width_mm: float | None, lookup: Lookup
) -> dict[str, list[tuple[str, float]]]:
    """Return what goes in at which hour; nothing while no hour for the wound can be proposed."""
    found: dict[str, list[tuple[str, float]]] = {}
    for row in table("steps")["hours"]:
        wanted = set(row.get("when_rule", ()))
        if wound.hour is None or (wanted and not wanted & firing):
            continue
        across = _across_the_gap(lookup) if row["step"] == "capsule_hooks" else ()
        hours = across or [on_the_clock(wound.hour + offset) for offset in row["offsets"]]
        main = row["step"] == "main_wound"
        label = _main_label(row["label"], wound, width_mm) if main else row["label"]
        found.setdefault(row["step"], []).extend((label, hour) for hour in hours)
    return found


def _main_label(label: str, wound: MainWound, width_mm: float | None) -> str:
    """Return what the main wound is called: with its width, and where it was moved to."""
    wide = f"{label} {width_mm:g} mm" if width_mm is not None else label
    return f"{wide} ({wound.site}, moved off the dialysis)" if wound.moved else wide


def _across_the_gap(lookup: Lookup) -> tuple[float, ...]:
    """Return where capsule hooks go for a sector loss: across the gap; empty for general laxity.

    A gap of half the bag and more is general: there the hooks go all round.
    """
    centre, width = number(lookup("dialysis_centre_clock")), number(lookup("dialysis_clock_hours"))
    if centre is None or width is None or not 3.0 <= width < 6.0:
        return ()
    parts = (-0.375 * width, 0.0, 0.375 * width)
    return tuple(on_the_clock(round(4.0 * (centre + part)) / 4.0) for part in parts)


def _order(rows: dict[str, Any], firing: set[str]) -> list[tuple[str, str]]:
    """Return step keys in order with what is said of a step that a rule has moved."""
    order = [(key, "") for key in rows]
    for moved in table("steps")["moved"]:
        if moved["rule"] not in firing:
            continue
        order = [one for one in order if one[0] != moved["step"]]
        at = next(index for index, one in enumerate(order) if one[0] == moved["after"])
        order.insert(at + 1, (moved["step"], moved["says"]))
    return order


def _weightiest_first(readings: Sequence[RuleReading]) -> list[RuleReading]:
    """Return rules as a tired team should read them: what must not be forgotten first."""
    order = {key: at for at, key in enumerate(table("different")["order"])}
    return sorted(readings, key=lambda one: order.get(one.rule.id, len(order)))


def _says(key: str, row: dict[str, Any], wound: MainWound) -> str:
    """Return what is done at a step; where no hour can be proposed the surgeon is asked."""
    if key == "main_wound" and wound.hour is None:
        return f"Choose the hour yourself: {wound.because}"
    said: str = row.get("says", "")
    return said


def steps_of(
    readings: Sequence[RuleReading],
    conflicts: Sequence[ConflictReading],
    case: Case,
    practice: Practice,
    lookup: Lookup,
) -> tuple[Step, ...]:
    """Return the steps of the operation in order.

    A rule that gives way to another stands with the conflict, not among the steps.

    A step stands there when it always happens, or when a rule that fires belongs to it; one that
    needs the eye's own lens only in an eye that has, or may have, one.
    """
    rows = table("steps")["step"]
    yields = {one.conflict.gives_way for one in conflicts}
    firing = [
        one
        for one in _weightiest_first(readings)
        if one.state == "fires" and one.rule.step and one.rule.id not in yields
    ]
    ids = {one.rule.id for one in firing}
    wound = main_wound(case, practice, lookup)
    hours = _hours(wound, ids, practice.habits.main_wound_mm, lookup)
    without = case.operative_eye.lens_status in ("aphakic", "pseudophakic")
    found: list[Step] = []
    for key, moved_says in _order(rows, ids):
        row = rows[key]
        mine = tuple(one for one in firing if one.rule.step == key)
        wanted = set(row.get("when_rule", ()))
        usual = "says" in row and (not wanted or bool(wanted & ids))
        if (without and row.get("own_lens", False)) or not (mine or usual):
            continue
        found.append(
            Step(
                key=key,
                order=0,
                name=row["name"],
                says=moved_says or _says(key, row, wound),
                rules=mine,
                clock_hours=tuple(hours.get(key, ())),
                asks=key == "main_wound" and wound.hour is None,
            )
        )
    return tuple(replace(step, order=index) for index, step in enumerate(found, 1))
