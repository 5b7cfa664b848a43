"""The page of the sheet: read back, it says what the record says, and nothing else."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import numpy as np
import pypdfium2  # type: ignore[import-untyped]
import pytest
from numpy.typing import NDArray

from plan.cases import NAMES, case, example, planned, with_biometry
from report.sheets import (
    DIOPTRES,
    MADE_AT,
    called,
    in_row,
    page,
    printed,
    read,
    sheet,
    squeezed,
    text_of,
    texts_of,
)
from zonule.errors import BadInput
from zonule.pathway.print_a_sheet import sheet_pdf
from zonule.plan.parts import Step
from zonule.report.sheet.foot import code_of
from zonule.report.sheet.of_plan import sheet_of

HARD = "hard-second-eye"
A4_POINTS = (595.28, 841.89)
MARGIN_MM, CODE_MM, PAGE_MM = 8.0, 18.0, (210.0, 297.0)


def _picture(data: bytes, dots_per_mm: float = 8.0) -> NDArray[np.uint8]:
    """Return a page as rows of red, green and blue."""
    drawn: Any = pypdfium2.PdfDocument(data)[0].render(scale=dots_per_mm * 25.4 / 72.0)
    found: NDArray[np.uint8] = np.array(drawn.to_numpy())[:, :, :3]
    return found


def _fonts(found: Any) -> list[Any]:
    """Return every font of every page, with the fonts within."""
    told = []
    for one in found.pages:
        for font in one["/Resources"]["/Font"].values():
            whole = font.get_object()
            within = whole.get("/DescendantFonts", [whole])
            told += [part.get_object() for part in within]
    return told


@pytest.mark.parametrize("name", NAMES)
def test_it_is_one_a4_page_tagged_with_title_and_language(name: str) -> None:
    found = read(page(name))
    assert len(found.pages) == 1
    width, height = (float(one) for one in found.pages[0].mediabox.upper_right)
    assert (width, height) == pytest.approx(A4_POINTS, abs=0.01)
    root: Any = found.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en-GB"
    assert found.metadata is not None
    assert found.metadata.title == sheet(name).title
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


@pytest.mark.parametrize("name", NAMES)
def test_every_font_is_inside(name: str) -> None:
    fonts = _fonts(read(page(name)))
    assert len(fonts) >= 2
    for font in fonts:
        inside = font["/FontDescriptor"].get_object()
        assert any(key.startswith("/FontFile") for key in inside), font["/BaseFont"]
    assert all("AtkinsonHyperlegibleNext" in font["/BaseFont"] for font in fonts)


@pytest.mark.parametrize("name", NAMES)
def test_every_word_of_the_record_is_on_the_page(name: str) -> None:
    said = squeezed(text_of(page(name)))
    told = texts_of(sheet(name))
    assert len(told) > 90
    assert [one for one in told if squeezed(one) not in said] == []


@pytest.mark.parametrize("name", NAMES)
def test_power_box_and_lens_stand_in_the_row_of_their_place(name: str) -> None:
    told, said = sheet(name), squeezed(text_of(page(name)))
    for one in told.backups:
        _, place, row = said.partition(squeezed(one.number + one.place))
        assert place
        row = row[: len(squeezed("".join(in_row(one))))]
        assert squeezed(one.power + one.box) in row
        assert squeezed(one.lens) in row


@pytest.mark.parametrize("name", NAMES)
def test_every_dioptre_on_the_page_is_one_of_the_record(name: str) -> None:
    told = sheet(name)
    lines = [one for one in (told.first.intended, *told.backups) if one is not None]
    wanted = Counter([told.first.aim])
    for one in lines:
        wanted.update(part for part in (one.power, one.expected) if part)
    found = Counter(DIOPTRES.findall(text_of(page(name))))
    sayings = [note for one in lines for note in one.notes]
    sayings += [*told.first.notices, *(one.reason for one in told.refused)]
    in_sayings = Counter(part for text in sayings for part in DIOPTRES.findall(text))
    assert wanted <= found
    assert found - wanted <= in_sayings


def test_the_other_eyes_power_is_nowhere_on_the_page() -> None:
    whole = case(HARD)
    operation = whole.right.operation
    assert operation is not None
    other = replace(whole.right, operation=replace(operation, lens_power_d=26.5))
    said = text_of(printed(sheet_of(planned(replace(whole, right=other)), made_at=MADE_AT)))
    assert "LEFT EYE" in said
    assert "RIGHT" not in said
    assert "26.5" not in said


def test_the_same_sheet_is_the_same_bytes() -> None:
    assert sheet_pdf(example(HARD), made_at=MADE_AT) == page(HARD)
    assert printed(sheet(HARD)) == page(HARD)


def test_a_power_withheld_is_said_and_no_power_is_on_the_page() -> None:
    plan = planned(with_biometry(case("plain-eye"), measured_as="aphakic"))
    said = text_of(sheet_pdf(plan, made_at=MADE_AT))
    assert "NO LENS POWER" in said
    assert DIOPTRES.findall(said) == ["−0.25 D"], "the aim alone"


def test_it_is_black_on_white_with_nothing_in_colour() -> None:
    drawn = _picture(page(HARD), 4.0).astype(int)
    assert (drawn.max(axis=2) - drawn.min(axis=2)).max() <= 2
    grey, side = drawn[:, :, 0], 24
    rows, columns = (size // side for size in grey.shape)
    patches = grey[: rows * side, : columns * side].reshape(rows, side, columns, side)
    assert patches.mean(axis=(1, 3)).min() > 60.0, "no patch of 6 mm is filled dark"


@pytest.mark.parametrize("name", [HARD, "plain-eye"])
def test_the_code_drawn_is_the_code_of_the_payload(name: str) -> None:
    per_mm = 16.0
    drawn = _picture(page(name), per_mm)[:, :, 0]
    wanted = np.array(
        [list(row) for row in code_of(sheet(name).foot.payload).matrix_iter(scale=1, border=4)]
    )
    modules = len(wanted)
    edge_x = (PAGE_MM[0] - MARGIN_MM - CODE_MM) * per_mm
    edge_y = (PAGE_MM[1] - MARGIN_MM - CODE_MM) * per_mm
    middles = (np.arange(modules) + 0.5) * CODE_MM * per_mm / modules
    columns, rows = (edge_x + middles).round().astype(int), (edge_y + middles).round().astype(int)
    found = drawn[np.ix_(rows, columns)] < 128
    assert wanted.any()
    assert (found == (wanted != 0)).all()


def _where(data: bytes, words: set[str]) -> dict[str, tuple[float, float]]:
    """Return where each word of a page stands, across and up, in points."""
    found: dict[str, tuple[float, float]] = {}

    def look(text: str, current: Any, matrix: Any, _font: Any, _size: float) -> None:
        if text.strip() in words:
            across = matrix[4] * current[0] + matrix[5] * current[2] + current[4]
            up = matrix[4] * current[1] + matrix[5] * current[3] + current[5]
            found.setdefault(text.strip(), (across, up))

    read(data).pages[0].extract_text(visitor_text=look)
    return found


@pytest.mark.parametrize("name", [HARD, "plain-eye"])
def test_the_clock_face_is_that_of_an_examiner_facing_the_patient(name: str) -> None:
    plan = example(name)
    hours = (("At three", 3.0), ("At twelve", 12.0), ("At six", 6.0))
    step = Step("pupil", 1, "Pupil", "", (), hours)
    told = sheet_of(replace(plan, parts=replace(plan.parts, steps=(step,))), made_at=MADE_AT)
    at = _where(printed(told), {"A", "B", "C", "temporal", "nasal"})
    assert at["A"][0] > at["B"][0] + 20.0
    assert at["B"][0] == pytest.approx(at["C"][0], abs=3.0)
    assert at["B"][1] > at["A"][1] + 20.0 > at["C"][1] + 40.0, "twelve, three, six downwards"
    left_eye = plan.case.eye_to_do == "left"
    assert (at["temporal"][0] > at["nasal"][0]) == left_eye


def test_names_in_other_letters_are_printed_and_those_without_a_font_are_refused() -> None:
    greek = called(example(HARD), name="Ελένη Жукова")
    data = sheet_pdf(greek, made_at=MADE_AT)
    assert "ΕλένηЖукова" in squeezed(text_of(data))
    assert all(
        any(key.startswith("/FontFile") for key in font["/FontDescriptor"].get_object())
        for font in _fonts(read(data))
    )
    with pytest.raises(BadInput) as refused:
        sheet_pdf(called(example(HARD), name="猫 Demo"), made_at=MADE_AT)
    assert str(refused.value) == (
        "Sheet 猫: is in none of the fonts of the sheet. Write it in Latin, Greek or Cyrillic "
        "letters, as on the wristband."
    )


@pytest.mark.parametrize(
    "name", ["#panic()", "*bold* _x_ $y$ <z> @w", "= no heading", "\\", '"quoted"', "//x"]
)
def test_a_name_is_text_and_never_markup(name: str) -> None:
    said = text_of(sheet_pdf(called(example(HARD), name=name), made_at=MADE_AT))
    assert squeezed(name) in squeezed(said)
