"""Templates to pages. Everything is escaped; a name that is not given is a fault, never empty."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

THEMES: Final = ("day", "night")
THEME_COOKIE: Final = "zonule_theme"


@cache
def templates() -> Environment:
    """Return the templates of the program."""
    return Environment(
        loader=PackageLoader("zonule.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )


def theme_of(request: Request) -> str:
    """Return the theme that was chosen; empty while the screen's own is followed."""
    chosen = request.cookies.get(THEME_COOKIE, "")
    return chosen if chosen in THEMES else ""


def here(request: Request) -> str:
    """Return the address of this page within the program, for coming back to it."""
    query = f"?{request.url.query}" if request.url.query else ""
    return f"{request.url.path}{query}" if request.method in ("GET", "HEAD") else "/"


def page(request: Request, template: str, *, status: int = 200, **context: Any) -> HTMLResponse:
    """Return a page as an answer."""
    text = (
        templates()
        .get_template(template)
        .render(theme=theme_of(request), here=here(request), **context)
    )
    return HTMLResponse(text, status_code=status)


def asks_for_the_panel(request: Request) -> bool:
    """Tell whether script asks for the text beside the page only, not for a whole page."""
    return request.headers.get("hx-target") == "why"
