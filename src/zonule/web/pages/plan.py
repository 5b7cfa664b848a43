"""The plan of one eye, as its files say or with what was asked for."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from zonule.pathway.show_a_plan import plan_view_of, said_aloud
from zonule.web.pages.ask import ask_form
from zonule.web.query import Addresses, asked_of
from zonule.web.served import asked_plan
from zonule.web.templating import page

REFUSED = 422


def plan(request: Request) -> Response:
    """Show a plan; while something asked for is refused, the one before it."""
    asked = asked_plan(request, asked_of(request))
    to = Addresses(request.path_params["case"], asked.used)
    return page(
        request,
        "plan/plan.html",
        status=REFUSED if asked.problems else 200,
        view=plan_view_of(asked.plan),
        heard=said_aloud(asked.plan),
        form=ask_form(asked, query=to.query),
        case_name=to.case_name,
        query=to.query,
        all_cases_url="/",
        plan_path=to.path,
        plan_url=to.plan,
        why_url=to.why,
        sheet_url=to.sheet,
        machine_url=to.machine,
        risk_url=to.risk,
        cornea_url=to.cornea,
        map_url=to.clock_map(),
    )
