"""Open the cases of a folder: what each is, what makes it hard, and the plan of one by its name.

Only files that lie in the folder are known; a name is looked up among them, so that no name can
reach a file elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Final

from zonule.errors import BadInput, NoSuchName, Problem, Side
from zonule.findings.labels import named
from zonule.findings.records import Case
from zonule.intake.case_file import read_case_file
from zonule.intake.practice_file import read_practice_file, says_practice
from zonule.intake.text import LARGEST_BYTES
from zonule.pathway.plan_an_eye import plan_an_eye, read_files
from zonule.plan.records import Plan
from zonule.practice.records import Practice
from zonule.report.words import dioptres, sentence_case

SAYS_CASE: Final = re.compile(rb"zonule-case-|^\s*(?:eye_to_do\s*=|\[patient\]|\[aim\])", re.M)


@dataclass(frozen=True, slots=True)
class Desk:
    """The folder that is open, or one case of it, and the practice that plans it."""

    folder: Path
    practice_file: Path
    only: str = ""
    """Name of the one case that is open; empty for every case of the folder."""


@dataclass(frozen=True, slots=True)
class CaseLine:
    """One case as a list shows it."""

    name: str
    patient: str = ""
    record_number: str = ""
    side: Side | None = None
    first_or_second: str = ""
    aim: str = ""
    hard: str = ""
    """The findings that make this eye hard, in one line; empty where nothing on record does."""
    withheld: str = ""
    """Why no power is shown; empty when powers are."""
    problems: tuple[Problem, ...] = ()
    """Faults for which the file of the case cannot be read."""


def desk_for(where: Path, practice_file: Path) -> Desk:
    """Return the desk of a folder of cases, or of one case file.

    Raises
    ------
    BadInput
        If there is no such folder and no such file.
    """
    if where.is_dir():
        return Desk(where, practice_file)
    if where.suffix == ".toml" and where.is_file():
        return Desk(where.parent, practice_file, only=where.stem)
    raise BadInput([_no_place_for_cases(where)])


def first_case(where: Path) -> Path:
    """Return the case file that is opened first, for finding the practice file beside it."""
    if not where.is_dir():
        return where
    known = cases_of(Desk(where, where))
    return next(iter(known.values()), where / "case.toml")


def _no_place_for_cases(where: Path) -> Problem:
    there = where.exists()
    return Problem(
        check="no_cases_there",
        field="folder",
        label="Folder or case",
        value=str(where),
        limit="is no TOML file and no folder" if there else "is not there",
        remedy="Name a folder of case files, or one case file that ends in .toml.",
    )


def cases_of(desk: Desk) -> Mapping[str, Path]:
    """Return the case files that are open, by name; a name is the file's without ``.toml``."""
    files = _toml_files(desk.folder)
    if desk.only:
        return {file.stem: file for file in files if file.stem == desk.only}
    return {file.stem: file for file in files if _may_be_case(file)}


def no_cases(desk: Desk) -> tuple[str, ...]:
    """Return the other TOML files of the folder that are no case and no practice."""
    if desk.only:
        return ()
    others = (file for file in _toml_files(desk.folder) if not _may_be_case(file))
    return tuple(file.name for file in others if not says_practice(file))


def open_case(desk: Desk, name: str) -> tuple[Case, Practice]:
    """Return a case by its name, with the practice that plans it.

    Raises
    ------
    NoSuchName
        If no open case has that name.
    BadInput
        With every fault of the case and of the practice file.
    """
    known = cases_of(desk)
    if name not in known:
        raise NoSuchName("case", name, known)
    return read_files(known[name], desk.practice_file)


def practice_faults(desk: Desk) -> tuple[Problem, ...]:
    """Return the faults of the practice file, for which no case can be planned."""
    try:
        read_practice_file(desk.practice_file)
    except BadInput as bad:
        return bad.problems
    return ()


def list_cases(desk: Desk, *, today: date) -> tuple[CaseLine, ...]:
    """Return a line for each open case; one that cannot be read is listed with its faults."""
    practice = _stamp(desk.practice_file)
    return tuple(
        _line(name, file, desk.practice_file, today, (_stamp(file), practice))
        for name, file in cases_of(desk).items()
    )


Stamp = tuple[int, int] | None
"""When a file was changed and how long it is; None while it is not there."""


def _stamp(file: Path) -> Stamp:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


@lru_cache(maxsize=512)
def _line(
    name: str, file: Path, practice_file: Path, today: date, _: tuple[Stamp, Stamp]
) -> CaseLine:
    """Return the line of a case; kept until its file, the practice's or the day changes."""
    try:
        case = read_case_file(file)
    except BadInput as bad:
        return CaseLine(name, problems=bad.problems)
    try:
        practice = read_practice_file(practice_file)
    except BadInput:
        return replace(_about(name, case), withheld="the practice file waits to be mended")
    return line_of(name, plan_an_eye(case, practice, today=today))


def line_of(name: str, plan: Plan) -> CaseLine:
    """Return the line of a case from its plan."""
    return replace(_about(name, plan.case), hard=_hard(plan), withheld=plan.power_withheld)


def _about(name: str, case: Case) -> CaseLine:
    called = case.patient.answer("name")
    return CaseLine(
        name=name,
        patient=called if isinstance(called, str) else "",
        record_number=case.patient.record_number,
        side=case.eye_to_do,
        first_or_second="first eye" if case.fellow_eye.operation is None else "second eye",
        aim=f"aim {dioptres(case.aim.spherical_equivalent_d)}",
    )


def _hard(plan: Plan) -> str:
    """Return the findings of this eye that make rules fire, each once, in the rules' order."""
    of_the_plan = named("sulcus_offered")
    found = dict.fromkeys(says for one in plan.parts.firing() for says in one.because)
    return sentence_case(", ".join(says for says in found if says != of_the_plan))


def _toml_files(folder: Path) -> list[Path]:
    """Return the TOML files that lie in a folder itself; a link out of it is none of them."""
    inside = folder.resolve()
    return [
        file
        for file in sorted(folder.glob("*.toml"))
        if file.is_file() and file.resolve().parent == inside
    ]


def _may_be_case(file: Path) -> bool:
    """Tell whether a file is meant as a case: it has a word of one, or cannot be read as text."""
    if says_practice(file):
        return False
    try:
        with file.open("rb") as data:
            start = data.read(LARGEST_BYTES + 1)
    except OSError:
        return True
    return bool(SAYS_CASE.search(start)) or not start.strip() or b"\0" in start or _no_text(start)


def _no_text(data: bytes) -> bool:
    try:
        data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return True
    return False
