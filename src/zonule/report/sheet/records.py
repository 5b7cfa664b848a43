"""What the sheet for the theatre wall says, as frozen records: every word of it stands here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Placed:
    """One place with its lens and power, or why there is none."""

    number: str
    """Its number among the backups; empty for the intended place."""
    place: str
    happens_when: str
    notes: tuple[str, ...]
    rare: bool
    """Fewer than 1 of 100: smaller, but there."""
    power: str = ""
    box: str = ""
    """Characters to be read on the box."""
    box_note: str = ""
    code: str = ""
    """Device identifier as printed on the box; empty where the practice file has none."""
    lens: str = ""
    kept: str = ""
    at_hand: bool = False
    """In the room; what has to be fetched or ordered is printed bold."""
    expected: str = ""
    band: str = ""
    chance: str = ""
    instead: str = ""
    """Why no power is shown, or what is done where no lens goes in."""


@dataclass(frozen=True, slots=True)
class Refused:
    """Places that are not for this eye, and the reason they share."""

    places: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class Device:
    """What goes in at which clock hours."""

    mark: str
    """Its letter on the drawing."""
    label: str
    hours: tuple[float, ...]
    says: str
    """The hours as they are read: 12, 3, 6, 9."""


@dataclass(frozen=True, slots=True)
class ClockFace:
    """The drawing beside the clock hours: what stands at 12, 3, 6 and 9."""

    at_12: str
    at_3: str
    at_6: str
    at_9: str
    gap: tuple[float, ...]
    """Hours along the zonular dialysis, clockwise; empty where none is known to be there."""
    gap_says: str
    """Where the dialysis lies, in words; that nobody knows, where nobody does."""
    alt: str
    """The drawing in words, for who cannot see it."""


@dataclass(frozen=True, slots=True)
class Stage:
    """The machine at one stage, in one line."""

    name: str
    says: str


@dataclass(frozen=True, slots=True)
class Words:
    """What may go wrong, and the first words then."""

    name: str
    first: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FirstBlock:
    """What is read from two metres away: side, patient, aim, lens, place, power, allergies."""

    side: str
    name: str
    numbers: tuple[str, ...]
    """Record number and day of birth."""
    surgery: tuple[str, ...]
    """Day of surgery, first or second eye."""
    aim: str
    intended: Placed | None
    no_power: str
    """Said large in place of a power; empty when the intended place has one."""
    no_power_because: str
    allergies: str
    allergic: bool
    notices: tuple[str, ...]
    """What must be cleared up, or makes this sheet differ from the files."""


@dataclass(frozen=True, slots=True)
class Foot:
    """What the sheet is, which plan it shows, and what it is not."""

    lines: tuple[str, ...]
    payload: str
    """What the code on paper holds."""
    drawing: str
    """That code as SVG."""
    alt: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything the sheet says, in the order in which it says it."""

    title: str
    heads: Mapping[str, str]
    first: FirstBlock
    different: tuple[str, ...]
    different_says: str
    """That nothing is; empty where something is."""
    not_known: str
    backups: tuple[Placed, ...]
    backups_say: str
    refused: tuple[Refused, ...]
    devices: tuple[Device, ...]
    devices_say: str
    clock: ClockFace
    machine: tuple[Stage, ...]
    machine_says: str
    triggers: tuple[Words, ...]
    triggers_say: str
    foot: Foot
