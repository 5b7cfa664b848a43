"""How numbers, days and chances are written for a person."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.report.words import age_on, day, dioptres, kept, of_100, sentence_case, signed, span

REFRACTIONS = st.floats(-60.0, 60.0)
MINUS = "\N{MINUS SIGN}"


@given(REFRACTIONS)
def test_powers_carry_a_sign_two_decimals_a_true_minus_and_a_unit(value: float) -> None:
    written = dioptres(value)
    assert re.fullmatch(rf"[+{MINUS}]\d+\.\d\d D", written)
    assert float(written.removesuffix(" D").replace(MINUS, "-")) == pytest.approx(
        value, abs=0.005 + 1e-9
    )


@given(REFRACTIONS)
def test_nothing_is_ever_minus_nought(value: float) -> None:
    assert signed(value) != f"{MINUS}0.00"
    assert signed(value / 1e6, decimals=1) == "+0.0"


@given(REFRACTIONS, st.integers(0, 3))
def test_a_hyphen_never_stands_for_a_minus(value: float, decimals: int) -> None:
    assert "-" not in signed(value, decimals=decimals)


@given(REFRACTIONS, REFRACTIONS)
def test_a_band_is_both_ends_in_order(low: float, high: float) -> None:
    assert span(low, high) == f"{signed(low)} to {signed(high)}"


@given(st.floats(0.0, 1.0))
def test_a_chance_is_people_of_a_hundred_never_none_and_never_all(chance: float) -> None:
    written = of_100(chance)
    match = re.fullmatch(r"(fewer than |more than |)(\d+) of 100", written)
    assert match
    assert 1 <= int(match[2]) <= 99
    assert (match[1] == "fewer than ") is (chance < 0.01)
    assert (match[1] == "more than ") is (chance > 0.99)


@pytest.mark.parametrize(
    ("chance", "written"),
    [
        (0.0, "fewer than 1 of 100"),
        (0.00999, "fewer than 1 of 100"),
        (0.01, "1 of 100"),
        (0.5, "50 of 100"),
        (0.99, "99 of 100"),
        (0.9901, "more than 99 of 100"),
        (1.0, "more than 99 of 100"),
    ],
)
def test_the_ends_of_the_hundred(chance: float, written: str) -> None:
    assert of_100(chance) == written


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (date(2026, 12, 10), "10 December 2026"),
        (date(2026, 1, 1), "1 January 2026"),
        (date(1946, 5, 2), "2 May 1946"),
    ],
)
def test_days_are_written_out_so_that_no_month_is_taken_for_a_day(
    value: date, written: str
) -> None:
    assert day(value) == written


@pytest.mark.parametrize(
    ("born", "on", "age"),
    [
        (date(1946, 5, 2), date(2026, 5, 1), 79),
        (date(1946, 5, 2), date(2026, 5, 2), 80),
        (date(1948, 2, 29), date(2026, 2, 28), 77),
        (date(1948, 2, 29), date(2026, 3, 1), 78),
    ],
)
def test_age_turns_on_the_birthday(born: date, on: date, age: int) -> None:
    assert age_on(born, on) == age


def test_where_a_lens_is_kept_is_said_in_the_words_of_the_trade() -> None:
    assert [kept(one) for one in ("in_room", "to_fetch", "to_order")] == [
        "in the room, sealed",
        "to fetch",
        "to order",
    ]


@given(st.text())
def test_sentence_case_touches_the_first_letter_only(text: str) -> None:
    assert sentence_case(text)[len(text[:1].upper()) :] == text[1:]
