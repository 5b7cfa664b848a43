"""The query of a plan's address: read strictly, written back with one part changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, urlencode

from starlette.exceptions import HTTPException
from starlette.requests import Request

from zonule.errors import NoSuchName
from zonule.pathway.what_if import PARTS

LONGEST: Final = 300
BELONGS_TO: Final = {"hand": ("power",), "lens": ("power",)}
"""What is dropped when a part changes: a power is that of one place and one lens."""


def asked_of(request: Request, *also: str) -> dict[str, str]:
    """Return what the query of a plan asks for.

    Parameters
    ----------
    request
        The request.
    also
        Names that this page takes beside the parts of a plan.

    Raises
    ------
    HTTPException
        400, for a name that is not known, one that stands twice, or a text that is too long:
        what cannot be meant is not shown as if it were.
    """
    known = (*PARTS, "was", *also)
    given = request.query_params.multi_items()
    for name, text in given:
        if name not in known:
            raise HTTPException(400, str(NoSuchName("part of this address", name[:40], known)))
        if len(text) > LONGEST:
            raise HTTPException(400, f"{name} is longer than {LONGEST} characters.")
    asked = dict(given)
    if len(asked) < len(given):
        raise HTTPException(400, "A part of this address stands twice.")
    return asked


@dataclass(frozen=True, slots=True)
class Addresses:
    """The addresses of one plan, each keeping what is asked for now."""

    case_name: str
    used: Mapping[str, str]

    @property
    def path(self) -> str:
        """The plan as its files say."""
        return f"/plan/{quote(self.case_name, safe='')}"

    @property
    def query(self) -> str:
        """What is asked for now, as a query."""
        return _query(self.used)

    def plan(self, **changed: str | float | None) -> str:
        """Return the plan with some parts changed; an empty text or None drops a part.

        Examples
        --------
        >>> here = Addresses("plain-eye", {"hand": "bag", "power": "+20.50"})
        >>> here.plan(aim=-0.5)
        '/plan/plain-eye?hand=bag&aim=-0.50&power=%2B20.50'
        >>> here.plan(hand="sulcus_capture")
        '/plan/plain-eye?hand=sulcus_capture'
        """
        dropped = {one for name in changed for one in BELONGS_TO.get(name, ())}
        kept = {name: text for name, text in self.used.items() if name not in dropped}
        parts = {**kept, **{name: _text(value) for name, value in changed.items()}}
        return _address(self.path, parts)

    def why(self, path: str) -> str:
        """Return where one number of this plan is explained."""
        return _address(f"{self.path}/why", self.used, path=path)

    @property
    def cornea(self) -> str:
        """The cornea and energy of this plan."""
        return _address(f"{self.path}/cornea", self.used)

    @property
    def machine(self) -> str:
        """The machine of this plan, stage by stage."""
        return _address(f"{self.path}/machine", self.used)

    @property
    def risk(self) -> str:
        """The risks of this eye, and what remains."""
        return _address(f"{self.path}/risk", self.used)

    def clock_map(self, view: str = "") -> str:
        """Return where the incision and hook map of this plan is, as one of its views."""
        return _address(f"{self.path}/map", self.used, **({"view": view} if view else {}))

    @property
    def sheet(self) -> str:
        """The printed sheet of this plan."""
        return _address(f"{self.path}/sheet.pdf", self.used)


def _text(value: str | float | None) -> str:
    if value is None or isinstance(value, str):
        return value or ""
    return f"{value + 0.0:+.2f}"


def _query(parts: Mapping[str, str], **first: str) -> str:
    ordered = {name: parts[name] for name in PARTS if parts.get(name)}
    return urlencode({**first, **ordered}, quote_via=quote, safe="")


def _address(page: str, parts: Mapping[str, str], **first: str) -> str:
    query = _query(parts, **first)
    return f"{page}?{query}" if query else page
