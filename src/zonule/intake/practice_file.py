"""Reads a practice file: the surgeon, the repertoire, the lens store, own shares."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from zonule.errors import BadInput
from zonule.findings.answers import Answer
from zonule.findings.fields import field, placement_names, sections
from zonule.intake import device_identifier
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.numbers import number_fault, strict_number
from zonule.intake.slips import remedy
from zonule.intake.text import read_bytes, to_text
from zonule.intake.toml_text import parse
from zonule.intake.values import Refused, nearest, read
from zonule.practice.records import Constants, Lens, Practice, StockedPower

_META = ("length_method", "origin", "eyes", "source")


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
    return read_practice(read_bytes(Path(path)), name=str(path))


def read_practice(data: bytes, *, name: str) -> Practice:
    """Return the practice that the bytes of a file hold.

    Parameters
    ----------
    data
        The whole file: TOML in UTF-8, at most 1 MB.
    name
        What to call the file when it is no text at all.

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
    sub = ("lens", "shares", "machine")
    top: dict[str, Any] = dict(gathering.answers(raw, section="top", path="", beside=sub))
    _time_zone(gathering, top)
    lenses = tuple(
        _read_lens(gathering, table, f"lens[{place}]")
        for place, table in enumerate(gathering.tables(raw, "lens", "lens"))
    )
    _names_once(gathering, lenses, top)
    _identifiers_once(gathering, raw)
    shares = _read_shares(gathering, gathering.table(raw, "shares", "shares") or {})
    machine: dict[str, Any] = dict(
        gathering.answers(
            gathering.table(raw, "machine", "machine") or {}, section="machine", path="machine"
        )
    )
    gathering.decide()
    del top["schema"]
    return Practice(
        lenses=tuple(_lens(lens) for lens in lenses),
        shares=MappingProxyType(shares),
        machine=MappingProxyType(machine),
        **top,
    )


def _lens(found: dict[str, Any]) -> Lens:
    kept = dict(found)
    kept["lens_class"] = kept.pop("class")
    return Lens(**kept)


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


def _read_lens(gathering: Gathering, raw: Mapping[str, Any], path: str) -> dict[str, Any]:
    lens: dict[str, Any] = dict(
        gathering.answers(raw, section="lens", path=path, beside=("constants", "stock"))
    )
    where = f"{path}.constants"
    given = gathering.table(raw, "constants", where) or {}
    lens["constants"] = _read_constants(gathering, given, where)
    where = f"{path}.stock"
    lens["stock"] = _read_stock(gathering, gathering.table(raw, "stock", where) or {}, where)
    choice = lens.get("formula_choice", "mean")
    if choice != "mean" and choice not in given:
        gathering.tell(
            f"{path}.formula_choice",
            "Formula that decides",
            "has no constants for this lens",
            f"Add [lens.constants.{choice}], or choose another.",
            check="contradicts",
            value=choice,
        )
    if lens.get("class") == "iris_claw" and given and "constants_for" not in lens:
        gathering.tell(
            f"{path}.constants_for",
            "Place of the constants",
            "not given, and an iris-claw lens needs another constant on each side of the iris",
            "Add constants_for, behind or in_front.",
            check="missing",
        )
    return lens


def _read_constants(
    gathering: Gathering, raw: Mapping[str, Any], path: str
) -> Mapping[str, Constants]:
    known = tuple(
        name.removeprefix("constants.")
        for name in sections("practice")
        if name.startswith("constants.")
    )
    found: dict[str, Constants] = {}
    for formula in raw:
        where = f"{path}.{formula}"
        if formula not in known:
            gathering.tell(
                where,
                "Formula",
                f"must be one of {', '.join(known)}",
                nearest(formula, known),
                check="unknown_key",
                value=shown_raw(formula),
            )
            continue
        table = gathering.table(raw, formula, where) or {}
        answers = gathering.answers(table, section=f"constants.{formula}", path=where)
        found[formula] = _constants(formula, answers)
    return MappingProxyType(found)


def _constants(formula: str, answers: dict[str, Answer]) -> Constants:
    """Gather one formula's constants; a missing one has been told already."""
    given: dict[str, Any] = answers
    values = {key: float(value) for key, value in given.items() if key not in _META}
    return Constants(
        formula=formula,
        values=MappingProxyType(values),
        length_method=given.get("length_method", ""),
        origin=given.get("origin", ""),
        eyes=given.get("eyes"),
        source=given.get("source", ""),
    )


