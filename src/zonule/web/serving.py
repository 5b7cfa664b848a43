"""Runs the pages on this computer: a free port, loopback only, until it is stopped."""

from __future__ import annotations

import socket
from collections.abc import Callable
from datetime import date
from typing import Final

import uvicorn
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from zonule.errors import BadInput, Problem
from zonule.pathway.open_cases import Desk
from zonule.web.app import application

LOOPBACK: Final = "127.0.0.1"
PORTS_TRIED: Final = 50


def free_socket(port: int) -> socket.socket:
    """Return a socket that listens on a port of this computer, or on the next free one.

    Parameters
    ----------
    port
        The first port to try; 0 for any.

    Raises
    ------
    BadInput
        If none of the next ports is free.
    """
    for tried in range(port, min(port + PORTS_TRIED, 65536)) if port else (0,):
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        try:
            found.bind((LOOPBACK, tried))
            found.listen()
        except OSError:
            found.close()
        else:
            return found
    raise BadInput(
        [
            Problem(
                check="no_free_port",
                field="port",
                label="Port",
                value=str(port),
                limit=f"neither it nor the next {PORTS_TRIED - 1} are free",
                remedy="Name another with --port N.",
            )
        ]
    )


class UntilAnswered:
    """Calls back once a page has been answered in full; faces, styles and icons are no page."""

    def __init__(self, app: ASGIApp, answered: Callable[[], None]) -> None:
        self.app, self.answered = app, answered

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, then say so."""
        status = 0

        async def watched(message: Message) -> None:
            nonlocal status
            status = message.get("status", status)
            await send(message)

        await self.app(scope, receive, watched)
        page = scope["type"] == "http" and not scope["path"].startswith("/static/")
        if page and status == 200:
            self.answered()


def serve(
    desk: Desk,
    listening: socket.socket,
    *,
    today: date | None = None,
    once: bool = False,
) -> None:
    """Answer pages on a socket until the program is stopped.

    Parameters
    ----------
    desk
        The cases that are open and the practice that plans them.
    listening
        From :func:`free_socket`.
    today
        The day of every plan, where it is not to be the computer's.
    once
        End after one page has been answered.
    """
    app = application(desk, port=listening.getsockname()[1], today=today)
    server = server_of(app)
    if once:
        server.config.app = UntilAnswered(app, lambda: setattr(server, "should_exit", True))
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:  # how a person ends it
        pass
    finally:
        listening.close()


def server_of(app: ASGIApp) -> uvicorn.Server:
    """Return the server of an application; it writes to the terminal only what went wrong."""
    return uvicorn.Server(
        uvicorn.Config(
            app,
            access_log=False,
            lifespan="off",
            log_level="warning",
            proxy_headers=False,
            server_header=False,
            timeout_graceful_shutdown=2,
            ws="none",
        )
    )
