"""Reads the lens store of a practice file: models, constants, powers in stock."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from zonule.findings.answers import Answer
from zonule.findings.fields import field, sections
from zonule.intake import device_identifier
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.numbers import number_fault, strict_number
from zonule.intake.slips import remedy
from zonule.intake.values import nearest
from zonule.practice.records import Constants, Lens, StockedPower

_META = ("length_method", "origin", "eyes", "source")


def read_lenses(gathering: Gathering, raw: Mapping[str, Any]) -> tuple[dict[str, Any], ...]:
    """Return what a file says of each lens model; whatever is wrong with it is told."""
    lenses = tuple(
        _read_lens(gathering, table, f"lens[{place}]")
        for place, table in enumerate(gathering.tables(raw, "lens", "lens"))
    )
    _names_once(gathering, lenses)
    _identifiers_once(gathering, raw)
    return lenses


def as_lens(found: dict[str, Any]) -> Lens:
    """Return one model as a record, once nothing is wrong with it."""
    kept = dict(found)
    kept["lens_class"] = kept.pop("class")
    return Lens(**kept)


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


def _names_once(gathering: Gathering, lenses: tuple[dict[str, Any], ...]) -> None:
    seen: set[str] = set()
    for place, lens in enumerate(lenses):
        name = lens.get("name")
        if name in seen:
            gathering.tell(
                f"lens[{place}].name",
                "Lens name",
                "stands twice in the store",
                "Give each model its own name.",
                check="set_twice",
                value=shown_raw(name),
            )
        if name is not None:
            seen.add(name)


def tell_preferred(
    gathering: Gathering, lenses: tuple[dict[str, Any], ...], top: dict[str, Any]
) -> None:
    """Tell a preferred lens that is not in the store."""
    names = tuple(lens["name"] for lens in lenses if "name" in lens)
    preferred = top.get("preferred_lens")
    if preferred is not None and preferred not in names:
        gathering.tell(
            "preferred_lens",
            "Preferred lens",
            "is not in the store",
            nearest(preferred, names) if names else "Add the lens.",
            check="contradicts",
            value=shown_raw(preferred),
        )
