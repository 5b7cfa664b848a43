"""Lengths judged with refractions: true anisometropes pass, gross entry errors do not.

The pairs are real (half of a public data set, see tests/data); the errors are injected.
"""

from __future__ import annotations

import pytest

from findings.papila import Measured, case, pairs
from zonule.findings.checks import check_case, interruptions
from zonule.findings.checks.unequal_lengths import unusual_from_mm
from zonule.findings.records import Case

TRUE_ANISOMETROPES = ("186", "056", "114", "232", "018")
Known = tuple[float, float]


def _known(measured: Measured) -> Known | None:
    length, refraction = measured
    return None if length is None or refraction is None else (length, refraction)


def _complete() -> dict[str, tuple[Known, Known]]:
    found: dict[str, tuple[Known, Known]] = {}
    for who, (one, other) in pairs().items():
        right, left = _known(one), _known(other)
        if right is not None and left is not None:
            found[who] = right, left
    return found


COMPLETE = _complete()


def loudest(one: Case) -> str:
    found = [problem.severity for problem in check_case(one)]
    return next((word for word in ("block", "confirm", "warn") if word in found), "none")


def slips(length_mm: float, other_mm: float) -> dict[str, float]:
    """Return wrong lengths of 2 mm and more that a pen makes of a right one."""
    text = f"{length_mm:05.2f}"
    made = {f"{by:+d} mm": length_mm + by for by in (-10, -5, -3, -2, 2, 3, 5, 10)}
    made["first two digits exchanged"] = float(text[1] + text[0] + text[2:])
    made["second and third exchanged"] = float(text[0] + text[3] + text[2] + text[1] + text[4])
    made["other eye copied"] = other_mm
    return {
        name: round(wrong, 2)
        for name, wrong in made.items()
        if 15 <= wrong <= 40 and abs(wrong - length_mm) >= 1.995
    }


def injected() -> list[tuple[str, float, Case]]:
    found: list[tuple[str, float, Case]] = []
    for right, left in COMPLETE.values():
        for name, wrong in slips(right[0], left[0]).items():
            found.append((name, abs(wrong - right[0]), case((wrong, right[1]), left)))
        for name, wrong in slips(left[0], right[0]).items():
            found.append((name, abs(wrong - left[0]), case(right, (wrong, left[1]))))
    return found


def test_no_true_pair_is_blocked_and_few_are_asked_about() -> None:
    assert len(COMPLETE) > 100
    verdicts = [loudest(case(*pair)) for pair in COMPLETE.values()]
    assert verdicts.count("block") == 0
    assert verdicts.count("confirm") / len(verdicts) <= 0.04
    assert verdicts.count("warn") / len(verdicts) <= 0.04


def test_no_pair_meets_more_than_one_interruption() -> None:
    for pair in pairs().values():
        assert len(interruptions(check_case(case(*pair)))) <= 1


@pytest.mark.parametrize("who", TRUE_ANISOMETROPES)
def test_true_anisometropes_pass(who: str) -> None:
    assert loudest(case(*COMPLETE[who])) == "none"


def test_refractions_apart_at_equal_length_are_read_back() -> None:
    assert [one.check for one in interruptions(check_case(case(*COMPLETE["266"])))] == [
        "refractions_differ_at_equal_length"
    ]


def test_a_difference_the_refractions_do_not_bear_out_is_looked_at_again() -> None:
    assert [one.check for one in interruptions(check_case(case(*COMPLETE["216"])))] == [
        "lengths_look_again"
    ]


def test_gross_errors_are_caught() -> None:
    """At least 98 of 100 errors of 2 mm and more are caught; 95 of 100 from 3 mm are blocked."""
    found = [(size, loudest(one)) for _, size, one in injected()]
    assert len(found) > 1000
    caught = [verdict in ("block", "confirm") for _, verdict in found]
    assert sum(caught) / len(caught) >= 0.98
    blocked = [verdict == "block" for size, verdict in found if size >= 3.0 - 1e-6]
    assert sum(blocked) / len(blocked) >= 0.95


def test_a_gross_error_hides_the_power() -> None:
    [problem] = interruptions(check_case(case((28.5, 0.25), (23.6, 0.5))))
    assert (problem.severity, problem.stops) == ("block", "power")
    assert problem.sentence() == (
        "Axial length, right eye 28.50 mm: 4.90 mm longer than the other eye, yet the old "
        "refractions differ by 0.25 D; 11.02 D remain that no cataract explains. Check both "
        "lengths and refractions on the print, or say why under difference_explained."
    )


def test_an_explanation_turns_the_block_into_a_mark() -> None:
    explained = case((23.6, 0.5), (28.5, 0.25), explained="staphyloma on ultrasound")
    assert not interruptions(check_case(explained))
    mark = next(one for one in check_case(explained) if "lengths" in one.check)
    assert (mark.check, mark.severity) == ("lengths_explained_in_words", "mark")
    assert "staphyloma on ultrasound" in mark.limit


def test_exchanged_eyes_are_named() -> None:
    right, left = COMPLETE["186"]
    [problem] = interruptions(check_case(case((left[0], right[1]), (right[0], left[1]))))
    assert problem.severity == "block"
    assert problem.remedy.endswith("They would fit if right and left were exchanged.")


def test_a_dense_nucleus_explains_more_and_a_clear_one_less() -> None:
    right, left = (24.0, 0.0), (22.5, -2.0)
    assert loudest(case(right, left)) == "block"
    assert loudest(case(right, left, locs_no=5.5)) == "confirm"
    assert loudest(case((24.0, 0.0), (22.6, 0.0), locs_no=2.0)) == "block"
    assert loudest(case((24.0, 0.0), (22.6, 0.0))) == "confirm"


def test_without_refractions_a_large_difference_is_asked_about() -> None:
    assert loudest(case((23.5, None), (24.0, None))) == "none"
    assert loudest(case((23.5, None), (24.4, None))) == "warn"
    assert loudest(case((23.5, None), (26.0, None))) == "confirm"
    assert loudest(case((23.5, None), (28.5, None))) == "block"


def test_long_eyes_may_differ_more() -> None:
    assert unusual_from_mm(22.0) == 0.7
    assert unusual_from_mm(25.0) == 0.7
    assert unusual_from_mm(28.0) == 2.0
    assert unusual_from_mm(31.0) == 2.0
