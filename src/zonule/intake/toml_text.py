"""Bytes to a TOML document, every syntax fault at once, and where each key stands.

A fault is recorded, its line is blanked, and the rest is parsed again, so that one bad line
hides no other. Bounded: at most :data:`MOST_FAULTS` faults are looked for.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from zonule.intake.numbers import TRUE_MINUS, number_fault

MOST_FAULTS: Final = 50
_LONGEST_STATEMENT: Final = 40
_REPAIR_UP_TO: Final = 200_000
_KEY: Final = re.compile(r"""\s*((?:[\w+\-:]+|"[^"]*"|'[^']*')(?:\s*\.\s*[\w+\-:"']+)*)\s*=(.*)""")
_HEADER: Final = re.compile(r"\s*(\[{1,2})\s*([^\[\]#]+?)\s*(\]{1,2}|$)")
_PASTED_MINUS: Final = re.compile(rf"^(\s*[\w.\-]+\s*=\s*){TRUE_MINUS}(?=[0-9])")
_LIKE_A_DATE: Final = re.compile(r"[0-9]{4}[-/.][0-9]|[0-9]{1,2}[-/.][0-9]{1,2}[-/.][0-9]{2,4}$")
_PARTS: Final = re.compile(r""""[^"]*"|'[^']*'|[^.\s]+""")


@dataclass(frozen=True, slots=True)
class SyntaxFault:
    """One line that is no TOML."""

    path: str
    line: int
    value: str
    limit: str
    remedy: str
    check: str = "cannot_be_read"


@dataclass(frozen=True, slots=True)
class Document:
    """A parsed file: its content, where each key stands, what could not be read."""

    content: Mapping[str, Any]
    lines: Mapping[str, int]
    written: Mapping[str, str]
    """The value of each key as it stands in the file."""
    faults: tuple[SyntaxFault, ...] = field(default=())

    def line(self, path: str) -> int | None:
        """Return the line of a path, or of the nearest thing that holds it."""
        while path and path not in self.lines:
            path = re.sub(r"(\[\d+\]|\.[^.\[]+|^[^.\[]+)$", "", path)
        return self.lines.get(path)

    def failed(self, path: str) -> bool:
        """Tell whether this path already has a syntax fault."""
        return any(fault.path == path for fault in self.faults)


def parse(text: str) -> Document:
    r"""Parse a text, telling every fault.

    Examples
    --------
    >>> found = parse('[aim]\nspherical_equivalent_d = 0,25\nrule = "nearest"')
    >>> found.content["aim"]
    {'rule': 'nearest'}
    >>> found.faults[0].path, found.faults[0].line
    ('aim.spherical_equivalent_d', 2)
    """
    lines = text.replace("\r\n", "\n").split("\n")
    faults: list[SyntaxFault] = []
    blanked: set[int] = set()
    content, wrong = _attempt(lines)
    for _ in range(4 * MOST_FAULTS):
        if wrong is None or len(faults) >= MOST_FAULTS or len(text) > _REPAIR_UP_TO:
            break
        _set_aside(lines, wrong, faults, blanked)
        content, wrong = _attempt(lines)
    if wrong is not None:
        faults.append(_last_fault(wrong))
    places, written = _places(lines)
    places = {fault.path: fault.line for fault in faults if fault.path} | places
    return Document(content=content, lines=places, written=written, faults=tuple(faults))


def _attempt(lines: list[str]) -> tuple[dict[str, Any], tuple[int, str] | None]:
    """Return the content, or the place (from 0) and wording of the first fault."""
    try:
        return tomllib.loads("\n".join(lines)), None
    except RecursionError:
        return {}, (0, "nested too deeply")
    except ValueError as fault:
        place = re.search(r"at line (\d+)", str(fault))
        last = len(lines)
        return {}, (min(int(place[1]) if place else last, last) - 1, str(fault))


def _last_fault(wrong: tuple[int, str]) -> SyntaxFault:
    return SyntaxFault(
        path="",
        line=wrong[0] + 1,
        value="",
        limit="cannot be read from here on",
        remedy="Mend what is told, then read the file again.",
    )


def _set_aside(
    lines: list[str], wrong: tuple[int, str], faults: list[SyntaxFault], blanked: set[int]
) -> None:
    """Record the fault, and blank its line or mend what the contract lets be mended."""
    start = _start_of_statement(lines, wrong[0])
    mended = _PASTED_MINUS.sub(r"\1-", lines[start])
    if mended != lines[start]:
        lines[start] = mended
        return
    fault = _describe(lines, start, wrong[1])
    if start - 1 not in blanked or _KEY.match(lines[start]) or _HEADER.match(lines[start]):
        faults.append(fault)
    blanked.add(start)
    if _HEADER.match(lines[start]) and not _KEY.match(lines[start]):
        _set_header_aside(lines, start)
    else:
        lines[start] = ""


def _start_of_statement(lines: list[str], at: int) -> int:
    """Return the line on which the faulty statement starts: all before it parses alone."""
    at = min(at, len(lines) - 1)
    for start in range(at, max(at - _LONGEST_STATEMENT, -1), -1):
        if lines[start].strip() and _attempt(lines[:start])[1] is None:
            return start
    first = max(at - _LONGEST_STATEMENT, 0)
    return next((n for n in range(at, first - 1, -1) if lines[n].strip()), at)


def _set_header_aside(lines: list[str], start: int) -> None:
    """Close an open header; blank a section that cannot be told from another."""
    found = _HEADER.match(lines[start])
    assert found is not None
    whole = f"{found[1]}{found[2]}{']' * len(found[1])}"
    before = _attempt([*lines[:start], whole])[1]
    if before is None and lines[start].strip() != whole:
        lines[start] = whole
        return
    lines[start] = ""
    for number in range(start + 1, len(lines)):
        if _HEADER.match(lines[number]) and not _KEY.match(lines[number]):
            return
        lines[number] = ""


def _describe(lines: list[str], start: int, wording: str) -> SyntaxFault:
    line = lines[start]
    path = next((name for number, name, _ in _statements(lines) if number == start + 1), "")
    found = _KEY.match(line)
    raw = _without_comment(found[2]) if found else line.strip()
    if re.search(r"[Oo]verwrite|[Dd]eclare|[Mm]utate|[Rr]edefine", wording):
        limit, remedy, check = "stands twice in the file", "Keep one of them.", "set_twice"
    else:
        limit, remedy = _syntax_remedy(raw, is_value=found is not None)
        check = "cannot_be_read"
    return SyntaxFault(path, start + 1, _short(raw), limit, remedy, check)


def _syntax_remedy(raw: str, *, is_value: bool) -> tuple[str, str]:
    if not is_value:
        return "this line cannot be read", "Write key = value, or [section]."
    if not raw:
        return "nothing stands after the equals sign", "Type the value, or delete the line."
    if _LIKE_A_DATE.match(raw):
        return "must be a day of the calendar", "Type year-month-day, such as 2026-11-02."
    if fault := number_fault(raw):
        return fault
    for shape, fault in _VALUE_SHAPES:
        if re.match(shape, raw):
            return fault
    return "this value cannot be read", "Type a number, true, false, or text in quotation marks."


_VALUE_SHAPES: Final = (
    (
        "[\u201c\u201d\u2018\u2019\u00ab\u00bb]",
        ("these are not plain quotation marks", 'Type plain ones: ".'),
    ),
    (
        r"(?i)(true|false|yes|no)$",
        ("yes and no are written true and false", "Type true or false in small letters."),
    ),
    (r"[^\W\d][\w \-.]*$", ("text stands in quotation marks", 'Put it between plain ".')),
    (r"[\"']", ("the quotation marks do not match", "Close them at the end of the text.")),
    (
        r"[\[{]",
        ("the bracket is not closed", "Close it, and put commas between the items."),
    ),
)


def _without_comment(raw: str) -> str:
    return re.sub(r"""\s+#.*$""", "", raw).strip()


def _short(text: str) -> str:
    clean = "".join(sign if sign.isprintable() else "\ufffd" for sign in text)
    return clean if len(clean) <= 40 else clean[:39] + "…"


def _statements(lines: list[str]) -> Iterator[tuple[int, str, str | None]]:
    """Yield line, path and raw value (None for a header) of everything that has a name."""
    counts: dict[str, int] = {}
    here = ""
    for number, line in enumerate(lines, start=1):
        if found := _KEY.match(line):
            key = ".".join(_key_parts(found[1]))
            yield number, f"{here}.{key}" if here else key, _without_comment(found[2])
        elif found := _HEADER.match(line):
            here = _header_path(found, counts)
            yield number, here, None


def _places(lines: list[str]) -> tuple[dict[str, int], dict[str, str]]:
    """Return the line of every path, and each key's value as it stands."""
    places: dict[str, int] = {}
    written: dict[str, str] = {}
    for number, path, raw in _statements(lines):
        places.setdefault(path, number)
        if raw is not None:
            written.setdefault(path, raw)
    return places, written


def _key_parts(key: str) -> list[str]:
    return [part.strip("\"'") for part in _PARTS.findall(key)]


def _header_path(found: re.Match[str], counts: dict[str, int]) -> str:
    parts = _key_parts(found[2])
    path = ""
    for position, part in enumerate(parts):
        path = f"{path}.{part}" if path else part
        last = position == len(parts) - 1
        if last and len(found[1]) == 2:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = f"{path}[{counts[path]}]"
    return path
