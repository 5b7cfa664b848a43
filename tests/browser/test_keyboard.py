"""Everything by keyboard, with script: reach it, change it, keep one's place."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, expect

from browser.looking import HARD, MAP, NARROW, WIDE, looking

SULCUS = "hand-sulcus_capture"


def test_the_first_press_offers_the_way_past_the_header(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        looked.page.goto(HARD)
        looked.page.keyboard.press("Tab")
        link = looked.page.locator(".skip")
        expect(link).to_be_focused()
        expect(link).to_be_in_viewport()
        looked.page.keyboard.press("Enter")
        expect(looked.page.locator("#main")).to_be_focused()


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=str)
def test_another_place_is_taken_in_hand(
    browser: Browser, address: str, size: tuple[int, int]
) -> None:
    with looking(browser, address, size=size) as looked:
        page = looked.page
        page.goto(HARD)
        looked.tab_to(SULCUS)
        page.keyboard.press("Enter")
        expect(page.locator(f"#{SULCUS}")).to_have_attribute("aria-current", "true")
        expect(page.locator(f"#{SULCUS}")).to_be_focused()
        expect(page).to_have_url(re.compile(r"\?hand=sulcus_capture$"))
        expect(page.locator("#expected-heading")).to_contain_text("Sulcus, optic captured")
        expect(page.locator("#said")).to_contain_text("left eye, sulcus, optic captured")
        documents = [one for one in looked.requests if one.resource_type == "document"]
        assert len(documents) == 1, "the page was not loaded anew"
        page.go_back()
        expect(page.locator("#hand-bag")).to_have_attribute("aria-current", "true")
        expect(page).to_have_url(f"{address}{HARD}")


def test_another_aim_is_typed_and_stepped(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        looked.tab_to("aim")
        page.keyboard.press("ControlOrMeta+A")
        page.keyboard.type("-0.75")
        page.keyboard.press("Enter")
        header = page.locator("#bar")
        expect(header).to_contain_text("aim −0.75 D")
        expect(page.locator("#aim")).to_be_focused()
        expect(page.locator("#aim")).to_have_value("−0.75")
        expect(page.locator("#said")).to_contain_text("aim −0.75 D")
        looked.tab_to("aim-more")
        page.keyboard.press("Enter")
        expect(header).to_contain_text("aim −0.50 D")
        expect(page.locator("#aim-more")).to_be_focused()
        expect(page.locator("#sheet")).to_have_attribute("href", re.compile(r"aim=-0\.5"))
        looked.tab_to("as-filed")
        page.keyboard.press("Enter")
        expect(header).to_contain_text("aim −0.25 D")
        expect(page.locator("#main")).to_be_focused()


def test_a_refused_aim_stays_in_its_field_and_the_plan_before_stays(
    browser: Browser, address: str
) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(f"{HARD}?aim=-0.75")
        looked.tab_to("aim")
        page.keyboard.press("ControlOrMeta+A")
        page.keyboard.type("0,5")
        page.keyboard.press("Enter")
        told = page.locator(".refused")
        expect(told).to_contain_text("Aim 0,5: a number takes a point, not a comma.")
        expect(told).to_contain_text("Not taken over.")
        expect(page.locator("#aim")).to_have_value("0,5")
        expect(page.locator("#aim")).to_be_focused()
        expect(page.locator("#aim")).to_have_attribute("aria-invalid", "true")
        expect(page.locator("#bar")).to_contain_text("aim −0.75 D")
        page.keyboard.press("ControlOrMeta+A")
        page.keyboard.type("+0.50")
        page.keyboard.press("Enter")
        expect(page.locator("#bar")).to_contain_text("aim +0.50 D")
        expect(told).to_have_count(0)


def test_another_lens_is_chosen(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        names = page.locator("#lens option").all_inner_texts()
        assert len(names) > 1
        looked.tab_to("lens")
        page.keyboard.press("ArrowDown")
        expect(page.locator("#lens")).to_have_value(names[1])
        looked.tab_to("show")
        page.keyboard.press("Enter")
        expect(page.locator(".rung").first).to_contain_text(names[1])
        expect(page.locator("#show")).to_be_focused()


def test_another_power_is_typed(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        looked.tab_to("power")
        page.keyboard.type("+21.00")
        page.keyboard.press("Enter")
        expect(page.locator(".rung.in-hand .power")).to_contain_text("+21.00")
        expect(page.locator("#power")).to_be_focused()


def test_what_is_unfolded_stays_so_and_keeps_the_focus(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        page.locator(".expected details > summary").focus()
        page.keyboard.press("Enter")
        looked.tab_to("take-21.0")
        page.keyboard.press("Enter")
        expect(page.locator(".rung.in-hand .power")).to_contain_text("+21.00")
        expect(page.locator("[id='take-21.0']")).to_be_visible()
        expect(page.locator("[id='take-21.0']")).to_be_focused()


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=str)
def test_a_why_opens_beside_and_escape_closes_it(
    browser: Browser, address: str, size: tuple[int, int]
) -> None:
    with looking(browser, address, size=size) as looked:
        page = looked.page
        page.goto(HARD)
        link = page.locator("a.why[href*='placements.sulcus_three_piece.power_d']").first
        link.focus()
        page.keyboard.press("Enter")
        panel = page.get_by_role("complementary", name="Where a number comes from")
        expect(panel).to_be_visible()
        heading = panel.get_by_role("heading", level=1)
        expect(heading).to_have_text("Lens power · Sulcus, not captured")
        expect(heading).to_be_focused()
        expect(panel).to_contain_text("+19.00 D")
        expect(page).to_have_url(f"{address}{HARD}")
        page.keyboard.press("Escape")
        expect(panel).to_have_count(0)
        expect(link).to_be_focused()
        page.keyboard.press("Enter")
        expect(heading).to_be_focused()
        looked.tab_to("why-close")
        page.keyboard.press("Enter")
        expect(panel).to_have_count(0)
        expect(link).to_be_focused()


def test_a_why_closes_when_what_it_explains_changes(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        page.locator("a.why[href*='placements.bag.power_d']").first.click()
        expect(page.locator("#why")).to_be_visible()
        page.locator(f"#{SULCUS}").focus()
        page.keyboard.press("Enter")
        expect(page.locator(f"#{SULCUS}")).to_have_attribute("aria-current", "true")
        expect(page.locator("#why")).to_be_hidden()


def test_the_tables_of_cornea_and_energy_open_by_keyboard(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        looked.tab_to("cornea-page")
        page.keyboard.press("Enter")
        for name in ("course", "line"):
            page.locator(f"#{name} > summary").focus()
            page.keyboard.press("Enter")
            expect(page.locator(f"#{name} table")).to_be_visible()


def test_without_an_answer_it_is_said(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        page.route("**/plan/**", lambda route: route.abort())
        page.locator("#aim-more").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#said")).to_have_text("No answer. Is Zonule still running?")
        looked.complaints.clear()


def test_focus_can_always_be_seen(browser: Browser, address: str) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(HARD)
        for _ in range(60):
            page.keyboard.press("Tab")
            width = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
            assert width == "2px", page.evaluate("document.activeElement.outerHTML")


def test_the_map_is_turned_and_an_hour_explained_by_keyboard(
    browser: Browser, address: str
) -> None:
    with looking(browser, address) as looked:
        page = looked.page
        page.goto(MAP)
        looked.tab_to("view-examiner")
        page.keyboard.press("Enter")
        expect(page).to_have_url(re.compile(r"/map\?view=examiner$"))
        expect(page.locator("#view-examiner")).to_be_focused()
        expect(page.locator(".map-page svg title")).to_contain_text("12 above")
        page.locator("a[href*='clock_map.iris_hook_2']").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#why h1")).to_have_text("Iris hook 2, clock hour")
        page.keyboard.press("Escape")
        expect(page.locator("#why")).to_be_hidden()
