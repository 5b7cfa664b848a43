"""What stands before every page: who may ask, and under which rules a browser shows the answer.

Only this computer's own names are answered, so that a page elsewhere cannot reach the program by
pointing its own name here. Every answer, errors among them, carries the same strict policy.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS: Final = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}
KEEP_NOTHING: Final = "no-store"
NOT_THIS_HOST: Final = "Zonule answers only under the address that it printed when it started.\n"
NOT_FROM_HERE: Final = "Zonule takes changes only from its own pages.\n"
CHANGES_NOTHING: Final = ("GET", "HEAD")


def own_hosts(port: int) -> frozenset[str]:
    """Return the names under which a server on this computer is asked.

    Examples
    --------
    >>> sorted(own_hosts(8765))
    ['127.0.0.1:8765', 'localhost:8765']
    """
    return frozenset({f"127.0.0.1:{port}", f"localhost:{port}"})


class Guarded:
    """Answers its own hosts only, changes from its own pages only, and sets every header."""

    def __init__(self, app: ASGIApp, *, hosts: Iterable[str]) -> None:
        self.app, self.hosts = app, frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.update(HEADERS)
                headers.setdefault("Cache-Control", KEEP_NOTHING)
            await send(message)

        await (self._refusal(scope) or self.app)(scope, receive, send_guarded)

    def _refusal(self, scope: Scope) -> ASGIApp | None:
        headers = Headers(scope=scope)
        if headers.getlist("host") != [host := headers.get("host", "")] or host not in self.hosts:
            return PlainTextResponse(NOT_THIS_HOST, status_code=400)
        if scope["method"] not in CHANGES_NOTHING and not _from_own_page(headers, host):
            return PlainTextResponse(NOT_FROM_HERE, status_code=403)
        return None


def _from_own_page(headers: Headers, host: str) -> bool:
    """Tell whether the browser says that a page of this program sends this.

    A browser that says nothing of the page's origin is not believed.
    """
    if headers.get("sec-fetch-site", "same-origin") != "same-origin":
        return False
    return headers.get("origin") == f"http://{host}"
