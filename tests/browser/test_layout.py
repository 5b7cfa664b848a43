"""What fits, what scrolls, what is printed, what is sent."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from browser.looking import CORNEA, HARD, MACHINE, MAP, NARROW, PLAIN, RISK, WHY, WIDE, looking
from plan.cases import NAMES

PAGES = [
    "/",
    *(f"/plan/{name}" for name in NAMES),
    WHY,
    MACHINE,
    MAP,
    CORNEA,
    "/plan/half-missing/cornea",
    RISK,
    "/plan/half-missing/risk",
    "/no/such/page",
    f"{HARD}?aim=0,5",
]
KILOBYTES_AT_MOST = 300


def _widths(page: Page) -> tuple[int, int]:
    width, window = page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    return int(width), int(window)


@pytest.mark.parametrize("size", [WIDE, NARROW, (768, 1024), (320, 640)], ids=str)
@pytest.mark.parametrize("path", PAGES)
def test_nothing_scrolls_sideways(
    browser: Browser, address: str, path: str, size: tuple[int, int]
) -> None:
    with looking(browser, address, size=size) as looked:
        looked.page.goto(path)
        width, window = _widths(looked.page)
        assert width <= window
        looked.page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        width, window = _widths(looked.page)
        assert width <= window, "with everything unfolded"


def test_a_plain_eye_fits_one_screen(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        looked.page.goto(PLAIN)
        looked.page.evaluate("document.fonts.ready.then(() => null)")
        assert looked.page.evaluate("document.documentElement.scrollHeight") <= 900


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=str)
def test_the_eye_in_hand_stays_in_sight(
    browser: Browser, address: str, size: tuple[int, int]
) -> None:
    with looking(browser, address, size=size) as looked:
        looked.page.goto(HARD)
        looked.page.mouse.wheel(0, 1500)
        looked.page.wait_for_function("window.scrollY > 1000")
        heading = looked.page.get_by_role("heading", level=1)
        expect(heading).to_contain_text("Left eye")
        expect(heading).to_contain_text("−0.25 D")
        expect(heading).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize("path", [HARD, PLAIN, "/"])
def test_a_page_is_light(browser: Browser, address: str, path: str) -> None:
    with looking(browser, address) as looked:
        looked.page.goto(path)
        looked.page.evaluate("document.fonts.ready.then(() => null)")
        sizes = [request.sizes() for request in looked.requests]
        total = sum(one["responseBodySize"] + one["responseHeadersSize"] for one in sizes)
        assert len(sizes) >= 5
        assert 50_000 < total < 1000 * KILOBYTES_AT_MOST


@pytest.mark.parametrize("path", [HARD, PLAIN])
@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_on_paper_everything_is_unfolded_and_nothing_can_be_pressed(
    browser: Browser, address: str, path: str, script: bool
) -> None:
    with looking(browser, address, script=script, light="dark") as looked:
        looked.page.goto(path)
        looked.page.emulate_media(media="print")
        folded = looked.page.locator("details")
        assert folded.count() > 5
        for one in folded.all():
            inside = one.locator(":scope > :not(summary)")
            if inside.count():
                expect(inside.first).to_be_visible()
        for control in ("#ask", ".bar-links", ".skip", "#why"):
            expect(looked.page.locator(control)).to_be_hidden()
        expect(looked.page.locator("html")).to_have_css("background-color", "rgb(255, 255, 255)")
        expect(looked.page.locator("html")).to_have_css("color", "rgb(28, 35, 39)")


@pytest.mark.parametrize("light", ["light", "dark"])
def test_every_weight_of_the_face_is_the_programs_own(
    browser: Browser, address: str, light: str
) -> None:
    with looking(browser, address, light="dark" if light == "dark" else "light") as looked:
        looked.page.goto(HARD)
        looked.page.evaluate("document.fonts.ready.then(() => null)")
        loaded = looked.page.evaluate(
            "[...document.fonts].filter(f => f.status === 'loaded').map(f => f.family)"
        )
        assert len(loaded) >= 3
        assert {name.strip('"') for name in loaded} == {"Atkinson Hyperlegible Next"}
