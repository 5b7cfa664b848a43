"""Who is answered, and under which rules a browser shows the answer."""

from __future__ import annotations

from pathlib import Path

import pytest

from web.pages import ORIGIN, OWN_PAGE, PORT, client
from zonule.web import security
from zonule.web.pages import index

POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "font-src": "'self'",
    "img-src": "'self'",
    "connect-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}
EVERY_ANSWER = {
    "/": 200,
    "/plan/plain-eye": 200,
    "/plan/plain-eye?aim=0.5": 422,
    "/plan/plain-eye?colour=blue": 400,
    "/plan/no-such-eye": 404,
    "/plan/plain-eye/why?path=placements.bag.power_d": 200,
    "/plan/plain-eye/why?path=nothing": 404,
    "/plan/plain-eye/sheet.pdf": 200,
    "/no/such/page": 404,
    "/theme": 405,
    "/static/base.css": 200,
    "/static/no.css": 404,
}


@pytest.mark.parametrize(("path", "status"), EVERY_ANSWER.items(), ids=list(EVERY_ANSWER))
def test_every_answer_carries_every_header(path: str, status: int) -> None:
    answer = client().get(path)
    assert answer.status_code == status
    for name, value in security.HEADERS.items():
        assert answer.headers.get_list(name) == [value]
    kept = "no-cache" if path == "/static/base.css" else "no-store"
    assert answer.headers.get_list("cache-control") == [kept]
    assert "set-cookie" not in answer.headers


def test_the_policy_lets_a_page_load_from_here_only() -> None:
    said = client().get("/").headers["content-security-policy"]
    assert dict(part.strip().split(" ", 1) for part in said.split(";")) == POLICY


def test_a_failure_carries_every_header_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(index, "list_cases", lambda *_, **__: 1 / 0)
    answer = client().get("/")
    assert answer.status_code == 500
    for name, value in security.HEADERS.items():
        assert answer.headers[name] == value


@pytest.mark.parametrize("host", [f"127.0.0.1:{PORT}", f"localhost:{PORT}"])
def test_its_own_names_are_answered(host: str) -> None:
    assert client().get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "",
        "127.0.0.1",
        "localhost",
        f"127.0.0.1:{PORT + 1}",
        f"127.0.0.1.example:{PORT}",
        f"localhost.example:{PORT}",
        f"[::1]:{PORT}",
        f"0.0.0.0:{PORT}",
        f"127.0.0.1:{PORT}@example",
        "an.example",
    ],
)
def test_no_other_name_is_answered(host: str) -> None:
    answer = client().get("/", headers={"Host": host})
    assert answer.status_code == 400
    assert answer.text == security.NOT_THIS_HOST
    assert "content-security-policy" in answer.headers
    assert client().get("/static/base.css", headers={"Host": host}).status_code == 400


def test_two_host_lines_are_not_answered() -> None:
    own = ("host", f"127.0.0.1:{PORT}")
    answer = client().get("/", headers=[own, ("host", "an.example")])
    assert answer.status_code == 400


@pytest.mark.parametrize(
    "says",
    [
        {},
        {"Origin": "null"},
        {"Origin": "http://an.example"},
        {"Origin": f"https://127.0.0.1:{PORT}"},
        {"Origin": f"http://127.0.0.1:{PORT + 1}"},
        {"Origin": ORIGIN, "Sec-Fetch-Site": "cross-site"},
        {"Origin": ORIGIN, "Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "same-origin"},
    ],
)
def test_nothing_is_changed_from_elsewhere(says: dict[str, str]) -> None:
    answer = client().post("/theme", data={"theme": "night"}, headers=says)
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "POST"])
def test_pages_are_only_read(method: str) -> None:
    answer = client().request(method, "/plan/plain-eye", headers=OWN_PAGE)
    assert answer.status_code == 405


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2fapp.py",
        "/static/fonts/../../app.py",
        "/static//etc/passwd",
        "/static/fonts",
        "/static/",
        "/plan/../practice",
        "/plan/%2e%2e%2fpyproject",
        "/plan/..%5cpyproject",
        "/plan/%2e%2e",
        "/plan//etc/passwd",
        "/plan/examples%2fplain-eye",
        "/plan/plain-eye.toml",
        "/plan/practice",
        "/plan/%00",
    ],
)
def test_nothing_outside_can_be_reached(path: str) -> None:
    assert client().get(path).status_code == 404


def test_a_link_out_of_the_folder_is_no_case(tmp_path: Path) -> None:
    inside, outside = tmp_path / "open", tmp_path / "elsewhere"
    inside.mkdir()
    outside.mkdir()
    (outside / "secret.toml").write_text('schema = "zonule-case-1"\n', "utf-8")
    (inside / "way.toml").symlink_to(outside / "secret.toml")
    pages = client(inside)
    assert pages.get("/plan/way").status_code == 404
    assert "way" not in pages.get("/").text.replace("always", "")


def test_a_case_that_is_open_alone_hides_its_neighbours() -> None:
    pages = client(only="plain-eye")
    assert pages.get("/plan/plain-eye").status_code == 200
    assert pages.get("/plan/hard-second-eye").status_code == 404
