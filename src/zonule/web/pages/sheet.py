"""The sheet of a plan for the theatre wall, as PDF."""

from __future__ import annotations

from datetime import UTC, datetime
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from zonule.errors import BadInput
from zonule.pathway.print_a_sheet import sheet_pdf
from zonule.web.query import asked_of
from zonule.web.served import asked_plan


def sheet(request: Request) -> Response:
    """Send the sheet; nothing is printed while something asked for is refused."""
    asked = asked_plan(request, asked_of(request))
    if asked.problems:
        raise BadInput(asked.problems)
    name = quote(f"zonule-{request.path_params['case']}.pdf", safe="")
    return Response(
        sheet_pdf(asked.plan, made_at=datetime.now(UTC)),
        media_type="application/pdf",
        headers={"Content-Disposition": f"inline; filename*=UTF-8''{name}"},
    )
