"""What the hands need: devices by clock hour, the machine stage by stage, first words."""

from __future__ import annotations

from string import ascii_uppercase
from typing import Final

from zonule.errors import Side
from zonule.plan.parts import Parts
from zonule.report.sheet import wording
from zonule.report.sheet.records import ClockFace, Device, Stage, Words
from zonule.report.words import sentence_case, underscored

MOST_TRIGGERS: Final = 3


def devices(parts: Parts) -> tuple[Device, ...]:
    """Return what goes in at which hours, each label once, hours clockwise from 12."""
    by_label: dict[str, list[float]] = {}
    for step in parts.steps:
        for label, hour in step.clock_hours:
            by_label.setdefault(label, []).append(hour % 12.0)
    return tuple(
        Device(
            mark=ascii_uppercase[index % 26] * (index // 26 + 1),
            label=label,
            hours=tuple(sorted(hours)),
            says=", ".join(wording.clock_hour(hour) for hour in sorted(hours)),
        )
        for index, (label, hours) in enumerate(by_label.items())
    )


def clock_face(side: Side, found: tuple[Device, ...]) -> ClockFace:
    """Return the drawing of the clock hours of an eye.

    Examples
    --------
    >>> face = clock_face("left", ())
    >>> face.at_3, face.at_9
    ('3 temporal', '9 nasal')
    """
    temporal = wording.temporal_hour(side)
    at = {temporal: f"{temporal} temporal", 12 - temporal: f"{12 - temporal} nasal"}
    told = "; ".join(f"{one.mark} {one.label} at {one.says}" for one in found)
    return ClockFace(
        at_12="12",
        at_3=at[3],
        at_6="6",
        at_9=at[9],
        alt=f"Clock face of the {side} eye, {at[3]}, {at[9]}. {told}".strip(),
    )


def machine(parts: Parts) -> tuple[Stage, ...]:
    """Return the machine, one line a stage."""
    return tuple(
        Stage(one.name, one.sentence.removeprefix(f"{one.name}: ")) for one in parts.machine
    )


def machine_says(parts: Parts) -> str:
    """Return which profile this is and why, or that there is none."""
    if not parts.machine:
        return wording.NO_MACHINE_SAYS
    profile = sentence_case(underscored(parts.machine_profile))
    return ": ".join(part for part in (profile, parts.machine_because) if part)


def triggers(parts: Parts) -> tuple[Words, ...]:
    """Return the likeliest triggers with their first words."""
    return tuple(Words(one.name, one.first_words) for one in parts.triggers[:MOST_TRIGGERS])
