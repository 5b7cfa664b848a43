"""Day or night, kept by the browser."""

from __future__ import annotations

import pytest

from web.pages import OWN_PAGE, client


@pytest.mark.parametrize("theme", ["day", "night"])
def test_a_theme_is_kept_by_a_strict_cookie_and_shown(theme: str) -> None:
    pages = client()
    answer = pages.post("/theme", data={"theme": theme, "back": "/"}, headers=OWN_PAGE)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    said = answer.headers["set-cookie"]
    assert said.startswith(f"zonule_theme={theme};")
    assert "SameSite=strict" in said
    assert "HttpOnly" in said
    assert f'<html lang="en-GB" class="{theme}">' in pages.get("/").text


def test_pressed_again_the_screen_is_followed() -> None:
    pages = client()
    assert '<html lang="en-GB">' in pages.get("/").text
    pages.post("/theme", data={"theme": "night"}, headers=OWN_PAGE)
    text = pages.get("/").text
    assert 'id="theme-night" name="theme" value="" aria-pressed="true"' in text
    pages.post("/theme", data={"theme": ""}, headers=OWN_PAGE)
    assert '<html lang="en-GB">' in pages.get("/").text


def test_it_goes_back_to_the_page_it_came_from() -> None:
    pages = client()
    where = "/plan/plain-eye?hand=bag&aim=-0.50"
    assert f'name="back" value="{where.replace("&", "&amp;")}"' in pages.get(where).text
    answer = pages.post("/theme", data={"theme": "day", "back": where}, headers=OWN_PAGE)
    assert answer.headers["location"] == where


@pytest.mark.parametrize(
    "back", ["//an.example", "http://an.example", "/\\an.example", "\\\\an.example", "", "/\nx"]
)
def test_it_never_leads_elsewhere(back: str) -> None:
    answer = client().post("/theme", data={"theme": "day", "back": back}, headers=OWN_PAGE)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")


def test_an_unknown_theme_is_refused_and_a_long_body_too() -> None:
    answer = client().post("/theme", data={"theme": "blue"}, headers=OWN_PAGE)
    assert answer.status_code == 400
    assert "There is no theme" in answer.text
    answer = client().post("/theme", data={"theme": "x" * 5000}, headers=OWN_PAGE)
    assert answer.status_code == 413


def test_a_cookie_of_another_hand_changes_nothing() -> None:
    text = client().get("/", headers={"Cookie": 'zonule_theme="><script>'}).text
    assert '<html lang="en-GB">' in text
