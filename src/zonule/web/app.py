"""The program as pages: every address, and what stands before all of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.routing import Route
from starlette.types import ASGIApp

from zonule.errors import BadInput
from zonule.pathway.open_cases import Desk
from zonule.web.pages import (
    clock_map,
    cornea,
    errors,
    index,
    machine,
    plan,
    risk,
    sheet,
    theme,
    why,
)
from zonule.web.security import Guarded, own_hosts
from zonule.web.served import Served
from zonule.web.static_files import static_file


def application(desk: Desk, *, port: int, today: date | None = None) -> ASGIApp:
    """Return the program as pages.

    Parameters
    ----------
    desk
        The cases that are open and the practice that plans them.
    port
        The port it will be asked on; under any other name or port it does not answer.
    today
        The day of every plan, where it is not to be the computer's.
    """
    handlers: dict[type[Exception] | int, Callable[..., object]] = {
        HTTPException: errors.refused,
        BadInput: errors.faults,
        Exception: errors.broken,
    }
    app = Starlette(
        routes=[
            Route("/", index.index),
            Route("/plan/{case}", plan.plan),
            Route("/plan/{case}/why", why.why),
            Route("/plan/{case}/risk", risk.risk),
            Route("/plan/{case}/machine", machine.machine),
            Route("/plan/{case}/cornea", cornea.cornea),
            Route("/plan/{case}/map", clock_map.clock_map),
            Route("/plan/{case}/sheet.pdf", sheet.sheet),
            Route("/theme", theme.theme, methods=["POST"]),
            Route("/static/{path:path}", static_file),
        ],
        exception_handlers=handlers,  # type: ignore[arg-type]
    )
    app.state.served = Served(desk, today)
    return Guarded(app, hosts=own_hosts(port))
