"""Pages read by a machine for what keeps people out: none may be found."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import Browser, Page

from browser.looking import (
    CORNEA,
    HARD,
    MACHINE,
    MAP,
    NARROW,
    PLAIN,
    RISK,
    WHY,
    WIDE,
    Light,
    looking,
)

PAGES = {
    "index": "/",
    "hard": HARD,
    "plain": PLAIN,
    "no power": "/plan/half-missing",
    "refused": f"{HARD}?aim=0,5&power=20",
    "why": WHY,
    "machine": MACHINE,
    "map": MAP,
    "map, other view": f"{MAP}?view=examiner",
    "cornea": CORNEA,
    "risk": RISK,
    "risk, much unknown": "/plan/half-missing/risk",
    "risk, no model": "/plan/aphakic-eye/risk",
    "error": "/no/such/page",
}


def violations(page: Page) -> list[str]:
    """Return what was found: the rule, and where."""
    found = Axe().run(page).response["violations"]
    return [f"{one['id']}: {node['html'][:200]}" for one in found for node in one["nodes"]]


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", [WIDE, NARROW], ids=str)
@pytest.mark.parametrize("path", PAGES.values(), ids=list(PAGES))
def test_nothing_keeps_anyone_out(
    browser: Browser, address: str, path: str, size: tuple[int, int], light: Light
) -> None:
    with looking(browser, address, size=size, light=light) as looked:
        looked.page.goto(path)
        assert violations(looked.page) == []
        looked.page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        assert violations(looked.page) == []


@pytest.mark.parametrize("light", ["light", "dark"])
def test_the_panel_of_a_why_keeps_no_one_out(browser: Browser, address: str, light: Light) -> None:
    with looking(browser, address, light=light) as looked:
        looked.page.goto(HARD)
        looked.page.locator("a.why").first.click()
        looked.page.locator("#why h1").wait_for()
        assert violations(looked.page) == []


def test_what_keeps_people_out_would_be_found(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        looked.page.goto("/")
        looked.page.evaluate("document.documentElement.removeAttribute('lang')")
        assert any(one.startswith("html-has-lang") for one in violations(looked.page))
