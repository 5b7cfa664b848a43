"""The incision and hook map of a plan, on a page of its own."""

from __future__ import annotations

from typing import Final

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from zonule.errors import BadInput, NoSuchName
from zonule.pathway.show_a_plan import map_view_of
from zonule.web.query import Addresses, asked_of
from zonule.web.served import asked_plan, told
from zonule.web.templating import page

VIEWS: Final = ("surgeon", "examiner")
"""The first one is shown unless another is asked for."""


def clock_map(request: Request) -> Response:
    """Show the map; nothing is shown while something asked for is refused."""
    query = asked_of(request, "view")
    view = query.pop("view", VIEWS[0])
    if view not in VIEWS:
        raise HTTPException(400, told(NoSuchName("view of the map", view[:40], VIEWS)))
    asked = asked_plan(request, query)
    if asked.problems:
        raise BadInput(asked.problems)
    to = Addresses(request.path_params["case"], asked.used)
    shown = map_view_of(asked.plan, "surgeon" if view == "surgeon" else "examiner")
    return page(
        request,
        "clock_map.html",
        view=shown,
        views=[(one, label, to.clock_map(one)) for one, label in shown.views],
        all_cases_url="/",
        sheet_url=to.sheet,
        plan_address=to.plan(),
        why_url=to.why,
    )
