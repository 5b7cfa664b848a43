"""JSON Schemas of the case file and the practice file, made from the tables of keys.

A file that the reader accepts is valid under its schema. The reverse does not hold where the
reader knows more than a schema can say: a check digit, a time zone, a text of a number typed with
a true minus (both accept it), a length and a K in each other's place, the variant that belongs to
a place, two ways of giving one value, names, rules or cards that stand twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from zonule.findings.fields import Field, Which, placement_names, sections
from zonule.intake.practice_department import with_recipe_cards
from zonule.intake.practice_energy import MOST_TERMS
from zonule.intake.practice_machine import MOST_CUP_TESTS
from zonule.intake.rule_names import rule_ids
from zonule.intake.values import LONGEST_TEXT, MOST_ITEMS, SAID_UNKNOWN
from zonule.library.reading import table
from zonule.library.tray import items

Schema = dict[str, Any]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_NUMBER_TEXT: Final = r"^[+\u2212-]?(0|[1-9][0-9]{0,15})(\.[0-9]{1,15})?$"
_DAY: Final = r"^(19|20|21)[0-9]{2}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$"
_POWER: Final = r"^[+\u2212-]?(0|[1-9][0-9]?)(\.[0-9]{1,15})?$"


def json_schema(which: Which) -> Schema:
    """Return the JSON Schema (draft 2020-12) of a kind of file.

    Parameters
    ----------
    which
        ``case`` or ``practice``. Dates are texts, year-month-day, as JSON has none.

    Examples
    --------
    >>> json_schema("case")["properties"]["eye_to_do"]["enum"]
    ['right', 'left']
    """
    meta = table(f"fields/{which}")["meta"]
    whole = _case() if which == "case" else _practice()
    return {"$schema": DIALECT, "$id": meta["schema"], "title": meta["title"], **whole}


def _case() -> Schema:
    known = sections("case")
    eye = _section(known["eye"])
    eye["properties"]["biometry"] = {"type": "array", "items": _section(known["biometry"])}
    eye["properties"]["operation"] = _section(known["operation"])
    overruled = _one_of(_section(known["overruled"]), "rule", rule_ids("eye"))
    eye["properties"]["overruled"] = {"type": "array", "items": overruled}
    whole = _section(known["top"])
    whole["properties"] |= {
        "patient": _section(known["patient"]),
        "aim": _section(known["aim"]),
        "right": eye,
        "left": eye,
    }
    whole["required"] += ["patient", "aim"]
    whole["anyOf"] = [
        {"properties": {"eye_to_do": {"const": side}}, "required": [side]}
        for side in ("right", "left")
    ]
    return whole


def _practice() -> Schema:
    known = sections("practice")
    lens = _section(known["lens"])
    formulas = [name for name in known if name.startswith("constants.")]
    lens["properties"] |= {
        "constants": _closed({name.partition(".")[2]: _section(known[name]) for name in formulas}),
        "stock": {
            "type": "object",
            "propertyNames": {"pattern": _POWER},
            "additionalProperties": _section(known["stock"]),
        },
    }
    whole = _section(known["top"])
    whole["properties"] |= {
        "lens": {"type": "array", "items": lens},
        "shares": _closed({name: _value(known["share"]["share"]) for name in placement_names()}),
        "machine": _machine(known),
        "energy": _energy(known),
        "risk": _risk(known),
        **_department(known),
    }
    return whole


def _risk(known: Mapping[str, Mapping[str, Field]]) -> Schema:
    risk = _section(known["risk"])
    risk["dependentRequired"] = {
        "own_cases": ["own_ruptures"],
        "own_ruptures": ["own_cases"],
        "own_expected_ruptures": ["own_cases"],
    }
    return risk


def _machine(known: Mapping[str, Mapping[str, Field]]) -> Schema:
    machine = _section(known["machine"])
    machine["properties"]["cup_test"] = {
        "type": "array",
        "items": {
            **_section(known["cup_test"]),
            "dependentRequired": {
                "vacuum_shown_mmhg": ["aspiration_flow_ml_min"],
                "aspiration_flow_ml_min": ["vacuum_shown_mmhg"],
                "vacuum_sd_mmhg": ["vacuum_shown_mmhg"],
            },
        },
        "maxItems": MOST_CUP_TESTS,
    }
    return machine


def _energy(known: Mapping[str, Mapping[str, Field]]) -> Schema:
    """How energy is measured; name, unit and terms are needed with ``own``, and only there."""
    energy = _section(known["energy"])
    energy["properties"]["term"] = {
        "type": "array",
        "items": _section(known["energy_term"]),
        "minItems": 1,
        "maxItems": MOST_TERMS,
    }
    energy["properties"]["log"] |= {"pattern": r"^[^./\\\\:][^/\\\\:]*\.csv$"}
    own = ("label", "unit", "term")
    return {
        **energy,
        "if": {"properties": {"definition": {"const": "own"}}},
        "then": {"required": list(own)},
        "else": {"properties": dict.fromkeys(own, False)},
    }


def _department(known: Mapping[str, Mapping[str, Field]]) -> dict[str, Schema]:
    card = _one_of(_section(known["recipe_card"]), "item", with_recipe_cards())
    return {
        "habits": _section(known["habits"]),
        "kept": _closed({item: _section(known["kept"]) for item in items()}),
        "recipe_card": {"type": "array", "items": card},
        "rule_decision": {"type": "array", "items": _decision(known["rule_decision"])},
    }


def _decision(fields: Mapping[str, Field]) -> Schema:
    """A decision about a rule; own words are needed with ``changed``, and stand only there."""
    own_words = [
        {"required": ["title"]},
        {"required": ["do"], "properties": {"do": {"minItems": 1}}},
    ]
    return {
        **_one_of(_section(fields), "rule", rule_ids()),
        "if": {"properties": {"decision": {"const": "changed"}}},
        "then": {"anyOf": own_words},
        "else": {"properties": {"title": False, "do": False}},
    }


def _one_of(section: Schema, key: str, names: Iterable[str]) -> Schema:
    """Return a section whose text under a key is one of some names."""
    described = section["properties"][key]["description"]
    section["properties"][key] = {"description": described, "enum": list(names)}
    return section


def _closed(properties: Mapping[str, Schema]) -> Schema:
    return {
        "type": "object",
        "properties": dict(properties),
        "additionalProperties": False,
    }


def _section(fields: Mapping[str, Field]) -> Schema:
    found = _closed({key: _described(field) for key, field in fields.items()})
    found["required"] = [key for key, field in fields.items() if field.required]
    return found


def _described(field: Field) -> Schema:
    unit = f" [{field.unit}]" if field.unit else ""
    return {"description": f"{field.label}{unit}. {field.help}", **_or_unknown(field)}


def _or_unknown(field: Field) -> Schema:
    value = _value(field)
    if not field.may_be_unknown:
        return value | ({"not": {"enum": list(SAID_UNKNOWN)}} if field.type == "text" else {})
    return {"anyOf": [value, {"enum": list(SAID_UNKNOWN)}]}


def _value(field: Field) -> Schema:
    if field.type in ("number", "whole"):
        return _numeric(field)
    listed = {"choices": list(field.choices), "placements": list(placement_names())}
    if field.type in listed:
        return _list({"enum": listed[field.type]})
    plain: dict[str, Schema] = {
        "yes_no": {"type": "boolean"},
        "choice": {"enum": list(field.choices)},
        "text": _TEXT,
        "texts": _list(_TEXT),
        "date": {"type": "string", "pattern": _DAY},
    }
    return plain[field.type]


_TEXT: Final[Schema] = {
    "type": "string",
    "minLength": 1,
    "maxLength": LONGEST_TEXT,
    "pattern": r"\S",
}


def _list(items: Schema) -> Schema:
    return {"type": "array", "items": items, "maxItems": MOST_ITEMS, "uniqueItems": True}


def _numeric(field: Field) -> Schema:
    """A number within its limits, or a number typed in quotation marks (its limits unsaid)."""
    kind: Schema = {"type": "integer" if field.type == "whole" else "number"}
    if field.low is not None and field.high is not None:
        kind |= {"minimum": field.low, "maximum": field.high}
    return {"anyOf": [kind, {"type": "string", "pattern": _NUMBER_TEXT}]}
