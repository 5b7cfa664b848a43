"""How the incision and hook map is said to a person, in one place."""

from __future__ import annotations

from typing import Final

from zonule.findings.labels import named
from zonule.library.reading import table
from zonule.plan.clock_map import Clash, ClockMap, Mark, SteepAxis
from zonule.report.words import clock_hour

LETTERS: Final = {
    "main_wound": "W",
    "side_port": "P",
    "iris_hook": "I",
    "capsule_hook": "C",
    "segment": "S",
    "scleral_port": "F",
    "dialysis": "D",
    "bleb": "B",
    "old_wound": "O",
    "vessels": "V",
}
"""On the drawing and in its table; things of which there are several have their number after it."""
KEY_SAYS: Final = {
    "scleral_port": "Scleral ports (backup)",
    "vessels": "Vessels or scar",
}
"""Beside the drawing, where the words of the steps are too long."""
VIEWS: Final = {
    "surgeon": "As the surgeon sees it",
    "examiner": "As the examiner sees it",
}
SEAT_SAYS: Final = "surgeon"


def letters(mark: Mark) -> str:
    """Return what stands in the mark on the drawing.

    Examples
    --------
    >>> from zonule.plan.clock_map import Mark
    >>> letters(Mark("iris_hook_2", "iris_hook", "", 6.0, 0.0, False, "", "", "practice"))
    'I2'
    """
    return LETTERS[mark.kind] + mark.key.removeprefix(mark.kind).strip("_")


def view_says(clock: ClockMap, view: str) -> str:
    """Return whose view a drawing is, and how it is turned."""
    eye = f"{clock.side.capitalize()} eye"
    if view == "examiner":
        return f"{eye}, as the examiner sees it: 12 above"
    nearest = "12" if clock.seat == "superior" else "the temporal side"
    return f"{eye}, turned: {nearest} nearest the surgeon"


def _within(label: str) -> str:
    return label[:1].lower() + label[1:]


def heading(clock: ClockMap) -> str:
    """Return what the map comes to, in one line."""
    if clock.asks:
        return f"No hour is proposed: {clock.asks}"
    if clock.hard:
        return _worst(clock)
    found = "No clash" if not clock.waits_for else "No clash with what is on record"
    many = len(clock.clashes)
    return f"{found}, {many} to bear in mind" if many else found


def _worst(clock: ClockMap) -> str:
    first, more = clock.hard[0], len(clock.hard) - 1
    one, other = first.labels[0], _within(first.labels[1])
    said = (
        f"No room for {_within(one)}: too near the {other}"
        if first.apart_degrees is None
        else f"Two things want the same place: {_within(one)} and {other}"
    )
    return f"{said}, and {more} more" if more else said


def clash(one: Clash) -> str:
    """Return two things that come too near, how near, and what to do.

    Examples
    --------
    >>> near = ("Side port 1", "Iris hook 2")
    >>> clash(Clash("a", "b", near, 7.5, 20.0, True, "Move one.", "", "practice"))
    'Side port 1 and iris hook 2: 7.5° apart, 20° wanted. Move one.'
    """
    first, second = one.labels[0], _within(one.labels[1])
    if one.apart_degrees is None:
        return f"{first}: not drawn, no room beside the {second}. {one.do}"
    if one.wanted_degrees == 0.0:
        return f"{first} lies over the {second}. {one.do}"
    apart = f"{round(one.apart_degrees, 1):g}° apart"
    return f"{first} and {second}: {apart}, {one.wanted_degrees:g}° wanted. {one.do}"


def clash_word(one: Clash) -> str:
    """Return in a word what two things too near each other come to."""
    if one.apart_degrees is None:
        return "No room"
    return "Clash" if one.hard else "Bear in mind"


def keep_clear(clock: ClockMap) -> str:
    """Return what nothing is to be cut through, with its hours; empty where nothing is known."""
    there = [one for one in clock.marks if one.kind in ("bleb", "old_wound", "vessels")]
    told = "; ".join(f"{_within(one.label)} {hour(one)}" for one in there)
    return f"Keep clear: {told}." if told else ""


def steep_axis(one: SteepAxis) -> str:
    """Return how the main wound lies to the steep axis, for information.

    Examples
    --------
    >>> steep_axis(SteepAxis(88.0, 0.8, False, 88.0))[:59]
    'the main wound lies 88° off it and adds to this cylinder. A'
    """
    if one.off_degrees is None:
        return "no main wound to hold it against."
    rows = table("clock_map")["steep_axis"]
    does = "turns the axis of this cylinder"
    if one.off_degrees <= rows["near"]:
        does = "eases this cylinder"
    elif one.off_degrees >= rows["far"]:
        does = "adds to this cylinder"
    off = f"{round(one.off_degrees, 1):g}° off it" if one.off_degrees >= 1.0 else "on it"
    return f"the main wound lies {off} and {does}. {rows['says']}"


def steep_axis_short(one: SteepAxis) -> str:
    """Return the steep axis, its cylinder, and whether it was worked out from the flat one."""
    cylinder = f", {one.cylinder_d:.2f} D" if one.cylinder_d is not None else ""
    worked_out = ", a quarter turn from the flat one" if one.worked_out else ""
    return f"Steep axis {round(one.axis, 1):g}°{cylinder}{worked_out}"


def waits(clock: ClockMap) -> str:
    """Return what is not recorded and could lie there too; empty where all is known."""
    if not clock.waits_for:
        return ""
    told = "; ".join(_not_known(key, clock) for key in clock.waits_for)
    return f"Not recorded: {told}. Look before the first cut."


def _not_known(key: str, clock: ClockMap) -> str:
    """Return what a finding that is not recorded could put on the clock face."""
    rows = table("clock_map")["kind"].items()
    for kind, row in rows:
        if key == row.get("if_any"):
            return f"{row['lost']} ({named(key)} not known)"
        if key in row.get("find", ()):
            if key == row["find"][0]:
                return f"where the {row['lost']} lies"
            return f"how wide the {row['lost']} is" if clock.of_kind(kind) else row["lost"]
    return named(key)


def hour(mark: Mark) -> str:
    """Return the hour of a mark; of a broad one that is there already, from where to where.

    Examples
    --------
    >>> from zonule.plan.clock_map import Mark
    >>> hour(Mark("bleb", "bleb", "Bleb", 12.0, 30.0, True, "", "", "practice"))
    '11 to 1'
    >>> hour(Mark("main_wound", "main_wound", "", 3.0, 12.0, False, "", "", "practice"))
    '3'
    """
    if not mark.fixed or not mark.half_width_degrees:
        return clock_hour(mark.hour)
    half = mark.half_width_degrees / 30.0
    ends = (clock_hour((mark.hour + by) % 12.0) for by in (-half, half))
    return "all round" if half >= 6.0 else " to ".join(ends)


def moved(mark: Mark) -> str:
    """Return whether a mark is there already, lies as usual, or was moved."""
    if mark.kind == "segment" and mark.fixed:
        return "middle of the gap"
    if mark.fixed:
        return "there already" + (", width assumed" if mark.width_assumed else "")
    if not mark.moved_degrees:
        return "usual place"
    return f"moved {round(mark.moved_degrees, 1):g}°" + (f" {mark.moved}" if mark.moved else "")
