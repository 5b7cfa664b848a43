"""The same pages with script switched off: everything still works."""

from __future__ import annotations

import re

from playwright.sync_api import Browser, expect

from browser.looking import HARD, looking


def test_from_the_list_to_a_plan_to_another_place_and_back(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto("/")
        page.get_by_role("link", name="hard-second-eye").click()
        expect(page.get_by_role("heading", level=1)).to_contain_text("Left eye")
        page.locator("#hand-sulcus_capture").click()
        expect(page).to_have_url(f"{address}{HARD}?hand=sulcus_capture")
        expect(page.locator("#hand-sulcus_capture")).to_have_attribute("aria-current", "true")
        page.locator("#all-cases").click()
        expect(page).to_have_url(f"{address}/")


def test_the_form_asks_and_refuses(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto(HARD)
        page.locator("#aim").fill("−0.75")
        page.locator("#show").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.75 D")
        page.locator("#aim").fill("half")
        page.locator("#show").click()
        expect(page.locator(".refused")).to_contain_text("Aim half: a number stands alone.")
        expect(page.locator("#bar")).to_contain_text("aim −0.75 D")
        expect(page.locator("#aim")).to_have_value("half")


def test_a_why_is_a_page_that_leads_back(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto(f"{HARD}?aim=-0.50")
        page.locator("a.why[href*='placements.bag.power_d']").first.click()
        expect(page).to_have_url(re.compile(r"/why\?path=placements\.bag\.power_d&aim=-0\.5$"))
        expect(page.get_by_role("heading", level=1)).to_have_text("Lens power · In the bag")
        page.get_by_role("link", name="Back to the plan").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")


def test_risks_are_a_page_that_leads_back(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto(f"{HARD}?aim=-0.50")
        page.locator("#risk-page").click()
        expect(page).to_have_url(f"{address}{HARD}/risk?aim=-0.5")
        expect(page.locator("#rupture")).to_contain_text("of 100 eyes like this")
        expect(page.get_by_role("region", name="The three roots, as a table")).to_be_visible()
        page.locator("#back").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")


def test_cornea_and_energy_are_a_page_that_leads_back(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto(f"{HARD}?aim=-0.50")
        page.locator("#cornea-page").click()
        expect(page).to_have_url(f"{address}{HARD}/cornea?aim=-0.5")
        expect(page.locator("#cells-heading")).to_contain_text("1,350 expected after surgery")
        expect(page.locator("#energy-heading")).to_contain_text("stop and ask at")
        page.locator("#line > summary").click()
        expect(page.locator("#line tr.chosen")).to_contain_text("5.9 (this eye)")
        page.locator("#back").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")


def test_the_machine_is_a_page_that_leads_back(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto(f"{HARD}?aim=-0.50")
        page.locator("#machine-page").click()
        expect(page).to_have_url(f"{address}{HARD}/machine?aim=-0.5")
        expect(page.locator("table.stages tbody tr")).to_have_count(7)
        expect(page.locator(".machine")).to_contain_text("Not validated.")
        page.locator("#back").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")


def test_the_map_turns_and_leads_back(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto(f"{HARD}?aim=-0.50")
        page.locator("#map-page").click()
        expect(page.locator(".map-page svg title")).to_contain_text("nearest the surgeon")
        page.locator("#view-examiner").click()
        expect(page).to_have_url(f"{address}{HARD}/map?view=examiner&aim=-0.5")
        expect(page.locator(".map-page svg title")).to_contain_text("12 above")
        page.locator("#back").click()
        expect(page.locator("#bar")).to_contain_text("aim −0.50 D")


def test_what_is_folded_can_be_unfolded(browser: Browser, address: str) -> None:
    with looking(browser, address, script=False) as looked:
        page = looked.page
        page.goto("/plan/plain-eye")
        inside = page.locator("#steps .inside")
        expect(inside).to_be_hidden()
        page.locator("#steps > summary").click()
        expect(inside).to_be_visible()
