"""The sheet as a page: one A4 PDF, tagged, its fonts inside, the same bytes for the same sheet."""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import typst

from zonule.errors import BadInput, Problem
from zonule.report.sheet.records import Sheet

HERE: Final = Path(__file__).parent
FONTS: Final = HERE.parent / "fonts"
_NO_GLYPH: Final = re.compile(r'the text `"(.+?)"` could not be displayed')
_TOO_MUCH: Final = "the sheet does not fit one page"


def sheet_page(sheet: Sheet, *, made_at: datetime) -> bytes:
    """Return the sheet as PDF.

    Parameters
    ----------
    sheet
        What it says.
    made_at
        The instant it is made, written into the file's own data.

    Raises
    ------
    BadInput
        If a character of it is in none of the fonts, or if it is too much for one page.
    """
    try:
        made = typst.compile(
            HERE / "sheet.typ",
            root=HERE,
            font_paths=[FONTS],
            ignore_system_fonts=True,
            sys_inputs={"sheet": json.dumps(asdict(sheet), ensure_ascii=False)},
            format="pdf",
            pdf_standards="ua-1",
            timestamp=made_at.astimezone(UTC).replace(microsecond=0),
        )
    except typst.TypstError as fault:
        raise _told(fault) from fault
    assert isinstance(made, bytes)
    return made


def _told(fault: typst.TypstError) -> Exception:
    """Return what is wrong with the sheet in words; anything else stays as it is."""
    lost = "".join(dict.fromkeys(_NO_GLYPH.findall(fault.diagnostic)))
    if lost:
        return _problem(
            "unprintable_text",
            lost,
            "is in none of the fonts of the sheet",
            "Write it in Latin, Greek or Cyrillic letters, as on the wristband.",
        )
    if _TOO_MUCH in fault.diagnostic:
        return _problem(
            "sheet_too_long",
            "",
            "what it says does not fit one page",
            "Shorten the names in the case and practice files.",
        )
    return fault


def _problem(check: str, value: str, limit: str, remedy: str) -> BadInput:
    return BadInput(
        [
            Problem(
                check=check,
                field="sheet",
                label="Sheet",
                value=value,
                limit=limit,
                remedy=remedy,
            )
        ]
    )
