"""One page for everything that goes wrong: what it is, and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from zonule.errors import BadInput, Problem
from zonule.web.templating import asks_for_the_panel, page

FAULTY: Final = 422
TITLES: Final = {
    400: "This address cannot be answered",
    403: "This is not allowed",
    404: "There is no such page",
    405: "This cannot be asked here",
    FAULTY: "This plan cannot be made",
    500: "Something in the program failed",
}
OTHER_TITLE: Final = "This cannot be answered"
REMEDIES: Final = {
    400: "Nothing was changed. Open the case again from the list of cases.",
    404: "Check the address, or choose a case from the list.",
    FAULTY: "Nothing was changed. Mend what is told here, save the file, and load this page again.",
    500: (
        "Nothing was changed. Load the page again. If it stays, plan this eye without it: the "
        "window in which Zonule was started says more, and those lines help to mend it."
    ),
}
OTHER_REMEDY: Final = "Go back to the list of cases."


def refused(request: Request, fault: Exception) -> Response:
    """Say that an address is wrong."""
    assert isinstance(fault, HTTPException)
    own_words = fault.detail if fault.detail.endswith(".") else ""
    return _page(request, fault.status_code, says=own_words)


def faults(request: Request, fault: Exception) -> Response:
    """Say every fault of the files, or of what was asked."""
    assert isinstance(fault, BadInput)
    return _page(request, FAULTY, problems=fault.problems)


def broken(request: Request, fault: Exception) -> Response:
    """Say that the program failed; the reason goes to the window that runs it, not to the page."""
    del fault
    return _page(request, 500)


def _page(
    request: Request, status: int, *, says: str = "", problems: Sequence[Problem] = ()
) -> Response:
    return page(
        request,
        "error_told.html" if asks_for_the_panel(request) else "error.html",
        status=status,
        title=TITLES.get(status, OTHER_TITLE),
        says=says,
        problems=problems,
        remedy=REMEDIES.get(status, OTHER_REMEDY),
        all_cases_url="/",
    )
