"""One page in one window, watched: what it asks for, what it complains about."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Final, Literal
from urllib.parse import urlsplit

from playwright.sync_api import Browser, ConsoleMessage, Page, Request

Light = Literal["light", "dark"]
HARD: Final = "/plan/hard-second-eye"
PLAIN: Final = "/plan/plain-eye"
WHY: Final = f"{HARD}/why?path=placements.sulcus_three_piece.power_d"
MACHINE: Final = f"{HARD}/machine"
MAP: Final = f"{HARD}/map"
CORNEA: Final = f"{HARD}/cornea"
RISK: Final = f"{HARD}/risk"
WIDE: Final = (1440, 900)
NARROW: Final = (390, 844)
MOST_PRESSES: Final = 400


@dataclass
class Looked:
    """A page and what was seen of it."""

    page: Page
    requests: list[Request] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def hosts(self) -> set[str | None]:
        """Return every host that was asked for anything."""
        return {urlsplit(request.url).hostname for request in self.requests}

    def focused(self) -> str:
        """Return the id of what has the focus."""
        return str(self.page.evaluate("document.activeElement.id"))

    def tab_to(self, wanted: str) -> None:
        """Press the tabulator until something has the focus."""
        for _ in range(MOST_PRESSES):
            if self.focused() == wanted:
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"{wanted} cannot be reached by keyboard")


@contextmanager
def looking(
    browser: Browser,
    address: str,
    *,
    size: tuple[int, int] = WIDE,
    light: Light = "light",
    script: bool = True,
) -> Iterator[Looked]:
    """Open a window; at its end nothing may have been asked of anyone else, or complained of."""
    context = browser.new_context(
        base_url=address,
        viewport={"width": size[0], "height": size[1]},
        color_scheme=light,
        java_script_enabled=script,
    )
    looked = Looked(context.new_page())
    looked.page.on("request", lambda asked: _keep(looked, asked))
    looked.page.on("pageerror", lambda fault: looked.complaints.append(str(fault)))
    looked.page.on("console", lambda said: _note(looked, said))
    yield looked
    assert looked.requests, "something was asked for"
    assert looked.hosts() == {"127.0.0.1"}
    assert looked.complaints == []
    context.close()


def _keep(looked: Looked, asked: Request) -> None:
    looked.requests.append(asked)


def _note(looked: Looked, said: ConsoleMessage) -> None:
    """Keep a complaint of the browser; that an address was refused is what some tests ask for."""
    if said.type in ("error", "warning") and "status of 4" not in said.text:
        looked.complaints.append(said.text)
