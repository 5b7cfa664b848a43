"""The few shapes that the JSON Schemas of this program are made of."""

from __future__ import annotations

from typing import Any, Final

from zonule.findings.answers import Unknown
from zonule.library.reading import STATUSES

Schema = dict[str, Any]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
NUMBER: Final[Schema] = {"type": "number"}
TEXT: Final[Schema] = {"type": "string", "minLength": 1}
MAYBE_EMPTY: Final[Schema] = {"type": "string"}
CHANCE: Final[Schema] = {"type": "number", "minimum": 0, "maximum": 1}
BAND: Final[Schema] = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}
DAY: Final[Schema] = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
STATUS: Final[Schema] = {"enum": list(STATUSES)}
REASONS: Final = tuple(word.value for word in Unknown)


def closed(properties: Schema) -> Schema:
    """Return an object that has all of these keys and no other."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def or_null(schema: Schema) -> Schema:
    """Return a shape that may also be null."""
    return {"anyOf": [schema, {"type": "null"}]}


def not_there(*reasons: str) -> Schema:
    """Return the shape of a value that is not there: null, and why."""
    return closed({"value": {"type": "null"}, "why": {"enum": list(reasons or REASONS)}})


def or_not_there(schema: Schema, *reasons: str) -> Schema:
    """Return a shape that may also be null with its reason."""
    return {"anyOf": [schema, not_there(*reasons)]}


def list_of(items: Schema) -> Schema:
    """Return a list of one shape."""
    return {"type": "array", "items": items}


def keyed(names: list[str], value: Schema) -> Schema:
    """Return an object whose keys are of a list and whose values are of one shape."""
    return {"type": "object", "propertyNames": {"enum": names}, "additionalProperties": value}
