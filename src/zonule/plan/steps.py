"""The operation of this eye, step by step, each with the rules that shape it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.clock_map import ClockMap, Mark
from zonule.plan.parts import ConflictReading, RuleReading, Step
from zonule.practice.records import Practice


def hours_by_step(clock: ClockMap, width_mm: float | None) -> dict[str, list[tuple[str, float]]]:
    """Return what goes in at which hour, by the step at which it is said.

    Parameters
    ----------
    clock
        The map: hours stand there once, and everything else reads them from it.
    width_mm
        Width of the main wound, where the practice file has it.
    """
    rows = table("clock_map")["kind"]
    found: dict[str, list[tuple[str, float]]] = {}
    for mark in clock.marks:
        step = "" if clock.asks else rows[mark.kind].get("step", "")
        if step:
            main = mark.kind == "main_wound"
            label = _main_label(mark, width_mm) if main else rows[mark.kind]["many"]
            found.setdefault(step, []).append((label, mark.hour))
    return found


def _main_label(mark: Mark, width_mm: float | None) -> str:
    """Return what the main wound is called: with its width, and that it was moved."""
    wide = f"{mark.label} {width_mm:g} mm" if width_mm is not None else mark.label
    return f"{wide} (moved {mark.moved})" if mark.moved else wide


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


def _says(key: str, row: dict[str, Any], clock: ClockMap) -> str:
    """Return what is done at a step; where no hour can be proposed the surgeon is asked."""
    if key == "main_wound" and clock.asks:
        return f"Choose the hour yourself: {clock.asks}"
    said: str = row.get("says", "")
    return said


def shaping(
    readings: Sequence[RuleReading], conflicts: Sequence[ConflictReading]
) -> list[RuleReading]:
    """Return the rules that shape the operation, the weightiest first.

    A rule that gives way to another stands with the conflict, not among the steps.
    """
    yields = {one.conflict.gives_way for one in conflicts}
    return [
        one
        for one in _weightiest_first(readings)
        if one.state == "fires" and one.rule.id not in yields
    ]


def steps_of(
    firing: Sequence[RuleReading], case: Case, practice: Practice, clock: ClockMap
) -> tuple[Step, ...]:
    """Return the steps of the operation in order.

    Parameters
    ----------
    firing
        The rules that shape it, the weightiest first.
    case, practice
        As read.
    clock
        Where everything goes at the limbus.

    Notes
    -----
    A step stands there when it always happens, or when a rule that fires belongs to it; one that
    needs the eye's own lens only in an eye that has, or may have, one.
    """
    rows = table("steps")["step"]
    ids = {one.rule.id for one in firing}
    hours = hours_by_step(clock, practice.habits.main_wound_mm)
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
                says=moved_says or _says(key, row, clock),
                rules=mine,
                clock_hours=tuple(hours.get(key, ())),
                asks=key == "main_wound" and bool(clock.asks),
            )
        )
    return tuple(replace(step, order=index) for index, step in enumerate(found, 1))