def _read_stock(
    gathering: Gathering, raw: Mapping[str, Any], path: str
) -> tuple[StockedPower, ...]:
    found: list[StockedPower] = []
    for written in raw:
        where = f"{path}.{written}"
        power = _power(gathering, written, where)
        row: dict[str, Any] = dict(
            gathering.answers(
                gathering.table(raw, written, where) or {}, section="stock", path=where
            )
        )
        if power is not None and any(power == other.power_d for other in found):
            gathering.tell(
                where,
                "Power in stock",
                "stands twice for this lens",
                "Keep one row per power.",
                check="set_twice",
                value=f"{shown_raw(written)} D",
            )
        _identifier(gathering, row, where)
        found.append(_stocked(power, row))
    return tuple(sorted(found, key=lambda one: one.power_d))


def _stocked(power: float | None, row: dict[str, Any]) -> StockedPower:
    return StockedPower(
        power_d=power if power is not None else 0.0,
        quantity=row.get("quantity", 0),
        kept=row.get("kept", ""),
        device_identifier=row.get("device_identifier", ""),
    )


def _power(gathering: Gathering, written: str, path: str) -> float | None:
    asked = field("stock_power", "power", which="practice")
    power = strict_number(written)
    limit, todo = asked.limit_sentence(), 'Write it as on the box, such as "+20.50".'
    if power is None:
        limit, todo = number_fault(written) or (limit, todo)
    elif asked.low is not None and asked.high is not None and asked.low <= power <= asked.high:
        return power
    else:
        todo = remedy(asked, power)
    value = shown_raw(written) if power is None else f"{shown_raw(written)} D"
    gathering.tell(path, asked.label, limit, todo, check="outside_limits", value=value)
    return power


def _identifier(gathering: Gathering, row: dict[str, Any], path: str) -> None:
    identifier = row.get("device_identifier")
    wrong = device_identifier.fault(identifier) if identifier is not None else ""
    if wrong:
        gathering.tell(
            f"{path}.device_identifier",
            "Device identifier",
            wrong,
            "Type the digits of the box again.",
            check="wrong_value",
            value=shown_raw(identifier),
        )


def _identifiers_once(gathering: Gathering, raw: Mapping[str, Any]) -> None:
    """Tell every identifier that stands for more than one power: the box would say which."""
    seen: dict[str, str] = {}
    for path, identifier in _identifiers(raw):
        if identifier in seen:
            gathering.tell(
                f"{path}.device_identifier",
                "Device identifier",
                f"also stands for {seen[identifier]}",
                "Each power of each lens has its own: read both boxes.",
                check="set_twice",
                value=shown_raw(identifier),
            )
        else:
            seen[identifier] = path


def _identifiers(raw: Mapping[str, Any]) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    lenses = raw.get("lens")
    for place, lens in enumerate(lenses if isinstance(lenses, list) else []):
        stock = lens.get("stock") if isinstance(lens, dict) else None
        for power, row in (stock if isinstance(stock, dict) else {}).items():
            identifier = row.get("device_identifier") if isinstance(row, dict) else None
            if isinstance(identifier, str):
                found.append((f"lens[{place}].stock.{power}", identifier))
    return found


def _names_once(
    gathering: Gathering, lenses: tuple[dict[str, Any], ...], top: dict[str, Any]
) -> None:
    names = [lens["name"] for lens in lenses if "name" in lens]
    for place, lens in enumerate(lenses):
        name = lens.get("name")
        if name is not None and name in names[: names.index(name)] + names[names.index(name) + 1 :]:
            if place == next(n for n, one in enumerate(lenses) if one.get("name") == name):
                continue
            gathering.tell(
                f"lens[{place}].name",
                "Lens name",
                "stands twice in the store",
                "Give each model its own name.",
                check="set_twice",
                value=shown_raw(name),
            )
    preferred = top.get("preferred_lens")
    if preferred is not None and preferred not in Counter(names):
        gathering.tell(
            "preferred_lens",
            "Preferred lens",
            "is not in the store",
            nearest(preferred, tuple(names)) if names else "Add the lens.",
            check="contradicts",
            value=shown_raw(preferred),
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
