"""Reads the rules and their conflicts: each with its condition, advice, strength and sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Final, Literal

from zonule.errors import LibraryFault, NoSuchName
from zonule.library.reading import Status, status, table

Scope = Literal["eye", "program"]
SCOPES: Final[tuple[Scope, ...]] = ("eye", "program")
FILES: Final = ("workup", "devices", "technique", "machine", "safety", "duties")
STRENGTH_WORDS: Final = MappingProxyType(
    {
        "A": "guideline, national audit or trial",
        "B": "cohort, case-control or laboratory study",
        "C": "published technique or expert review",
        "D": "common practice or reasoning",
    }
)
"""How each strength is said to a person."""


@dataclass(frozen=True, slots=True)
class Bring:
    """Something a rule wants in the room."""

    item: str
    count: int = 1
    spare_sets: int = 0
    when: str = ""
    """A condition of its own; empty: whenever the rule fires."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: when it speaks, what it says, and how sure its source is."""

    id: str
    stage: str
    scope: Scope
    title: str
    do: tuple[str, ...]
    why: str
    sources: tuple[str, ...]
    strength: str
    status: Status
    step: str = ""
    """Step of the operation it belongs to; empty for what is done before or after."""
    always: bool = False
    when_all: tuple[str, ...] = ()
    when_any: tuple[str, ...] = ()
    avoid: tuple[str, ...] = ()
    bring: tuple[Bring, ...] = ()
    leave_out: tuple[str, ...] = ()
    """Items that must not be used while this rule fires."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two rules that pull apart, and how that is settled unless the surgeon says otherwise."""

    rules: tuple[str, str]
    question: str
    settled: str
    source: str
    status: Status
    when_all: tuple[str, ...] = ()
    when_any: tuple[str, ...] = ()
    gives_way: str = ""
    """The rule that does not stand among the steps while this holds; empty where both do."""


def _scope(word: str) -> Scope:
    for known in SCOPES:
        if word == known:
            return known
    raise LibraryFault(f"{word!r} is not a scope; use eye or program")


def _rule(row: Mapping[str, Any]) -> Rule:
    fields = {key: value for key, value in row.items() if key != "when"}
    for name in ("do", "avoid", "sources", "when_all", "when_any", "leave_out"):
        fields[name] = tuple(row.get(name, ()))
    fields["scope"] = _scope(row["scope"])
    fields["status"] = status(row["status"])
    fields["bring"] = tuple(Bring(**one) for one in row.get("bring", ()))
    rule = Rule(**fields, always=row.get("when") == "always")
    if rule.always == bool(rule.when_all or rule.when_any):
        raise LibraryFault(f"rule {rule.id} needs either a condition or when = 'always'")
    return rule


@cache
def rules() -> Mapping[str, Rule]:
    """Return every rule by id, in the order of the files.

    Raises
    ------
    LibraryFault
        If two rules share an id, or one has no condition.

    Examples
    --------
    >>> rules()["D-04"].leave_out
    ('pupil_ring',)
    """
    found: dict[str, Rule] = {}
    for file in FILES:
        for row in table(f"rules/{file}")["rule"]:
            if row["id"] in found:
                raise LibraryFault(f"rule {row['id']} stands twice")
            found[row["id"]] = _rule(row)
    return MappingProxyType(found)


def rule(key: str) -> Rule:
    """Return one rule.

    Raises
    ------
    NoSuchName
        If there is no such rule.

    Examples
    --------
    >>> rule("D-04").strength
    'D'
    """
    if key not in rules():
        raise NoSuchName("rule", key, rules())
    return rules()[key]


@cache
def conflicts() -> tuple[Conflict, ...]:
    """Return the rules that pull apart.

    Examples
    --------
    >>> conflicts()[0].rules
    ('T-13', 'F-06')
    """
    found = []
    for row in table("rules/conflicts")["conflict"]:
        first, second = (rule(one).id for one in row["rules"])
        found.append(
            Conflict(
                rules=(first, second),
                question=row["question"],
                settled=row["settled"],
                source=row["source"],
                status=status(row["status"]),
                when_all=tuple(row.get("when_all", ())),
                when_any=tuple(row.get("when_any", ())),
                gives_way=row.get("gives_way", ""),
            )
        )
    return tuple(found)
