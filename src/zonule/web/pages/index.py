"""All cases: which are open, whose each is, what makes it hard, what cannot be read."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from zonule.pathway.open_cases import list_cases, no_cases, practice_faults
from zonule.web.query import Addresses
from zonule.web.served import served
from zonule.web.templating import page

FAULTS_SHOWN = 3


def index(request: Request) -> Response:
    """Show every open case."""
    here = served(request)
    lines = list_cases(here.desk, today=here.today)
    return page(
        request,
        "index.html",
        lines=lines,
        practice_name=here.desk.practice_file.name,
        practice_faults=practice_faults(here.desk),
        faulty=sum(bool(line.problems) for line in lines),
        others=no_cases(here.desk),
        folder=here.desk.folder.resolve().name,
        faults_shown=FAULTS_SHOWN,
        url_of=lambda name: Addresses(name, {}).path,
    )
