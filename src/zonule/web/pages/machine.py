"""The machine of a plan, stage by stage, on a page of its own."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from zonule.pathway.show_a_plan import machine_view_of
from zonule.web.pages.part import part_page


def machine(request: Request) -> Response:
    """Show the machine, stage by stage."""
    return part_page(request, "machine.html", machine_view_of)
