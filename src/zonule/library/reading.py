"""Reads the tables that ship with the program, once, and resolves their sources."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Final, Literal

from zonule.errors import LibraryFault, NoSuchName

Status = Literal["confirmed", "memory", "practice", "derived", "assumption", "missing"]
STATUSES: Final[tuple[Status, ...]] = (
    "confirmed",
    "memory",
    "practice",
    "derived",
    "assumption",
    "missing",
)

STATUS_WORDS: Final[dict[Status, str]] = {
    "confirmed": "seen in print",
    "memory": "unverified, from memory",
    "practice": "usual practice",
    "derived": "worked out here",
    "assumption": "assumed",
    "missing": "missing",
}
"""How each status is said to a person."""


@dataclass(frozen=True, slots=True)
class Reference:
    """One source."""

    key: str
    text: str
    seen: str


@cache
def table(name: str) -> dict[str, Any]:
    """Return a table of the library by its path below ``library/``, without ``.toml``.

    Raises
    ------
    NoSuchName
        If there is no such table.

    Examples
    --------
    >>> table("references")["common_practice"]["seen"]
    'none'
    """
    file = resources.files("zonule.library").joinpath(f"{name}.toml")
    if not file.is_file():
        raise NoSuchName("library table", name, table_names())
    return tomllib.loads(file.read_text(encoding="utf-8"))


@cache
def table_names() -> tuple[str, ...]:
    """Return the names of all tables."""
    root = resources.files("zonule.library")
    names = [item.name for item in root.iterdir() if item.name.endswith(".toml")]
    for below in (item for item in root.iterdir() if item.is_dir()):
        names += [f"{below.name}/{i.name}" for i in below.iterdir() if i.name.endswith(".toml")]
    return tuple(sorted(name.removesuffix(".toml") for name in names))


def reference(key: str) -> Reference:
    """Return the source with that key.

    Raises
    ------
    NoSuchName
        If the key is not in ``references.toml``.

    Examples
    --------
    >>> reference("common_practice").text
    'Usual teaching without one source'
    """
    known = table("references")
    if key not in known:
        raise NoSuchName("reference", key, known)
    return Reference(key=key, text=known[key]["text"], seen=known[key]["seen"])


def status(word: str) -> Status:
    """Return a status word, checked.

    Raises
    ------
    LibraryFault
        If a table uses a word that is not a status.
    """
    for known in STATUSES:
        if word == known:
            return known
    raise LibraryFault(f"{word!r} is not a status; use one of {', '.join(STATUSES)}")
