"""Numbers as typed: taken as they stand, or refused with a remedy."""

import pytest

from zonule.intake.numbers import number_fault, strict_number


@pytest.mark.parametrize(
    ("text", "number"),
    [("20.50", 20.5), ("+20.50", 20.5), ("-0.25", -0.25), ("\u22120.25", -0.25), ("0", 0.0)],
)
def test_taken(text: str, number: float) -> None:
    assert strict_number(text) == number
    assert number_fault(text) is not None  # asked only of what is refused


@pytest.mark.parametrize(
    ("text", "limit"),
    [
        ("23,9", "a number takes a point, not a comma"),
        ("1,023.9", "a number has no comma beside its point"),
        ("23.9.0", "a number has one point"),
        ("\u20130.25", "this dash is not a minus"),
        ("0\u20140.25", "this dash is not a minus"),
        ("23.9mm", "a number stands alone"),
        ("2O.5", "a number stands alone"),
        ("\u2212\u22120.25", "a number has one sign"),
        ("20_5", "a number is digits only"),
        ("023.9", "a number does not start with a spare zero"),
        (".5", "a point has digits on both sides"),
        ("5.", "a point has digits on both sides"),
        ("1 2", "not a decimal number"),
    ],
)
def test_refused(text: str, limit: str) -> None:
    assert strict_number(text) is None
    fault = number_fault(text)
    assert fault is not None
    assert fault[0] == limit
