"""Another aim, lens or power, asked by the address or the form."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import quote

import pytest

from web.pages import client
from zonule.pathway.what_if import NOT_TAKEN
from zonule.web.query import Addresses

HARD = "/plan/hard-second-eye"


def _field(text: str, name: str) -> str:
    found = re.search(rf'<input [^>]*name="{name}" value="([^"]*)"', text)
    assert found, name
    return unescape(found[1])


def _chosen(text: str, name: str) -> str:
    inside = re.search(rf'<select id="{name}".*?</select>', text, re.DOTALL)
    assert inside
    found = re.findall(r'<option value="([^"]*)" selected>', inside[0])
    assert len(found) == 1
    return unescape(found[0])


def test_the_form_holds_what_the_plan_was_made_with() -> None:
    text = client().get(HARD).text
    assert (_field(text, "aim"), _field(text, "power")) == ("−0.25", "")
    assert _chosen(text, "rule") == "best_chance"
    assert _chosen(text, "lens") == "three-piece acrylic 13.0"
    assert "As in the files" not in text
    assert NOT_TAKEN not in text


def test_the_form_as_it_stands_asks_for_nothing() -> None:
    asked = "aim=%E2%88%920.25&rule=best_chance&lens=three-piece%20acrylic%2013.0&power=&hand=&was="
    text = client().get(f"{HARD}?{asked}").text
    assert "As in the files" not in text
    assert f'id="sheet" href="{HARD}/sheet.pdf"' in text


def test_an_aim_a_place_and_a_power_are_taken_and_kept_in_every_link() -> None:
    text = client().get(f"{HARD}?aim=-0.50&hand=sulcus_capture&power=%2B21.00").text
    assert _field(text, "aim") == "−0.50"
    assert _field(text, "power") == "+21"
    assert _field(text, "hand") == "sulcus_capture"
    kept = "hand=sulcus_capture&amp;aim=-0.5&amp;power=%2B21"
    assert f'id="sheet" href="{HARD}/sheet.pdf?{kept}"' in text
    assert "As in the files" in text


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("0.5.0", "Aim 0.5.0: a number has one point. Take one of the points out."),
        ("-0,50", "Aim -0,50: a number takes a point, not a comma."),
        ("-1,000.5", "Aim -1,000.5: a number has no comma beside its point."),
        ("-0.5 D", "Aim -0.5 D: a number stands alone. Leave the letters out;"),
        ("half", "Aim half: a number stands alone."),
        ("0.50", "Aim 0.50: must carry its sign. Type −0.50 or +0.50."),
        ("–0.50", "Aim –0.50: this dash is not a minus. Type a plain minus, as in -0.25."),
        ("-25", "Aim -25: must be −6 to 3 D. Check the decimal point: −2.5?"),
        (" -0.5", "Aim  -0.5: must have no space before or after it."),
        ("-", "Aim -: must be −6 to 3 D. Type the number by itself."),
        ("-.5", "Aim -.5: a point has digits on both sides. Write the zero too, as in 0.5."),
        ("--0.5", "Aim --0.5: a number has one sign. Keep one sign, before the digits."),
        ("nan", "Aim nan: a number stands alone."),
        ("-1e0", "Aim -1e0: a number stands alone."),
        ("<b>", "Aim <b>: a number stands alone."),
    ],
)
def test_an_aim_that_cannot_be_meant_is_refused_and_stays_in_the_field(
    typed: str, sentence: str
) -> None:
    before = "aim=-0.75&hand=sulcus_capture"
    answer = client().get(
        f"{HARD}?aim={quote(typed, safe='')}&hand=sulcus_capture&was={quote(before, safe='')}"
    )
    assert answer.status_code == 422
    assert sentence in " ".join(unescape(answer.text).split("\n"))
    assert NOT_TAKEN in answer.text
    assert _field(answer.text, "aim") == typed
    assert 'aria-invalid="true" aria-describedby="refused-aim"' in answer.text
    assert 'id="refused-aim"' in answer.text
    assert "aim −0.75 D" in answer.text, "the plan before"
    assert _field(answer.text, "was") == "hand=sulcus_capture&aim=-0.75"


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("20.50", "Power in hand 20.50: must carry its sign. Type −20.50 or +20.50."),
        ("+20.25", "the store has no three-piece acrylic 13.0 of that power. Nearest: +20.00 and"),
        ("+205", "must be"),
        ("+20.5D", "a number stands alone."),
    ],
)
def test_a_power_that_cannot_be_had_is_refused(typed: str, sentence: str) -> None:
    answer = client().get(f"{HARD}?power={quote(typed, safe='')}")
    assert answer.status_code == 422
    assert sentence in unescape(answer.text)
    assert _field(answer.text, "power") == typed


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ("hand=sulcus_capt", "Place in hand sulcus_capt: is no place a lens may end up."),
        ("hand=sulcus_capt", "Did you mean sulcus_capture?"),
        ("hand=anterior_chamber", "is not open in this plan ("),
        ("hand=anterior_chamber", "Choose one of: In the bag; "),
        ("lens=glass", "Lens for the bag glass: the store has no lens of that name."),
        ("lens=glass", "three-piece acrylic 13.0"),
        ("lens=iris-claw%208.5", "an iris-claw lens does not go there"),
        ("rule=luck", "must be one of best_chance, nearest, asymmetric"),
    ],
)
def test_an_unknown_name_is_told_with_the_names_that_are_known(asked: str, sentence: str) -> None:
    answer = client().get(f"{HARD}?{asked}")
    assert answer.status_code == 422
    assert sentence in unescape(answer.text)
    assert "aim −0.25 D" in answer.text


def test_a_place_that_is_refused_takes_its_power_along() -> None:
    answer = client().get(f"{HARD}?hand=nowhere&power=%2B19.00")
    assert answer.status_code == 422
    assert _field(answer.text, "hand") == ""
    assert f'id="sheet" href="{HARD}/sheet.pdf"' in answer.text


def test_a_plan_before_that_is_itself_wrong_is_not_believed() -> None:
    answer = client().get(f"{HARD}?aim=0.5&was=aim%3D0%2C75")
    assert answer.status_code == 422
    assert "aim −0.25 D" in answer.text


def test_another_place_or_lens_drops_the_power_that_was_of_the_one_before() -> None:
    here = Addresses("eye", {"hand": "bag", "aim": "-0.5", "power": "+20.5"})
    assert here.plan(hand="sulcus_capture") == "/plan/eye?hand=sulcus_capture&aim=-0.5"
    assert here.plan(lens="other") == "/plan/eye?hand=bag&aim=-0.5&lens=other"
    assert here.plan(power=None) == "/plan/eye?hand=bag&aim=-0.5"
    assert here.plan(aim=0.0) == "/plan/eye?hand=bag&aim=%2B0.00&power=%2B20.5"
    assert here.why("a.b") == "/plan/eye/why?path=a.b&hand=bag&aim=-0.5&power=%2B20.5"
