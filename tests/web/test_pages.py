"""Every page of every example, asked as a browser without script asks."""

from __future__ import annotations

import re
from html import unescape
from html.parser import HTMLParser
from urllib.parse import parse_qs, quote, urlsplit

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


def _asked_path(link: str) -> str:
    return parse_qs(urlsplit(link).query)["path"][0]


@pytest.mark.parametrize("name", NAMES)
def test_every_link_of_a_plan_leads_somewhere(name: str) -> None:
    pages = client()
    links = {link for link in outline(pages.get(f"/plan/{name}").text).links if link[0] == "/"}
    whys = {link for link in links if "/why?" in link}
    assert whys, "there is something to ask about"
    assert {_asked_path(link) for link in whys} <= set(paths_of(example(name)))
    for link in links - whys:
        assert pages.get(link).status_code == 200, link


@pytest.mark.parametrize("name", NAMES)
def test_risks_have_their_page_and_every_why_answers(name: str) -> None:
    pages = client()
    answer = pages.get(f"/plan/{name}/risk?aim=-1.25")
    assert answer.status_code == 200
    found = outline(answer.text)
    assert found.inline == []
    assert len(set(found.ids)) == len(found.ids), "each id once"
    assert f"/plan/{name}?aim=-1.25" in found.links, "back to what was asked for"
    whys = {_asked_path(link) for link in found.links if "/why?" in link}
    assert whys <= set(paths_of(example(name)))
    if example(name).risks is None:
        assert "No risks are shown" in answer.text
        return
    assert {"risks.rupture", "risks.roots.zonule", "risks.outcomes.detachment"} <= whys
    assert "Not validated" in answer.text


@pytest.mark.parametrize("name", NAMES)
def test_cornea_and_energy_have_their_page_and_every_why_answers(name: str) -> None:
    pages = client()
    answer = pages.get(f"/plan/{name}/cornea?aim=-1.25")
    assert answer.status_code == 200
    found = outline(answer.text)
    assert found.inline == []
    assert len(set(found.ids)) == len(found.ids), "each id once"
    assert "Not validated." in answer.text
    assert f"/plan/{name}?aim=-1.25" in found.links, "back to what was asked for"
    whys = {_asked_path(link) for link in found.links if "/why?" in link}
    assert "cornea.usual" in whys
    assert whys <= set(paths_of(example(name)))


@pytest.mark.parametrize("name", NAMES)
def test_the_machine_has_its_page_and_every_number_on_it_a_why(name: str) -> None:
    pages = client()
    answer = pages.get(f"/plan/{name}/machine?aim=-1.25")
    assert answer.status_code == 200
    found = outline(answer.text)
    assert found.inline == []
    assert len(set(found.ids)) == len(found.ids), "each id once"
    assert "Not validated." in answer.text
    assert f"/plan/{name}?aim=-1.25" in found.links, "back to what was asked for"
    whys = {_asked_path(link) for link in found.links if "/why?" in link}
    stages = {one.stage for one in example(name).parts.machine}
    assert {f"machine.{stage}.chamber_pressure" for stage in stages} <= whys
    assert whys <= set(paths_of(example(name)))


def test_a_machine_page_of_no_case_and_with_a_refused_wish_says_so() -> None:
    assert client().get("/plan/no-such-eye/machine").status_code == 404
    assert client().get("/plan/plain-eye/machine?aim=half").status_code == 422
    assert client().get("/plan/plain-eye/machine?colour=red").status_code == 400


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


def _kind(path: str) -> str:
    """Return what kind of number a path names: one place, tool or rule stands for all."""
    parts = path.split(".")
    return f"{parts[0]} {parts[-1]}" if len(parts) > 2 else parts[0]


def _of_each_kind(name: str) -> list[str]:
    found = list({_kind(path): path for path in paths_of(example(name))}.values())
    assert len(found) > 15
    return found


def _holds_all_of(text: str, path: str) -> bool:
    told, plain = why_of(example("hard-second-eye"), path), unescape(text)
    words = [told.title, told.value, told.status, *told.held_by, *told.caveats]
    words += [source.text for source in told.sources] + [one.value for one in told.inputs]
    return all(word in plain for word in words)


@pytest.mark.parametrize("path", _of_each_kind("hard-second-eye"))
def test_every_kind_of_number_has_its_page(path: str) -> None:
    page = client().get(f"/plan/hard-second-eye/why?path={quote(path)}")
    assert page.status_code == 200
    outline(page.text)
    assert _holds_all_of(page.text, path)


def test_beside_the_plan_comes_the_same_without_the_page_around_it() -> None:
    path = "placements.sulcus_three_piece.power_d"
    panel = client().get(
        f"/plan/hard-second-eye/why?path={path}",
        headers={"HX-Request": "true", "HX-Target": "why"},
    )
    assert panel.text.startswith("<article")
    assert "<html" not in panel.text
    outline(panel.text)
    assert _holds_all_of(panel.text, path)


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
