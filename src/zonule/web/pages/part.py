"""One part of a plan on a page of its own: shown whole, or not while something is refused."""

from __future__ import annotations

from collections.abc import Callable

from starlette.requests import Request
from starlette.responses import Response

from zonule.errors import BadInput
from zonule.plan.records import Plan
from zonule.web.query import Addresses, asked_of
from zonule.web.served import asked_plan
from zonule.web.templating import page


def part_page(request: Request, template: str, view_of: Callable[[Plan], object]) -> Response:
    """Show one part of a plan; nothing is shown while something asked for is refused.

    Raises
    ------
    BadInput
        With everything that was asked for and is refused.
    """
    asked = asked_plan(request, asked_of(request))
    if asked.problems:
        raise BadInput(asked.problems)
    to = Addresses(request.path_params["case"], asked.used)
    return page(
        request,
        template,
        view=view_of(asked.plan),
        all_cases_url="/",
        sheet_url=to.sheet,
        plan_address=to.plan(),
        why_url=to.why,
    )
