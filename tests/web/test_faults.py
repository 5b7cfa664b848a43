"""What a page says when something is wrong: what it is, and what to do."""

from __future__ import annotations

from pathlib import Path

import pytest

from plan.cases import EXAMPLES
from web.pages import client
from zonule.web.pages import index


def _folder(tmp_path: Path, **changed: tuple[str, str]) -> Path:
    """Return a folder with the plain case as files of these names, one text of each changed."""
    text = (EXAMPLES / "plain-eye.toml").read_text("utf-8")
    for name, (old, new) in changed.items():
        assert old in text
        (tmp_path / f"{name}.toml").write_text(text.replace(old, new), "utf-8")
    return tmp_path


def test_a_case_with_faults_is_listed_with_them_and_its_page_tells_all(tmp_path: Path) -> None:
    folder = _folder(
        tmp_path, slip=("axial_length_mm = 23.47", "axial_length_mm = 234.7"), good=("3.18", "3.19")
    )
    pages = client(folder)
    listed = pages.get("/")
    assert listed.status_code == 200
    assert "2 cases, 1 cannot be read" in listed.text
    sentence = "Axial length, right eye 234.7 mm: must be 15 to 40 mm. Check the decimal point"
    assert sentence in listed.text
    assert 'href="/plan/slip"' in listed.text
    told = pages.get("/plan/slip")
    assert told.status_code == 422
    assert "This plan cannot be made" in told.text
    assert sentence in told.text
    assert "slip.toml, line " in told.text
    assert "Mend what is told here" in told.text
    assert pages.get("/plan/good").status_code == 200
    for page in ("why?path=placements.bag.power_d", "sheet.pdf"):
        assert pages.get(f"/plan/slip/{page}").status_code == 422


def test_a_mended_case_is_planned_at_the_next_look(tmp_path: Path) -> None:
    folder = _folder(tmp_path, eye=("23.47", "234.7"))
    pages = client(folder)
    assert "1 case, 1 cannot be read" in pages.get("/").text
    _folder(tmp_path, eye=("23.47", "23.470"))
    assert "cannot be read" not in pages.get("/").text
    assert pages.get("/plan/eye").status_code == 200


def test_many_faults_are_shortened_in_the_list_only(tmp_path: Path) -> None:
    text = (EXAMPLES / "plain-eye.toml").read_text("utf-8")
    for number in ("23.47", "3.18", "4.51", "11.9", "43.40", "44.05"):
        text = text.replace(f"= {number}", f"= {number.replace('.', ',')}")
    (tmp_path / "commas.toml").write_text(text, "utf-8")
    pages = client(tmp_path)
    assert "and 3 more: open the case to see them" in pages.get("/").text
    assert pages.get("/plan/commas").text.count("Type a point instead of the comma.") == 6


def test_faults_of_the_practice_file_are_told_for_every_case(tmp_path: Path) -> None:
    practice = tmp_path / "practice.toml"
    practice.write_text('schema = "zonule-practice-1"\n', "utf-8")
    pages = client(practice_file=practice)
    listed = pages.get("/").text
    assert "6 cases</h1>" in listed
    assert "practice.toml cannot be read, and no case planned without it" in listed
    assert listed.count("the practice file waits to be mended") == 6
    assert "Arthur Plain-Demo (demo-0502)" in listed
    assert pages.get("/plan/plain-eye").status_code == 422


def test_what_is_no_text_at_all_is_listed_too(tmp_path: Path) -> None:
    (tmp_path / "broken.toml").write_bytes(b"\xff\xfe\x00\x01")
    (tmp_path / "empty.toml").write_bytes(b"")
    (tmp_path / "other.toml").write_text("[tool]\nname = 1\n", "utf-8")
    text = client(tmp_path).get("/").text
    assert "2 cases, 2 cannot be read" in text
    assert "No case and no practice file: other.toml" in text


def test_an_empty_folder_says_what_to_do(tmp_path: Path) -> None:
    text = client(tmp_path).get("/").text
    assert "0 cases" in text
    assert "Copy one of the examples into this folder" in text


def test_what_stands_in_a_file_is_text_and_never_markup(tmp_path: Path) -> None:
    folder = _folder(tmp_path, eye=("demo-0502", "<b onclick='x'>&amp;{{ 7 * 7 }}"))
    for path in ("/", "/plan/eye", "/plan/eye/why?path=placements.bag.power_d"):
        text = client(folder).get(path).text
        assert "<b onclick" not in text
        assert "&lt;b onclick=&#39;x&#39;&gt;&amp;amp;{{ 7 * 7 }}" in text


def test_a_file_of_any_name_can_be_opened(tmp_path: Path) -> None:
    folder = _folder(tmp_path, **{'née "o" & 1?#%': ("demo-0502", "demo-0503")})
    pages = client(folder)
    listed = pages.get("/").text
    address = "/plan/n%C3%A9e%20%22o%22%20%26%201%3F%23%25"
    assert f'href="{address}"' in listed
    assert pages.get(address).status_code == 200
    assert pages.get(f"{address}/sheet.pdf").headers["content-disposition"] == (
        "inline; filename*=UTF-8''zonule-n%C3%A9e%20%22o%22%20%26%201%3F%23%25.pdf"
    )


@pytest.mark.parametrize(
    ("path", "status", "says"),
    [
        ("/no/such/page", 404, "There is no such page"),
        ("/plan/plain-eey", 404, "There is no case &#39;plain-eey&#39;. Nearest: plain-eye"),
        ("/plan/plain-eye?powr=1", 400, "Nearest: power"),
        ("/plan/plain-eye?aim=-1&aim=-2", 400, "A part of this address stands twice."),
        (f"/plan/plain-eye?aim={'1' * 400}", 400, "aim is longer than 300 characters."),
        ("/plan/plain-eye/why?path=placements.bag.pwer_d", 404, "Nearest: placements.bag.power_d"),
        ("/plan/plain-eye/why", 404, "There is no number &#39;&#39;"),
        ("/theme", 405, "This cannot be asked here"),
    ],
)
def test_a_wrong_address_says_what_to_do(path: str, status: int, says: str) -> None:
    answer = client().get(path)
    assert answer.status_code == status
    assert says in answer.text
    assert '<a href="/">All cases</a>' in answer.text
    assert answer.headers["content-type"] == "text/html; charset=utf-8"


def test_a_failure_of_the_program_shows_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object, **__: object) -> None:
        raise RuntimeError("the inside of the program")

    monkeypatch.setattr(index, "list_cases", fails)
    answer = client().get("/")
    assert answer.status_code == 500
    assert "Something in the program failed" in answer.text
    assert "plan this eye without it" in answer.text
    for word in ("Traceback", "RuntimeError", "the inside of the program", ".py"):
        assert word not in answer.text


def test_beside_the_plan_a_fault_comes_as_text_only() -> None:
    answer = client().get(
        "/plan/plain-eye/why?path=nothing", headers={"HX-Request": "true", "HX-Target": "why"}
    )
    assert answer.status_code == 404
    assert answer.text.startswith('<article class="told"')
