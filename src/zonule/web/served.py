"""What is served, as every page sees it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import cast

from starlette.exceptions import HTTPException
from starlette.requests import Request

from zonule.errors import NoSuchName
from zonule.pathway.open_cases import Desk, open_case
from zonule.pathway.what_if import WhatIf, what_if

FEW_NAMES = 12


@dataclass(frozen=True, slots=True)
class Served:
    """What is served: the cases that are open, and the day their plans are made on."""

    desk: Desk
    day: date | None = None
    """The day of every plan; None: the computer's, asked anew for each page."""

    @property
    def today(self) -> date:
        """The day of a plan that is made now."""
        return self.day or date.today()


def served(request: Request) -> Served:
    """Return what is served, from within a page."""
    return cast("Served", request.app.state.served)


def asked_plan(request: Request, asked: Mapping[str, str]) -> WhatIf:
    """Return the plan that a page asks for.

    Raises
    ------
    HTTPException
        404, if no open case has the name in the address.
    BadInput
        With every fault of the case and of the practice file.
    """
    here = served(request)
    try:
        case, practice = open_case(here.desk, request.path_params["case"])
    except NoSuchName as wrong:
        raise HTTPException(404, told(wrong)) from None
    return what_if(case, practice, asked, today=here.today)


def told(wrong: NoSuchName) -> str:
    """Return that a name is wrong: with every correct one while they are few, else the nearest."""
    if len(wrong.known) <= FEW_NAMES:
        return str(wrong)
    nearest = f" Nearest: {', '.join(wrong.nearest)}." if wrong.nearest else ""
    return f"There is no {wrong.kind} {wrong.name!r}.{nearest}"
