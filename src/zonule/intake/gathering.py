"""Walks a document section by section and gathers every problem on the way."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import Any

from zonule.errors import BadInput, Problem, Side
from zonule.findings.answers import Answer
from zonule.findings.fields import Field, Which, derived_names, sections, shown
from zonule.intake.toml_text import Document
from zonule.intake.values import Refused, read

_INDEX = re.compile(r"\[\d+\]")
_SIDE_IN_PATH = re.compile(r"^(right|left)(?=$|[.\[])")


@dataclass(slots=True)
class Gathering:
    """One reading of one file: its document and what has been found wrong so far."""

    which: Which
    document: Document
    problems: list[Problem] = field(default_factory=list)

    def tell(
        self, path: str, label: str, limit: str, remedy: str, *, check: str, value: str = ""
    ) -> None:
        """Add one problem, with its line and the side it concerns."""
        found = _SIDE_IN_PATH.match(path)
        eye: Side | None = None if not found else "right" if found[1] == "right" else "left"
        self.problems.append(
            Problem(
                check=check,
                field=path,
                label=f"{label}, {eye} eye" if eye else label,
                value=value[:120],
                limit=limit,
                remedy=remedy,
                stops="power",
                eye=eye,
                line=self.document.line(path),
            )
        )

    def table(self, holder: Mapping[str, Any], key: str, path: str) -> Mapping[str, Any] | None:
        """Return a sub-table, or None if it is not there; anything else is told."""
        raw = holder.get(key)
        if raw is None:
            return None
        if isinstance(raw, dict):
            return raw
        remedy = f"Write [{path}] once, and its keys below."
        self.tell(path, _spoken(key), "must be one section", remedy, check="wrong_value")
        return {}

    def tables(self, holder: Mapping[str, Any], key: str, path: str) -> list[Mapping[str, Any]]:
        """Return a list of tables; anything else is told."""
        raw = holder.get(key, [])
        if isinstance(raw, list) and all(isinstance(item, dict) for item in raw):
            return raw
        remedy = f"Write [[{path}]], in double brackets."
        self.tell(path, _spoken(key), "must be a list of sections", remedy, check="wrong_value")
        return []

    def answers(
        self, raw: Mapping[str, Any], *, section: str, path: str, beside: Iterable[str] = ()
    ) -> dict[str, Answer]:
        """Return every answer of one section; whatever is wrong is told and omitted."""
        fields = sections(self.which)[section]
        found: dict[str, Answer] = {}
        for key, value in raw.items():
            if key in fields:
                self._one(fields[key], value, _join(path, key), found)
            elif key not in beside:
                self._unknown_key(key, value, section, path, (*fields, *beside))
        self._missing(fields, raw, path)
        return found

    def _one(self, asked: Field, raw: object, path: str, found: dict[str, Answer]) -> None:
        try:
            found[asked.key] = read(asked, raw, written=self.document.written.get(path, ""))
        except Refused as refused:
            unit = asked.unit if isinstance(raw, int | float) else ""
            value = shown_raw(raw, unit)
            self.tell(
                path, asked.label, refused.limit, refused.remedy, check=refused.check, value=value
            )

    def _missing(self, fields: Mapping[str, Field], raw: Mapping[str, Any], path: str) -> None:
        for key, asked in fields.items():
            where = _join(path, key)
            if asked.required and key not in raw and not self.document.failed(where):
                self.tell(
                    where,
                    asked.label,
                    f"is needed, and {asked.limit_sentence()}",
                    f"Add {key} = … under [{_INDEX.sub('', path)}]."
                    if path
                    else f"Add {key} = … at the top.",
                    check="missing",
                )

    def _unknown_key(
        self, key: str, raw: object, section: str, path: str, known: tuple[str, ...]
    ) -> None:
        where = _join(path, key)
        label = "Section" if isinstance(raw, dict | list) else "Key"
        if self.which == "case" and key in derived_names():
            limit = f"is derived, never entered: it comes from {derived_names()[key]}"
            self.tell(where, key[:60], limit, "Take the line out.", check="derived_entered")
            return
        elsewhere = [
            name
            for name, fields in sections(self.which).items()
            if key in fields and name != section
        ]
        near = get_close_matches(key[:60], known, n=2, cutoff=0.6)
        if elsewhere:
            remedy = f"It belongs in the {elsewhere[0]} section."
        elif near:
            remedy = f"Did you mean {' or '.join(near)}?"
        else:
            remedy = "Take it out; the table of keys lists what can stand here."
        self.tell(where, label, "is not known here", remedy, check="unknown_key", value=key[:60])

    def replace_remedy(self, path: str, remedy: str) -> None:
        """Give the problems of one field a better remedy."""
        self.problems = [
            replace(one, remedy=remedy) if one.field == path else one for one in self.problems
        ]

    def decide(self) -> None:
        """Raise everything that was found wrong, in file order.

        Raises
        ------
        BadInput
            If anything was.
        """
        for fault in self.document.faults:
            self.tell(
                fault.path or f"line {fault.line}",
                self._label_of(fault.path) or f"Line {fault.line}",
                fault.limit,
                fault.remedy,
                check=fault.check,
                value=fault.value,
            )
            self.problems[-1] = replace(self.problems[-1], line=fault.line)
        if self.problems:
            raise BadInput(sorted(self.problems, key=lambda one: (one.line is None, one.line or 0)))

    def _label_of(self, path: str) -> str:
        holder, _, key = _INDEX.sub("", path).rpartition(".")
        if key in ("right", "left"):
            return "Section"
        known = sections(self.which)
        own = known.get(holder.rpartition(".")[2] or "top", {})
        for fields in (own, *known.values()):
            if key in fields:
                return fields[key].label
        return _spoken(key)


def shown_raw(raw: object, unit: str = "") -> str:
    """Return a raw value as text, short, with its unit.

    Examples
    --------
    >>> shown_raw(2.35, "mm"), shown_raw({"a": 1})
    ('2.35 mm', 'a section')
    """
    if isinstance(raw, dict):
        return "a section"
    text = shown(raw, unit).replace("\n", " ")
    text = "".join(sign if sign.isprintable() else "\ufffd" for sign in text)
    return text if len(text) <= 60 else text[:59] + "…"


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def _spoken(key: str) -> str:
    words = key.replace("_", " ")[:60]
    return words[:1].upper() + words[1:]
