"""The operation of this eye, step by step, each with the rules that shape it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from zonule.findings.answers import number
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.parts import ConflictReading, RuleReading, Step
from zonule.practice.records import Practice

TEMPORAL_HOUR: Final = {"left": 3.0, "right": 9.0}
"""As an examiner facing the patient sees the eye."""
SUPERIOR_HOUR: Final = 12.0
HALF_A_WOUND_HOURS: Final = 1.5
"""How near the edge of a dialysis a wound may come before it is moved."""


def on_the_clock(hour: float) -> float:
    """Return an hour between 12 (kept as 12) and just under it.

    Examples
    --------
    >>> on_the_clock(15.0), on_the_clock(0.0), on_the_clock(-2.25), on_the_clock(12.5)
    (3.0, 12.0, 9.75, 12.5)
    """
    turned = hour % 12.0
    return turned + 12.0 if turned < 1.0 else turned


def hours_apart(one: float, other: float) -> float:
    """Return how many hours lie between two positions, the short way round.

    Examples
    --------
    >>> hours_apart(11.0, 1.0), hours_apart(3.0, 9.0)
    (2.0, 6.0)
    """
    apart = abs(one - other) % 12.0
    return min(apart, 12.0 - apart)


@dataclass(frozen=True, slots=True)
class MainWound:
    """Where the main wound goes, as a proposal, and why."""

    hour: float
    site: str
    because: str


def main_wound(case: Case, practice: Practice, lookup: Lookup) -> MainWound:
    """Return the hour of the main wound: the surgeon's usual site, moved off a dialysis.

    Without a site in the practice file the temporal one is proposed, and it is said so.
    """
    temporal = TEMPORAL_HOUR[case.eye_to_do]
    usual = practice.habits.main_wound_site
    sites = {"temporal": temporal, "superior": SUPERIOR_HOUR}
    first = usual or "temporal"
    said = "your usual site" if usual else "temporal: no usual site in the practice file"
    centre, width = number(lookup("dialysis_centre_clock")), number(lookup("dialysis_clock_hours"))
    if centre is None or not width:
        return MainWound(sites[first], first, said)
    near = width / 2.0 + HALF_A_WOUND_HOURS
    if hours_apart(sites[first], centre) >= near:
        return MainWound(sites[first], first, said)
    second = "superior" if first == "temporal" else "temporal"
    if hours_apart(sites[second], centre) >= near:
        return MainWound(sites[second], second, f"moved off the dialysis at {centre:g} o'clock")
    far = on_the_clock(centre + 6.0)
    return MainWound(far, "opposite", f"opposite the dialysis at {centre:g} o'clock")


def _hours(
    wound: MainWound, firing: set[str], lookup: Lookup
) -> dict[str, list[tuple[str, float]]]:
    found: dict[str, list[tuple[str, float]]] = {}
    for row in table("steps")["hours"]:
        if "when_rule" in row and row["when_rule"] not in firing:
            continue
        across = _across_the_gap(lookup) if row["step"] == "capsule_hooks" else ()
        hours = across or [on_the_clock(wound.hour + offset) for offset in row["offsets"]]
        found.setdefault(row["step"], []).extend((row["label"], hour) for hour in hours)
    return found


def _across_the_gap(lookup: Lookup) -> tuple[float, ...]:
    """Return where capsule hooks go for a sector loss: across the gap; empty for general laxity."""
    centre, width = number(lookup("dialysis_centre_clock")), number(lookup("dialysis_clock_hours"))
    if centre is None or width is None or width < 3.0:
        return ()
    return tuple(on_the_clock(centre + part * width / 2.0) for part in (-0.75, 0.0, 0.75))


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
    hours = _hours(main_wound(case, practice, lookup), ids, lookup)
    without = case.operative_eye.lens_status in ("aphakic", "pseudophakic")
    found: list[Step] = []
    for key, moved_says in _order(rows, ids):
        row = rows[key]
        mine = tuple(one for one in firing if one.rule.step == key)
        usual = "says" in row and row.get("when_rule", "") in {"", *ids}
        if (without and row.get("own_lens", False)) or not (mine or usual):
            continue
        found.append(
            Step(
                key=key,
                order=0,
                name=row["name"],
                says=moved_says or row.get("says", ""),
                rules=mine,
                clock_hours=tuple(hours.get(key, ())),
            )
        )
    return tuple(replace(step, order=index) for index, step in enumerate(found, 1))
