"""Runs the pages on this computer: a free port, loopback only, until it is stopped."""

from __future__ import annotations

import socket
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from threading import Event, Thread
from typing import Final
from urllib.request import ProxyHandler, build_opener

import uvicorn
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from zonule.errors import BadInput, Problem
from zonule.pathway.open_cases import Desk
from zonule.web.app import application

LOOPBACK: Final = "127.0.0.1"
PORTS_TRIED: Final = 50
PATIENCE_S: Final = 15.0
PAGE_ANSWERS: Final = (200, 422, 500)


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


class FirstAnswer:
    """Notes how the first page was answered; faces, styles and refused addresses are no page."""

    def __init__(self, app: ASGIApp, answered: Callable[[], None]) -> None:
        self.app, self.answered = app, answered
        self.status = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request; say so where it was the first page."""
        status = 0

        async def watched(message: Message) -> None:
            nonlocal status
            status = message.get("status", status)
            await send(message)

        try:
            await self.app(scope, receive, watched)
        finally:
            page = scope["type"] == "http" and not scope["path"].startswith("/static/")
            if page and status in PAGE_ANSWERS and not self.status:
                self.status = status
                self.answered()


def serve(desk: Desk, listening: socket.socket, *, today: date | None = None) -> None:
    """Answer pages on a socket until the program is stopped.

    Parameters
    ----------
    desk
        The cases that are open and the practice that plans them.
    listening
        From :func:`free_socket`.
    today
        The day of every plan, where it is not to be the computer's.
    """
    _run(server_of(application(desk, port=listening.getsockname()[1], today=today)), listening)


def serve_once(
    desk: Desk,
    listening: socket.socket,
    *,
    path: str,
    today: date | None = None,
    patience_s: float = PATIENCE_S,
) -> int:
    """Answer one page, end, and return the status it was answered with.

    Parameters
    ----------
    desk, listening, today
        As for :func:`serve`.
    path
        The page that is asked for from here when nobody else has asked for one.
    patience_s
        How long others are waited for [s].
    """
    port = listening.getsockname()[1]
    answered = Event()
    first = FirstAnswer(application(desk, port=port, today=today), answered.set)
    server = server_of(first)

    def end_when_answered() -> None:
        if not answered.wait(patience_s):
            _ask(f"http://{LOOPBACK}:{port}{path}")
        server.should_exit = True

    watch = Thread(target=end_when_answered, daemon=True)
    watch.start()
    _run(server, listening)
    answered.set()
    watch.join()
    return first.status


def _ask(address: str) -> None:
    """Ask this computer for a page, whatever proxy is set for others; read it to its end."""
    with suppress(OSError), build_opener(ProxyHandler({})).open(address) as answer:
        answer.read()


def _run(server: uvicorn.Server, listening: socket.socket) -> None:
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
