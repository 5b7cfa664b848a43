"""The risks of an eye, and what remains, on a page of their own."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from zonule.pathway.show_a_plan import risk_view_of
from zonule.web.pages.part import part_page


def risk(request: Request) -> Response:
    """Show what may happen in this eye and what remains when it does."""
    return part_page(request, "risk.html", risk_view_of)
