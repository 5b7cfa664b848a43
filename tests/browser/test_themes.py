"""Day and night: as the screen is, or as chosen."""

from __future__ import annotations

from typing import Final

import pytest
from playwright.sync_api import Browser, expect

from browser.looking import CORNEA, HARD, MACHINE, MAP, Light, looking

GROUND: Final[dict[Light, str]] = {"light": "rgb(251, 250, 246)", "dark": "rgb(13, 17, 19)"}
PANEL: Final[dict[Light, str]] = {"light": "rgb(255, 255, 255)", "dark": "rgb(21, 27, 30)"}


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("path", ["/", HARD, MACHINE, MAP, CORNEA])
def test_the_screen_is_followed(browser: Browser, address: str, path: str, light: Light) -> None:
    with looking(browser, address, light=light) as looked:
        looked.page.goto(path)
        page = looked.page
        expect(page.locator("html")).to_have_css("background-color", GROUND[light])
        expect(page.locator(".card").first).to_have_css("background-color", PANEL[light])


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
@pytest.mark.parametrize(("screen", "button"), [("light", "night"), ("dark", "day")])
def test_what_is_chosen_holds_against_the_screen_and_can_be_taken_back(
    browser: Browser, address: str, screen: Light, button: str, script: bool
) -> None:
    chosen: Light = "dark" if button == "night" else "light"
    with looking(browser, address, light=screen, script=script) as looked:
        page, html = looked.page, looked.page.locator("html")
        page.goto(f"{HARD}?aim=-0.50")
        page.locator(f"#theme-{button}").click()
        expect(html).to_have_css("background-color", GROUND[chosen])
        expect(page).to_have_url(f"{address}{HARD}?aim=-0.50")
        expect(page.locator(f"#theme-{button}")).to_have_attribute("aria-pressed", "true")
        page.goto("/")
        expect(html).to_have_css("background-color", GROUND[chosen])
        page.locator(f"#theme-{button}").click()
        expect(html).to_have_css("background-color", GROUND[screen])


def test_after_another_aim_the_theme_leads_back_to_it(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        page.locator("#aim-less").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")
        page.locator("#theme-night").click()
        expect(page.locator("html")).to_have_class("night")
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")
