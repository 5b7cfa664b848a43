"""Why something lies at its hour on the incision and hook map."""

from __future__ import annotations

from functools import partial
from typing import Final

from zonule.library.reading import table
from zonule.library.rules import rule
from zonule.plan.clock_map import ClockMap, Mark, SteepAxis
from zonule.plan.records import Plan
from zonule.report import map_words as said
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input

HOW_THERE: Final = "It is there already: taken from the findings, and kept clear of."
HOW_PLACED: Final = (
    "Every quarter of a clock hour open to it was tried together with all the others. Of the "
    "arrangements in which nothing comes too near, this one moves least from the usual places."
)
HOW_CENTRED: Final = "It can go nowhere else: an anchor draws the bag to the middle of the gap."
HOW_OPPOSITE: Final = (
    "Every meridian was tried, after all the rest was placed: clear of what is there first, then "
    "off the horizontal, then nearest to a quarter turn from the main wound."
)
HOW_TIGHT: Final = (
    "No arrangement has room for everything: this one leaves out least. It is good, not proven to "
    "be the best."
)


def _how(mark: Mark, clock: ClockMap) -> str:
    if mark.kind == "scleral_port":
        return HOW_OPPOSITE
    if mark.fixed:
        return HOW_CENTRED if mark.kind == "segment" else HOW_THERE
    no_room = any(one.apart_degrees is None for one in clock.clashes)
    return HOW_TIGHT if no_room else HOW_PLACED


def _mark(mark: Mark, clock: ClockMap) -> Explanation:
    near = [one for one in clock.clashes if mark.key in (one.first, one.second)]
    prefers = table("clock_map")["prefers"]
    sources = (mark.source, *(one.source for one in near))
    return Explanation(
        path=f"clock_map.{mark.key}",
        title=f"{mark.label}, clock hour",
        value=f"{said.hour(mark)} o'clock, {said.moved(mark)}",
        how=_how(mark, clock),
        inputs=(
            Input("Reason", mark.says, mark.source, mark.status),
            Input("Hours", "as an examiner facing the patient sees the eye"),
            *((Input("What counts", prefers["says"], "", prefers["status"]),) * (not mark.fixed)),
            *(Input("Too near", said.clash(one), one.source, one.status) for one in near),
            *(Input(key, rule(key).title) for key in mark.rules),
        ),
        sources=tuple(dict.fromkeys((*sources, *(() if mark.fixed else (prefers["source"],))))),
        status=mark.status,
        status_of="this place",
        held_by=held_by.CLOCK_MAP,
        caveats=(table("clock_map")["meta"]["says"],),
    )


def _steep(axis: SteepAxis) -> Explanation:
    row = table("clock_map")["steep_axis"]
    return Explanation(
        path="clock_map.steep_axis",
        title="Steep axis and main wound",
        value=said.steep_axis_short(axis),
        how=f"{row['says']} Up to {row['near']:g}° off the steep axis a wound is said to ease the "
        f"cylinder, from {row['far']:g}° on to add to it.",
        inputs=(Input("Here", said.steep_axis(axis)),),
        sources=(row["source"],),
        status=row["status"],
        status_of="this reading",
        held_by=held_by.CLOCK_MAP,
    )


def map_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of everything on the map."""
    clock = plan.parts.clock_map
    paths: dict[str, Explain] = {
        f"clock_map.{one.key}": partial(_mark, one, clock) for one in clock.marks
    }
    if clock.steep_axis is not None:
        paths["clock_map.steep_axis"] = partial(_steep, clock.steep_axis)
    return paths
