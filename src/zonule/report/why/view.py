"""One explanation in words, ready for a page: sources looked up, statuses said as a person says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from zonule.library.reading import reference, table
from zonule.report import sentences
from zonule.report.why.explanation import Explanation

SEEN: Final = {"memory": "from memory, not seen", "none": "no publication"}


@dataclass(frozen=True, slots=True)
class ShownInput:
    """One thing a number was made from."""

    label: str
    value: str
    status: str
    """In words; empty where none is known."""


@dataclass(frozen=True, slots=True)
class ShownSource:
    """One source, and how far it was seen."""

    text: str
    seen: str = ""


@dataclass(frozen=True, slots=True)
class WhyView:
    """Everything behind one number, as it is shown."""

    path: str
    title: str
    value: str
    how: str
    inputs: tuple[ShownInput, ...]
    caveats: tuple[str, ...]
    sources: tuple[ShownSource, ...]
    status: str
    """A sentence: what the status speaks of, and how sure it is."""
    held_by: tuple[str, ...]


def why_view(told: Explanation) -> WhyView:
    """Return an explanation as it is shown.

    Examples
    --------
    >>> shown = why_view(Explanation("eye.x", "X", "1 mm", "Measured.", sources=("own table",)))
    >>> shown.status, shown.sources[0].text
    ('This figure is worked out here.', 'own table, as named in the practice file')
    """
    return WhyView(
        path=told.path,
        title=told.title,
        value=told.value,
        how=told.how,
        inputs=tuple(
            ShownInput(
                one.label, one.value, sentences.status_words(one.status) if one.status else ""
            )
            for one in told.inputs
        ),
        caveats=told.caveats,
        sources=tuple(_sources(told)),
        status=_status_sentence(told),
        held_by=told.held_by,
    )


def _status_sentence(told: Explanation) -> str:
    said = f"{told.status_of} is {sentences.status_words(told.status)}."
    return said[:1].upper() + said[1:]


def _sources(told: Explanation) -> Iterator[ShownSource]:
    known = table("references")
    for key in dict.fromkeys(told.sources):
        if key in known:
            one = reference(key)
            yield ShownSource(one.text, SEEN.get(one.seen, f"{one.seen} seen"))
        else:
            yield ShownSource(f"{key}, as named in the practice file")
