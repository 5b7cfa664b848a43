"""Sheets for the theatre wall, and their pages read back, for every test of them."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from types import MappingProxyType
from typing import Any, Final

import pypdf

from plan.cases import example
from zonule.findings.records import Patient
from zonule.plan.records import Plan
from zonule.report.sheet.of_plan import sheet_of
from zonule.report.sheet.page import sheet_page
from zonule.report.sheet.records import FirstBlock, Placed, Sheet

MADE_AT: Final = datetime(2026, 11, 25, 10, 40, tzinfo=UTC)
DIOPTRES: Final = re.compile(r"[+−]\d+\.\d\d D")


@cache
def sheet(name: str) -> Sheet:
    return sheet_of(example(name), made_at=MADE_AT)


@cache
def page(name: str) -> bytes:
    return sheet_page(sheet(name), made_at=MADE_AT)


def printed(told: Sheet) -> bytes:
    return sheet_page(told, made_at=MADE_AT)


def read(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data))


def text_of(data: bytes) -> str:
    """Return the text of a page on one line."""
    return " ".join(read(data).pages[0].extract_text().split())


def squeezed(text: str) -> str:
    """Return a text without white space, so that it is found wherever a line was broken."""
    return "".join(text.split())


def in_row(one: Placed) -> list[str]:
    """Return what the row of a backup says; a rare one says less."""
    if not one.power:
        return [one.number, one.place, one.instead, one.chance]
    said = [one.number, one.place, one.power, one.box, one.box_note, one.lens, one.kept]
    said += [one.expected, one.chance, *one.notes]
    return said if one.rare else [*said, one.happens_when, one.band, one.code]


def in_first_block(first: FirstBlock) -> list[str]:
    said = [first.side, first.name, *first.numbers, *first.surgery, first.aim, first.allergies]
    said += [first.no_power, first.no_power_because, *first.notices]
    one = first.intended
    if one is not None:
        said += [one.place, one.power, one.box, one.box_note, one.code, one.lens, one.kept]
        said += [one.expected, one.chance, *(one.notes if one.power else ())]
    return said


def texts_of(told: Sheet) -> list[str]:
    """Return every text that a sheet of usual length puts on the page."""
    said = [*in_first_block(told.first), *told.different, told.different_says]
    said += [told.not_known, told.backups_say]
    said += [text for one in told.backups for text in in_row(one)]
    said += [text for one in told.refused for text in (*one.places, one.reason)]
    said += [text for one in told.devices for text in (one.mark, one.label, one.says)]
    said += [text for one in told.machine for text in (one.name, one.says)]
    said += [text for one in told.triggers for text in (one.name, *one.first)]
    said += [told.devices_say, told.machine_says, told.triggers_say, *told.foot.lines]
    return [text for text in said if text]


def called(plan: Plan, **answers: Any) -> Plan:
    """Return a plan with what is recorded of the patient changed; None takes an answer out."""
    kept = {**plan.case.patient.answers, **answers}
    known = {key: value for key, value in kept.items() if value is not None}
    patient: Patient = replace(plan.case.patient, answers=MappingProxyType(known))
    return replace(plan, case=replace(plan.case, patient=patient))
