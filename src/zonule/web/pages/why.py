"""Where one number of a plan comes from: a page of its own, or the panel beside the plan."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from zonule.errors import BadInput, NoSuchName
from zonule.pathway.open_cases import line_of
from zonule.pathway.show_a_plan import why_of
from zonule.web.query import Addresses, asked_of
from zonule.web.served import asked_plan, told
from zonule.web.templating import asks_for_the_panel, page


def why(request: Request) -> Response:
    """Explain one number."""
    query = asked_of(request, "path")
    asked = asked_plan(request, query)
    if asked.problems:
        raise BadInput(asked.problems)
    try:
        explained = why_of(asked.plan, query.get("path", ""))
    except NoSuchName as wrong:
        raise HTTPException(404, told(wrong)) from None
    to = Addresses(request.path_params["case"], asked.used)
    in_panel = asks_for_the_panel(request)
    return page(
        request,
        "why_told.html" if in_panel else "why.html",
        told=explained,
        in_panel=in_panel,
        all_cases_url="/",
        sheet_url=to.sheet,
        plan_address=to.plan(),
        line=line_of(to.case_name, asked.plan),
    )
