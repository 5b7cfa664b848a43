"""Case documents drawn from the table of keys, sound or not, and written as TOML."""

from __future__ import annotations

from datetime import date
from typing import Any

from hypothesis import strategies as st

from zonule.findings.fields import Field, placement_names, placements, sections
from zonule.intake.rule_names import rule_ids

UNKNOWNS = ("not_examined", "not_possible", "unknown")
WORDS = st.text(st.characters(codec="ascii", categories=["L", "N"]), min_size=1, max_size=12)
DAYS = st.dates(date(1901, 1, 1), date(2100, 1, 1))
ANYTHING = st.one_of(
    st.booleans(),
    st.integers(-1000, 1000),
    st.floats(-100, 100),
    WORDS,
    DAYS,
    st.lists(WORDS, max_size=3),
    st.sampled_from(UNKNOWNS),
)
TWO_WAYS = ("k_flat_radius_mm", "k_steep_radius_mm", "variant")
"""Keys that a second key beside them can contradict; drawn only where faults may be."""


def sound_values(field: Field) -> st.SearchStrategy[Any]:
    """Return the values a field takes."""
    return _known(field) | st.sampled_from(UNKNOWNS) if field.may_be_unknown else _known(field)


def _known(field: Field) -> st.SearchStrategy[Any]:
    if field.type == "number":
        assert field.low is not None
        assert field.high is not None
        return st.floats(field.low, field.high)
    if field.type == "whole":
        return st.integers(int(field.low or 0), int(field.high or 0))
    return {
        "yes_no": st.booleans(),
        "choice": st.sampled_from(field.choices or ("-",)),
        "text": WORDS,
        "date": DAYS,
        "choices": st.lists(st.sampled_from(field.choices or ("-",)), unique=True, max_size=3),
        "texts": st.lists(WORDS, unique=True, max_size=3),
        "placements": st.lists(st.sampled_from(placement_names()), unique=True, max_size=3),
    }[field.type]


@st.composite
def section(draw: st.DrawFn, name: str, *, sound: bool) -> dict[str, Any]:
    """Draw one section: its needed keys and a few others."""
    fields = sections("case")[name]
    may = [key for key, field in fields.items() if not field.required]
    if sound:
        may = [key for key in may if key not in TWO_WAYS]
    keys = [key for key, field in fields.items() if field.required]
    if may:
        keys += draw(st.lists(st.sampled_from(may), unique=True, max_size=6))
    found = {key: draw(sound_values(fields[key])) for key in keys if key in fields}
    if not sound and draw(st.booleans()):
        found[draw(st.sampled_from([*fields, "colour"]))] = draw(ANYTHING)
    if sound and "old_refraction_spherical_equivalent_d" in found:
        for part in ("sphere_d", "cylinder_d", "axis"):
            found.pop(f"old_refraction_{part}", None)
    return found


@st.composite
def cases(draw: st.DrawFn, *, sound: bool = False) -> dict[str, Any]:
    """Draw one case document."""
    document = draw(section("top", sound=sound))
    for name in ("patient", "aim"):
        document[name] = draw(section(name, sound=sound))
    for side in ("right", "left"):
        if side == document["eye_to_do"] or draw(st.booleans()):
            document[side] = draw(_eye(sound=sound))
    return document


@st.composite
def _eye(draw: st.DrawFn, *, sound: bool) -> dict[str, Any]:
    eye = draw(section("eye", sound=sound))
    eye["biometry"] = draw(st.lists(section("biometry", sound=sound), max_size=2))
    if draw(st.booleans()):
        eye["overruled"] = draw(_overruled(sound=sound))
    if draw(st.booleans()):
        eye["operation"] = draw(section("operation", sound=sound))
        place = eye["operation"].get("placement")
        if sound and isinstance(place, str) and placements().get(place):
            eye["operation"]["variant"] = draw(st.sampled_from(placements()[place]))
    return eye


@st.composite
def _overruled(draw: st.DrawFn, *, sound: bool) -> list[dict[str, Any]]:
    ids = st.sampled_from(rule_ids("eye")) if sound else st.sampled_from(rule_ids()) | WORDS
    rules = draw(st.lists(ids, unique=sound, max_size=3))
    return [draw(section("overruled", sound=sound)) | {"rule": rule} for rule in rules]


def to_toml(document: dict[str, Any]) -> str:
    """Return a document as TOML, one key a line."""
    lines: list[str] = []
    _write(document, "", lines)
    return "\n".join([*lines, ""])


def _write(table: dict[str, Any], path: str, lines: list[str]) -> None:
    plain = {key: value for key, value in table.items() if not _is_section(value)}
    lines.extend(f"{key} = {value_text(value)}" for key, value in plain.items())
    for key, value in table.items():
        where = f"{path}.{key}" if path else key
        if isinstance(value, dict):
            lines.append(f"[{where}]")
            _write(value, where, lines)
        elif _is_section(value):
            for item in value:
                lines.append(f"[[{where}]]")
                _write(item, where, lines)


def _is_section(value: object) -> bool:
    tables = isinstance(value, list) and bool(value) and isinstance(value[0], dict)
    return isinstance(value, dict) or tables


def value_text(value: object) -> str:
    """Return a value as TOML writes it; floats without an exponent, as a person would."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:.6f}"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(value_text(item) for item in value)}]"
    return str(value)
