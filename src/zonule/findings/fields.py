"""Every key of a file, as data: what it holds, its unit, its limits, what a person calls it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Final, Literal, cast, get_args

from zonule.errors import NoSuchName, Side
from zonule.library.reading import table

FieldType = Literal[
    "number", "whole", "yes_no", "choice", "text", "date", "choices", "texts", "placements"
]
Which = Literal["case", "practice"]

_TYPES: Final = get_args(FieldType)
_NOT_FIELDS: Final = {"meta", "groups", "placements", "derived", "constant_names"}


@dataclass(frozen=True, slots=True)
class Field:
    """One key of one section.

    Parameters
    ----------
    section, key
        Where it stands: ``biometry``, ``axial_length_mm``.
    type
        What it holds.
    label, help
        What a person calls it, and one line about it.
    unit
        Unit as printed; empty where there is none.
    low, high
        Hard limits, both allowed; None where there are none.
    choices
        The only values allowed, for choices.
    required
        Whether a file without it is refused.
    may_be_unknown
        Whether ``not_examined``, ``not_possible`` and ``unknown`` are answers to it.
    group
        Its place in the order of the examination.
    normal
        What "examined, nothing abnormal" writes; None where there is no normal value.
    phakic_only
        Whether it can only be said of an eye that has its own lens.
    source, status
        Where its limits come from.
    note
        What was settled about it.
    """

    section: str
    key: str
    type: FieldType
    label: str
    help: str
    unit: str = ""
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    required: bool = False
    may_be_unknown: bool = True
    group: str = ""
    normal: bool | int | float | str | None = None
    phakic_only: bool = False
    source: str = ""
    status: str = ""
    note: str = ""

    def limit_sentence(self) -> str:
        """Return what a value must be, as a person reads it.

        Examples
        --------
        >>> sections("case")["biometry"]["axial_length_mm"].limit_sentence()
        'must be 15 to 40 mm'
        >>> sections("case")["eye"]["pxf"].limit_sentence()
        'must be true or false'
        """
        return f"must be {_must_be(self)}"


def _must_be(field: Field) -> str:
    if field.choices and field.type == "choice":
        return ("one of " if len(field.choices) > 1 else "") + ", ".join(field.choices)
    words = {
        "yes_no": "true or false",
        "text": "text in quotes",
        "date": "a plain date such as 2026-11-02",
        "choices": f"a list of {', '.join(field.choices)}",
        "texts": "a list of texts in quotes",
        "placements": "a list of placement ids, or id:variant",
    }
    if field.type in words:
        return words[field.type]
    kind = "a whole number" if field.type == "whole" else "a number"
    if field.low is None or field.high is None:
        return f"{kind}{' in ' + field.unit if field.unit else ''}"
    unit = f" {field.unit}" if field.unit else ""
    whole = "a whole number, " if field.type == "whole" else ""
    return f"{whole}{_plain(field.low)} to {_plain(field.high)}{unit}"


def _plain(number: float) -> str:
    return f"{number:.12g}".replace("-", "−")


def shown(value: object, unit: str = "") -> str:
    """Return a value with its unit as a person would read it.

    Examples
    --------
    >>> shown(-0.25, "D"), shown(True), shown(23.9, "mm")
    ('−0.25 D', 'true', '23.9 mm')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return f"{_number_text(value)} {unit}".strip()
    if isinstance(value, list | tuple):
        return ", ".join(shown(item) for item in value)
    return str(value)


def _number_text(value: int | float) -> str:
    """Return a number with a true minus; absurdly long whole numbers shortened, not expanded."""
    if isinstance(value, int) and abs(value) >= 10**16:
        return "a number of more than 16 digits"
    return str(value).replace("-", "−")


@cache
def sections(which: Which) -> Mapping[str, Mapping[str, Field]]:
    """Return every section of a kind of file with its fields, in file order.

    Examples
    --------
    >>> tuple(sections("case"))
    ('top', 'patient', 'aim', 'eye', 'biometry', 'operation', 'overruled')
    """
    raw = table(f"fields/{which}")
    found = {name: _section(which, name) for name in raw if name not in _NOT_FIELDS}
    for formula, names in raw.get("constant_names", {}).items():
        rows = {key: _field(which, f"constants.{formula}", key, row) for key, row in names.items()}
        found[f"constants.{formula}"] = MappingProxyType(rows | dict(found["constants"]))
    return MappingProxyType(found)


def _section(which: Which, name: str) -> Mapping[str, Field]:
    rows = table(f"fields/{which}")[name]
    return MappingProxyType({key: _field(which, name, key, row) for key, row in rows.items()})


def _field(which: Which, section: str, key: str, row: dict[str, Any]) -> Field:
    meta = table(f"fields/{which}")["meta"]
    assert row["type"] in _TYPES, f"{section}.{key}: {row['type']}"
    rest = {name: value for name, value in row.items() if name not in {"type", "unknown"}}
    rest["choices"] = tuple(row.get("choices", ()))
    rest.setdefault("source", meta["source"])
    rest.setdefault("status", meta["status"])
    return Field(
        section=section,
        key=key,
        type=cast("FieldType", row["type"]),
        may_be_unknown=which == "case" and row.get("unknown", True),
        **rest,
    )


def field(section: str, key: str, *, which: Which = "case") -> Field:
    """Return one field.

    Raises
    ------
    NoSuchName
        If the section has no such key.

    Examples
    --------
    >>> field("eye", "pupil_dilated_mm").label
    'Dilated pupil'
    """
    known = sections(which)
    if section not in known:
        raise NoSuchName("section", section, known)
    if key not in known[section]:
        raise NoSuchName("key", key, known[section])
    return known[section][key]


def groups() -> Mapping[str, str]:
    """Return the groups of the examination in their order, with their titles."""
    return cast("Mapping[str, str]", table("fields/case")["groups"])


def group_of(group: str, *, section: str = "eye") -> tuple[Field, ...]:
    """Return the fields of one group of a section, in order."""
    rows = sections("case")[section].values()
    return tuple(row for row in rows if row.group == group)


def derived_names() -> Mapping[str, str]:
    """Return the names that are never entered, with where each comes from."""
    return cast("Mapping[str, str]", table("fields/case")["derived"])


def placements() -> Mapping[str, tuple[str, ...]]:
    """Return every placement id with its variants."""
    rows = table("fields/case")["placements"]
    return MappingProxyType({name: tuple(variants) for name, variants in rows.items()})


def placement_names() -> tuple[str, ...]:
    """Return every placement, and every ``placement:variant``.

    Examples
    --------
    >>> "iris_claw:behind" in placement_names(), "later" in placement_names()
    (True, True)
    """
    known = placements()
    return tuple(known) + tuple(f"{name}:{v}" for name, vs in known.items() for v in vs)


def label(section: str, key: str, side: Side | None = None) -> str:
    """Return what a person calls a field, with the side of the eye.

    Examples
    --------
    >>> label("biometry", "axial_length_mm", "left")
    'Axial length, left eye'
    """
    said = field(section, key).label
    return f"{said}, {side} eye" if side else said
