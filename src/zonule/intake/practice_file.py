"""Reads a practice file: surgeon, repertoire, lens store, and what the department settled."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from zonule.errors import BadInput
from zonule.findings.fields import field, placement_names
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.practice_department import read_department
from zonule.intake.practice_energy import read_energy
from zonule.intake.practice_lenses import as_lens, read_lenses, tell_preferred
from zonule.intake.practice_machine import read_machine
from zonule.intake.practice_risk import read_risk
from zonule.intake.text import read_bytes, to_text
from zonule.intake.toml_text import parse
from zonule.intake.values import Refused, nearest, read
from zonule.practice.records import Practice

_SECTIONS = (
    "lens",
    "shares",
    "machine",
    "energy",
    "risk",
    "habits",
    "kept",
    "recipe_card",
    "rule_decision",
)


def says_practice(path: Path) -> bool:
    """Tell whether a file names itself a practice file; False where it cannot be read at all."""
    try:
        return b"zonule-practice-1" in read_bytes(path)[:4096]
    except BadInput:
        return False


def read_practice_file(path: Path | str) -> Practice:
    """Return the practice that a file holds.

    Raises
    ------
    BadInput
        If the file cannot be read, with everything that is wrong with it, in file order.
    """
    file = Path(path)
    return read_practice(read_bytes(file), name=str(path), folder=file.parent)


def read_practice(data: bytes, *, name: str, folder: Path | None = None) -> Practice:
    """Return the practice that the bytes of a file hold.

    Parameters
    ----------
    data
        The whole file: TOML in UTF-8, at most 1 MB.
    name
        What to call the file when it is no text at all.
    folder
        Where files that it names lie; they stay unread where there is none.

    Raises
    ------
    BadInput
        With everything that is wrong, in file order.

    Examples
    --------
    >>> practice = read_practice(
    ...     b'''
    ... schema = "zonule-practice-1"
    ... surgeon = "A. Surgeon"
    ... grade = "consultant"
    ... time_zone = "Europe/London"
    ... repertoire = ["bag", "iris_claw:behind"]
    ... ''',
    ...     name="practice.toml",
    ... )
    >>> practice.repertoire
    ('bag', 'iris_claw:behind')
    """
    document = parse(to_text(data, name=name))
    gathering = Gathering("practice", document)
    raw = document.content
    top: dict[str, Any] = dict(gathering.answers(raw, section="top", path="", beside=_SECTIONS))
    _time_zone(gathering, top)
    lenses = read_lenses(gathering, raw)
    tell_preferred(gathering, lenses, top)
    shares = _read_shares(gathering, gathering.table(raw, "shares", "shares") or {})
    machine = read_machine(gathering, raw)
    energy = read_energy(gathering, raw, folder)
    risk, own_baseline = read_risk(gathering, raw, folder)
    department = read_department(gathering, raw)
    gathering.decide()
    del top["schema"]
    return Practice(
        lenses=tuple(as_lens(lens) for lens in lenses),
        shares=MappingProxyType(shares),
        machine=machine,
        energy=energy,
        risk=risk,
        own_baseline=own_baseline,
        **department,
        **top,
    )


def _time_zone(gathering: Gathering, top: dict[str, Any]) -> None:
    zone = top.get("time_zone")
    if zone is None:
        return
    try:
        ZoneInfo(zone)
    except (KeyError, ValueError, OSError):
        known = tuple(sorted(available_timezones()))
        found = nearest(zone, known)
        gathering.tell(
            "time_zone",
            field("top", "time_zone", which="practice").label,
            "is not in the time zone list",
            found if found.startswith("Did") else "Write it as Europe/London.",
            check="wrong_value",
            value=shown_raw(zone),
        )


def _read_shares(gathering: Gathering, raw: Mapping[str, Any]) -> dict[str, float]:
    asked = field("share", "share", which="practice")
    found: dict[str, float] = {}
    for place, value in raw.items():
        where = f"shares.{place}"
        if place not in placement_names():
            gathering.tell(
                where,
                "Place",
                "is not a placement",
                nearest(place, placement_names()),
                check="unknown_key",
                value=shown_raw(place),
            )
            continue
        try:
            answer: Any = read(asked, value, written=gathering.document.written.get(where, ""))
            found[place] = float(answer)
        except Refused as refused:
            gathering.tell(
                where,
                asked.label,
                refused.limit,
                refused.remedy,
                check=refused.check,
                value=shown_raw(value),
            )
    return found
