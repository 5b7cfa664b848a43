"""The server itself: its port, its end."""

from __future__ import annotations

from threading import Thread
from urllib.error import HTTPError
from urllib.request import ProxyHandler, build_opener

import pytest

from plan.cases import EXAMPLES, TODAY
from zonule.errors import BadInput
from zonule.pathway.open_cases import Desk
from zonule.web import serving
from zonule.web.serving import free_socket, serve_once

DESK = Desk(EXAMPLES, EXAMPLES / "practice.toml")
LONG_S = 600.0


def _ask(address: str) -> int:
    try:
        with build_opener(ProxyHandler({})).open(address) as answer:
            answer.read()
            return int(answer.status)
    except HTTPError as refused:
        refused.close()
        return refused.code


def test_it_listens_on_this_computer_only_and_takes_the_next_free_port() -> None:
    with free_socket(0) as first:
        host, port = first.getsockname()
        assert host == "127.0.0.1"
        with free_socket(port) as second:
            assert port < second.getsockname()[1] < port + serving.PORTS_TRIED


def test_no_free_port_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "PORTS_TRIED", 1)
    with free_socket(0) as first:
        port = first.getsockname()[1]
        with pytest.raises(BadInput, match=f"Port {port}: neither it nor the next 0 are free"):
            free_socket(port)


def test_once_ends_after_a_page_was_answered_and_not_before() -> None:
    listening = free_socket(0)
    address = f"http://127.0.0.1:{listening.getsockname()[1]}"
    asked: list[int] = []

    def look() -> None:
        asked.extend(_ask(f"{address}{path}") for path in ("/static/base.css", "/no", "/"))

    looker = Thread(target=look)
    looker.start()
    status = serve_once(DESK, listening, path="/", today=TODAY, patience_s=LONG_S)
    looker.join()
    assert asked == [200, 404, 200]
    assert status == 200


def test_once_asks_itself_when_nobody_does() -> None:
    status = serve_once(DESK, free_socket(0), path="/plan/plain-eye", today=TODAY, patience_s=0)
    assert status == 200


def test_once_says_when_the_page_told_faults() -> None:
    desk = Desk(EXAMPLES, EXAMPLES / "plain-eye.toml")
    status = serve_once(desk, free_socket(0), path="/plan/plain-eye", today=TODAY, patience_s=0)
    assert status == 422
