"""A need that is broken, on purpose or by a slip, does not pass unseen."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest
from benchmarks.state_engine import faults

from zonule.plan.states.space import space_of
from zonule.plan.states.tables import read_raw, tables_of

Raw = dict[str, dict[str, Any]]


def _way(raw: Raw, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in raw["needs"]["way"] if one["id"] == name)
    return found


def _row(raw: Raw, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in raw["priorities"]["row"] if one["id"] == name)
    return found


def without(way: str, finding: str) -> Callable[[Raw], None]:
    """Return a change that takes a condition out of a way."""

    def change(raw: Raw) -> None:
        row = _way(raw, way)
        kept = [text for text in row["when_all"] if not text.startswith(finding)]
        assert len(kept) == len(row["when_all"]) - 1
        row["when_all"] = kept

    return change


def row_without(row_id: str, finding: str) -> Callable[[Raw], None]:
    """Return a change that takes a condition out of a row."""

    def change(raw: Raw) -> None:
        row = _row(raw, row_id)
        kept = [text for text in row["when_all"] if not text.startswith(finding)]
        assert len(kept) == len(row["when_all"]) - 1
        row["when_all"] = kept

    return change


def first_gone(placement: str, step: str) -> Callable[[Raw], None]:
    """Return a change that takes a step away from a place."""

    def change(raw: Raw) -> None:
        rows = raw["steps"]["first"]
        kept = [one for one in rows if (one["placement"], one["step"]) != (placement, step)]
        assert len(kept) < len(rows)
        raw["steps"]["first"] = kept

    return change


def wider(way: str, old: str, new: str) -> Callable[[Raw], None]:
    """Return a change that lets a way hold of one more answer."""

    def change(raw: Raw) -> None:
        row = _way(raw, way)
        assert old in row["when_all"]
        row["when_all"] = [new if text == old else text for text in row["when_all"]]

    return change


def listed(row_id: str, placement: str) -> Callable[[Raw], None]:
    """Return a change that lists a place where it does not belong."""

    def change(raw: Raw) -> None:
        _row(raw, row_id)["order"].append(placement)

    return change


def unsafe(raw: Raw) -> None:
    raw["needs"]["all_lenses"]["when_all"] = []
    raw["inputs"]["moot"] = [one for one in raw["inputs"]["moot"] if one["id"] != "M-01"]


def gives_nothing(raw: Raw) -> None:
    step = next(one for one in raw["steps"]["step"] if one["id"] == "clear_vitreous")
    step["gives"] = {"vitreous": "at_tear"}


BROKEN: dict[str, tuple[Callable[[Raw], None], str]] = {
    "bag.whole without the capsule": (without("bag.whole", "posterior_capsule"), "bag over"),
    "bag.ring without its limit": (without("bag.ring", "gap_hours"), "bag"),
    "posterior capture with vitreous": (
        without("bag_posterior_capture.round", "vitreous"),
        "posterior capture",
    ),
    "anchored bag with a torn rim": (without("bag_anchored.whole", "rhexis"), "anchored"),
    "sulcus without a rim": (without("sulcus_three_piece.rim", "usable_rim"), "sulcus with"),
    "sulcus behind any gap": (without("sulcus_three_piece.rim", "gap_hours"), "sulcus with"),
    "capture in a loose opening": (
        without("sulcus_capture.fits", "capsule_opening_fit"),
        "capture in an edge",
    ),
    "capture behind any gap": (without("sulcus_capture.fits", "gap_hours"), "capture over"),
    "optic forward before the lens is in": (
        without("reverse_capture.lens_in", "lens_in_eye"),
        "optic forward",
    ),
    "fixation with a whole bag": (
        lambda raw: (
            wider(
                "scleral.gap",
                "gap_hours in ['up_to_3','up_to_4','up_to_7','over_7']",
                "gap_hours in ['0','up_to_3','up_to_4','up_to_7','over_7']",
            )(raw),
            listed("P-03", "scleral")(raw),
        )[0],
        "fixation while",
    ),
    "loose sulcus in front of a whole bag": (
        listed("P-04", "sulcus_three_piece"),
        "loose sulcus",
    ),
    "bag before vitreous is cleared": (first_gone("bag", "clear_vitreous"), "before vitreous"),
    "bag without its ring": (first_gone("bag", "ring_put_in"), "no ring"),
    "sulcus without the lens held": (
        first_gone("sulcus_three_piece", "lens_held"),
        "nobody holds",
    ),
    "scleral without giving up the bag": (first_gone("scleral", "bag_out"), "given up"),
    "two rows for one state": (row_without("P-09", "lens_in_eye"), "2 rows"),
    "a lens in an eye that is not safe": (unsafe, "not safe"),
    "a step that does not do what it should": (gives_nothing, "not offered, ready"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_need_is_caught(name: str) -> None:
    change, expected = BROKEN[name]
    raw = deepcopy(read_raw())
    change(raw)
    found = faults(space_of(tables_of(raw)))
    assert any(expected in one for one in found), found[:3]


def test_a_state_without_a_row_is_caught() -> None:
    raw = deepcopy(read_raw())
    raw["priorities"]["row"] = [one for one in raw["priorities"]["row"] if one["id"] != "P-13"]
    assert faults(space_of(tables_of(raw)))[0].startswith("0 rows")


def test_the_tables_as_they_ship_are_whole() -> None:
    assert faults(space_of(tables_of(deepcopy(read_raw())))) == []
