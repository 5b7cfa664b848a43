"""Reads ``tray.toml``: what an operation may need beside its lenses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from zonule.errors import NoSuchName
from zonule.library.reading import table


@dataclass(frozen=True, slots=True)
class Item:
    """One device, instrument, suture, viscoelastic, dye or drug."""

    key: str
    label: str
    kind: str
    help: str
    implant: bool = False
    """It stays in the eye."""

    @property
    def needs_card(self) -> bool:
        """Whether its strength comes from the department's recipe card."""
        return self.kind in ("drug", "dye")


@cache
def items() -> Mapping[str, Item]:
    """Return every item by key, in the order of the table.

    Examples
    --------
    >>> items()["iris_hooks"].kind, items()["trypan_blue"].needs_card
    ('device', True)
    """
    return MappingProxyType(
        {
            key: Item(
                key=key,
                label=row["label"],
                kind=row["kind"],
                help=row["help"],
                implant=row.get("implant", False),
            )
            for key, row in table("tray").items()
            if key != "meta"
        }
    )


def item(key: str) -> Item:
    """Return one item.

    Raises
    ------
    NoSuchName
        If there is no such item.
    """
    if key not in items():
        raise NoSuchName("item", key, items())
    return items()[key]
