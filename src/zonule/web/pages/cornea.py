"""The endothelium and energy of a plan on a page of their own."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from zonule.pathway.show_a_plan import cornea_view_of
from zonule.web.pages.part import part_page


def cornea(request: Request) -> Response:
    """Show the endothelium and energy of a plan."""
    return part_page(request, "cornea.html", cornea_view_of)
