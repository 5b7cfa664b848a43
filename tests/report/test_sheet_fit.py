"""However much there is to say, the sheet is one page, and no likely backup is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plan.cases import case, lens_named, planned, practice
from report.sheets import MADE_AT, page, printed, read, sheet, squeezed, text_of
from zonule.errors import BadInput
from zonule.library.placements import places
from zonule.plan.records import Plan
from zonule.report.sheet.of_plan import sheet_of
from zonule.report.sheet.records import Device, Placed, Sheet, Stage, Words

LONG_NAME = "Bartholomew-Montgomery Featherstonehaugh-Cholmondeley Demo"
LONG_LENS = "three-piece hydrophobic acrylic, long, 13.0"


def _everything_open() -> Plan:
    """Return a plan in which every place that any eye can have is likely, and lens names long."""
    every = tuple(key for key, one in places().items() if not one.property_of)
    named = replace(lens_named("three-piece acrylic 13.0"), name=LONG_LENS)
    others = tuple(one for one in practice().lenses if one.lens_class != "three_piece")
    store = replace(
        practice(),
        repertoire=every,
        lenses=(named, *others),
        preferred_lens=LONG_LENS,
    )
    plan = planned(case("plain-eye"), store)
    return replace(plan, rungs=tuple(replace(one, likelihood=0.02) for one in plan.rungs))


def _sentence(length: int) -> str:
    words = "infusion at its lowest and flow slow until the last piece is out of the bag "
    return (words * (length // len(words) + 1))[:length].strip()


@cache
def worst() -> Sheet:
    told = sheet_of(_everything_open(), made_at=MADE_AT)
    return replace(
        told,
        first=replace(
            told.first,
            name=LONG_NAME,
            allergies="ALLERGIC TO latex, penicillin, sulfonamides, iodine, adhesive dressings",
            allergic=True,
            notices=(_sentence(140), _sentence(140), "And 3 more to be cleared up: see the plan."),
        ),
        different=tuple(_sentence(75) for _ in range(5)),
        not_known=_sentence(220),
        devices=tuple(
            Device(mark, f"Device of a long name {mark}", (1.5, 4.5, 7.5, 10.5), "1:30, 4:30, 7:30")
            for mark in "ABCDEF"
        ),
        machine=tuple(Stage(f"Stage {n}", _sentence(115)) for n in range(9)),
        triggers=tuple(Words(_sentence(42), tuple([_sentence(28)] * 7)) for _ in range(3)),
    )


def _sizes(data: bytes) -> dict[str, float]:
    """Return the size of type in which each piece of text is set, in points."""
    found: dict[str, float] = {}

    def look(text: str, _cm: Any, matrix: Any, _font: Any, size: float) -> None:
        if text.strip():
            found.setdefault(squeezed(text), abs(size * matrix[0]))

    read(data).pages[0].extract_text(visitor_text=look)
    return found


def _likely(told: Sheet) -> Iterator[Placed]:
    return (one for one in told.backups if not one.rare and one.power)


def test_the_worst_case_is_bad_enough() -> None:
    told = worst()
    assert len(list(_likely(told))) >= 9
    assert not any(one.rare for one in told.backups)


def test_the_worst_case_is_one_page_with_every_likely_backup_on_it() -> None:
    data = printed(worst())
    assert len(read(data).pages) == 1
    said = squeezed(text_of(data))
    for one in _likely(worst()):
        after = said.partition(squeezed(one.number + one.place))[2]
        room = len(squeezed(one.power + one.happens_when + "".join(one.notes))) + 10
        assert squeezed(one.power) in after[:room], one.place
    for text in (LONG_NAME, *worst().different, *(one.says for one in worst().machine)):
        assert squeezed(text) in said


def test_the_first_block_never_grows_smaller() -> None:
    plain, hard, full = (
        _sizes(data) for data in (page("plain-eye"), page("hard-second-eye"), printed(worst()))
    )
    eye = worst().first.side.split()[0]
    for word, least in ((eye, 36.0), ("Aim", 20.0), ("likelihood", 15.0)):
        sizes = [
            next(size for text, size in one.items() if squeezed(word) in text)
            for one in (plain, full)
        ]
        assert sizes[0] == pytest.approx(sizes[1]), word
        assert sizes[0] >= least - 0.5, word
    assert max(hard.values()) == pytest.approx(max(full.values()))


def test_rare_and_refused_places_shrink_before_the_likely_ones() -> None:
    told = sheet("hard-second-eye")
    sizes = _sizes(page("hard-second-eye"))
    rare = next(one for one in told.backups if one.rare and one.power)
    likely = next(_likely(told))
    small = next(size for text, size in sizes.items() if squeezed(rare.place)[:18] in text)
    large = next(size for text, size in sizes.items() if squeezed(likely.place)[:14] in text)
    assert small < large


def test_what_cannot_fit_is_refused_and_nothing_is_cut_off() -> None:
    told = worst()
    endless = replace(told, first=replace(told.first, name="Longname " * 400))
    with pytest.raises(BadInput) as refused:
        printed(endless)
    assert str(refused.value) == (
        "Sheet: what it says does not fit one page. Shorten the names in the case and practice "
        "files."
    )


@settings(max_examples=8)
@given(
    lines=st.integers(0, 5),
    stages=st.integers(0, 9),
    devices=st.integers(0, 6),
    likely=st.integers(0, 12),
    length=st.integers(1, 110),
)
def test_any_sheet_is_one_page(
    lines: int, stages: int, devices: int, likely: int, length: int
) -> None:
    told = worst()
    data = printed(
        replace(
            told,
            different=tuple([_sentence(length)] * lines),
            machine=told.machine[:stages],
            devices=told.devices[:devices],
            backups=tuple(replace(one, rare=at >= likely) for at, one in enumerate(told.backups)),
        )
    )
    assert len(read(data).pages) == 1
    said = text_of(data)
    assert all(one.power in said for one in told.backups)
