"""What the hands need: devices by clock hour, the machine stage by stage, first words."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase
from typing import Final

from zonule.errors import Side
from zonule.findings.answers import number
from zonule.findings.facts import facts_of
from zonule.plan.parts import Parts
from zonule.plan.records import Plan
from zonule.report import machine_words, map_words
from zonule.report.sheet import wording
from zonule.report.sheet.records import ClockFace, Device, Stage, Words
from zonule.report.words import clock_hour, sentence_case, underscored

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
            says=", ".join(clock_hour(hour) for hour in sorted(hours)),
        )
        for index, (label, hours) in enumerate(by_label.items())
    )


def devices_say(parts: Parts, side: Side) -> str:
    """Return how hours are meant, after what the surgeon must choose without a proposal."""
    asked = [f"{one.name}: {one.says}." for one in parts.steps if one.asks]
    clock = parts.clock_map
    near = [f"{map_words.clash_word(one)}: {map_words.clash(one)}" for one in clock.hard]
    said = wording.hours_say(side) if devices(parts) else wording.NO_DEVICES_SAY
    told = (*asked, *(near if not clock.asks else ()), map_words.keep_clear(clock), said)
    return " ".join(one for one in told if one)


@dataclass(frozen=True, slots=True)
class Gap:
    """The zonular dialysis of an eye, as far as it is known."""

    width: float | None = None
    """Clock hours; None: not known."""
    centre: float | None = None

    @property
    def hours(self) -> tuple[float, ...]:
        """Hours along it, clockwise, near enough for a line."""
        if not self.width or self.centre is None:
            return ()
        pieces = max(round(4.0 * self.width), 1)
        first = self.centre - self.width / 2.0
        return tuple(first + self.width * at / pieces for at in range(pieces + 1))

    @property
    def says(self) -> str:
        """Where it lies, in words."""
        if self.width is None:
            return wording.GAP_NOT_KNOWN
        if self.width == 0.0:
            return ""
        wide = f"Zonular dialysis, {self.width:g} clock hours"
        if self.centre is None:
            return f"{wide}: where it lies is not known."
        ends = clock_hour(self.hours[0] % 12.0), clock_hour(self.hours[-1] % 12.0)
        return f"{wide}: {ends[0]} to {ends[1]}, the thick line."


def gap_of(plan: Plan) -> Gap:
    """Return the dialysis of the eye to be done."""
    lookup = facts_of(plan.case, plan.case.eye_to_do)
    return Gap(number(lookup("dialysis_clock_hours")), number(lookup("dialysis_centre_clock")))


def clock_face(side: Side, found: tuple[Device, ...], gap: Gap) -> ClockFace:
    """Return the drawing of the clock hours of an eye.

    Examples
    --------
    >>> face = clock_face("left", (), Gap(3.0, 10.0))
    >>> face.gap_says
    'Zonular dialysis, 3 clock hours: 8:30 to 11:30, the thick line.'
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
        gap=gap.hours,
        gap_says=gap.says,
        alt=f"Clock face of the {side} eye, {at[3]}, {at[9]}. {told} {gap.says}".strip(),
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
    why = ": ".join(part for part in (profile, parts.machine_because) if part)
    return f"{why}. {machine_words.zero(parts.machine_physics.setup)}"


def triggers(parts: Parts) -> tuple[Words, ...]:
    """Return the likeliest triggers with their first words."""
    return tuple(Words(one.name, one.first_words) for one in parts.triggers[:MOST_TRIGGERS])
