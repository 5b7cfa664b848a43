"""Every page of every example, asked as a browser without script asks."""

from __future__ import annotations

import re
from html import unescape
from html.parser import HTMLParser

import pytest

from plan.cases import NAMES, example
from web.pages import client
from zonule.pathway.show_a_plan import paths_of, why_of
from zonule.report.words import dioptres

VOID = {"meta", "link", "input", "br", "hr", "img"}


class Outline(HTMLParser):
    """Reads a page: its links, its ids, and whether every element is closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.inline: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._note(tag, dict(attrs))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._note(tag, dict(attrs))

    def _note(self, tag: str, given: dict[str, str | None]) -> None:
        if given.get("id"):
            self.ids.append(given["id"] or "")
        if tag == "a" and given.get("href"):
            self.links.append(given["href"] or "")
        self.inline += [f"{tag} {name}" for name in given if name == "style" or name[:2] == "on"]
        self.inline += [tag] if tag == "style" or (tag == "script" and "src" not in given) else []

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1:] == [tag], f"{self.open[-3:]} closed by {tag}"
        self.open.pop()


def outline(text: str) -> Outline:
    found = Outline(text)
    assert found.open == []
    return found


@pytest.mark.parametrize("name", NAMES)
def test_a_plan_is_whole_names_the_eye_and_holds_nothing_inline(name: str) -> None:
    answer = client().get(f"/plan/{name}")
    assert answer.status_code == 200
    found = outline(answer.text)
    assert found.inline == []
    assert len(set(found.ids)) == len(found.ids), "each id once"
    assert {"bar", "main", "why", "said", "aim", "rule", "lens", "power"} <= set(found.ids)
    plan = example(name)
    header = unescape(re.sub(r"<[^>]+>", " ", answer.text.split("</header>")[0]))
    words = " ".join(header.split())
    assert f"{plan.case.eye_to_do.capitalize()} eye" in words
    assert f"aim {dioptres(plan.case.aim.spherical_equivalent_d)}" in words
    assert plan.case.patient.record_number in words


@pytest.mark.parametrize("name", NAMES)
def test_every_link_of_a_plan_leads_somewhere(name: str) -> None:
    pages = client()
    links = {link for link in outline(pages.get(f"/plan/{name}").text).links if link[0] == "/"}
    assert any("/why?" in link for link in links), "there is something to ask about"
    for link in links:
        assert pages.get(link).status_code == 200, link


@pytest.mark.parametrize("name", NAMES)
def test_the_powers_of_one_eye_only_are_shown(name: str) -> None:
    other = "left" if example(name).case.eye_to_do == "right" else "right"
    assert f"placements.{other}" not in client().get(f"/plan/{name}").text


def test_the_list_shows_every_case_with_patient_side_and_what_makes_it_hard() -> None:
    text = client().get("/").text
    found = outline(text)
    assert [f"/plan/{name}" for name in sorted(NAMES)] == [x for x in found.links if "/plan/" in x]
    for name in NAMES:
        patient = example(name).case.patient
        assert patient.record_number in text
    assert "Lens wobble" in text or "lens wobble: slight" in text
    assert "Nothing on record makes this eye hard." in text


@pytest.mark.parametrize("name", ["hard-second-eye", "plain-eye"])
def test_every_number_of_a_plan_has_its_page_and_its_panel(name: str) -> None:
    pages, plan = client(), example(name)
    for path in paths_of(plan):
        told = why_of(plan, path)
        address = f"/plan/{name}/why?path={path}"
        page = pages.get(address)
        assert page.status_code == 200, path
        outline(page.text)
        panel = pages.get(address, headers={"HX-Request": "true", "HX-Target": "why"})
        assert panel.text.startswith("<article")
        assert "<html" not in panel.text
        for text in (page.text, panel.text):
            plain = unescape(text)
            assert told.title in plain
            assert told.value in plain
            assert told.status in plain
            assert all(source.text in plain for source in told.sources)
            assert all(file in plain for file in told.held_by)
            assert all(says in plain for says in told.caveats)
            assert all(one.value in plain for one in told.inputs)


def test_the_why_page_names_the_eye_and_leads_back_to_the_plan_asked_about() -> None:
    asked = "aim=-0.50&hand=sulcus_capture"
    text = client().get(f"/plan/hard-second-eye/why?path=placements.bag.power_d&{asked}").text
    assert "<strong>Left eye</strong> · aim −0.50 D" in text
    back = "/plan/hard-second-eye?hand=sulcus_capture&amp;aim=-0.5"
    assert f'id="why-close" href="{back}"' in text


def test_the_sheet_is_a_pdf_of_the_plan_asked_for() -> None:
    answer = client().get("/plan/plain-eye/sheet.pdf?aim=-0.50")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")


def test_no_sheet_is_printed_while_something_is_refused() -> None:
    answer = client().get("/plan/plain-eye/sheet.pdf?aim=0.50")
    assert answer.status_code == 422
    assert "must carry its sign" in answer.text


def test_files_come_with_their_own_type_and_are_kept_until_changed() -> None:
    pages = client()
    kinds = {
        "base.css": "text/css; charset=utf-8",
        "zonule.js": "text/javascript; charset=utf-8",
        "vendor/htmx-2.0.11.min.js": "text/javascript; charset=utf-8",
        "icon.svg": "image/svg+xml",
        "fonts/atkinson-hyperlegible-next-latin-400-normal.woff2": "font/woff2",
    }
    for path, kind in kinds.items():
        answer = pages.get(f"/static/{path}")
        assert answer.headers["content-type"] == kind
        again = pages.get(f"/static/{path}", headers={"If-None-Match": answer.headers["etag"]})
        assert (again.status_code, again.content) == (304, b"")
