"""The page of the incision and hook map: both views, its why, what it refuses."""

from __future__ import annotations

import re

import pytest

from web.pages import client

MAP = "/plan/hard-second-eye/map"


def test_the_page_says_what_the_map_comes_to_and_has_every_hour() -> None:
    text = client().get(MAP).text
    assert "No clash with what is on record" in text
    assert "turned: the temporal side nearest the surgeon" in text
    assert text.count("clock_map.iris_hook_") == 4
    assert "Not recorded: bleb or tube" in text


def test_each_view_leads_to_the_other_and_keeps_what_was_asked() -> None:
    text = client().get(f"{MAP}?view=examiner&aim=-0.50").text
    assert "as the examiner sees it: 12 above" in text
    assert 'id="view-surgeon" href="/plan/hard-second-eye/map?view=surgeon&amp;aim=-0.5"' in text
    assert re.search(r'id="view-examiner"[^>]*aria-current="true"', text)


def test_every_hour_leads_to_its_why() -> None:
    pages = client()
    text = pages.get(MAP).text
    whys = re.findall(r'class="why" href="([^"]*clock_map[^"]*)"', text)
    assert len(whys) >= 11
    for address in whys[:3]:
        assert pages.get(address.replace("&amp;", "&")).status_code == 200


@pytest.mark.parametrize(
    ("address", "status"),
    [
        (f"{MAP}?view=above", 400),
        (f"{MAP}?view=surgeon&view=examiner", 400),
        (f"{MAP}?aim=0,5", 422),
        ("/plan/no-such-eye/map", 404),
        ("/plan/plain-eye/map", 200),
        ("/plan/half-missing/map", 200),
    ],
)
def test_what_cannot_be_meant_is_refused(address: str, status: int) -> None:
    assert client().get(address).status_code == status


def test_the_plan_shows_the_drawing_and_leads_to_the_page() -> None:
    text = client().get("/plan/hard-second-eye?aim=-0.50").text
    assert 'id="map-page" hx-boost="false" href="/plan/hard-second-eye/map?aim=-0.5"' in text
    assert "Incisions and hooks: No clash" in text
