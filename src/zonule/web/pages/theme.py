"""Day or night: kept by the browser, for this program only."""

from __future__ import annotations

from urllib.parse import parse_qs

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from zonule.web.templating import THEME_COOKIE, THEMES

ONE_YEAR_S = 365 * 24 * 3600
LONGEST_BODY = 4096


async def theme(request: Request) -> Response:
    """Keep the theme that was chosen, or follow the screen again, and go back."""
    fields = await _fields(request)
    chosen = fields.get("theme", "")
    if chosen not in ("", *THEMES):
        raise HTTPException(400, f"There is no theme {chosen[:20]!r}. All: {', '.join(THEMES)}.")
    answer = RedirectResponse(_within(fields.get("back", "/")), status_code=303)
    if chosen:
        answer.set_cookie(
            THEME_COOKIE, chosen, max_age=ONE_YEAR_S, samesite="strict", httponly=True
        )
    else:
        answer.delete_cookie(THEME_COOKIE, samesite="strict", httponly=True)
    return answer


async def _fields(request: Request) -> dict[str, str]:
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > LONGEST_BODY:
            raise HTTPException(413, "That is more than this page takes.")
    return {name: texts[-1] for name, texts in parse_qs(body.decode("latin-1")).items()}


def _within(address: str) -> str:
    """Return an address within this program, the list of cases where it is none.

    Examples
    --------
    >>> _within("/plan/plain-eye?hand=bag"), _within("//elsewhere"), _within("http://elsewhere")
    ('/plan/plain-eye?hand=bag', '/', '/')
    """
    inside = address.startswith("/") and not address.startswith("//")
    plain = address.isprintable() and "\\" not in address
    return address if inside and plain else "/"
