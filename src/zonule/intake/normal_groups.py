"""Writes out "examined, nothing abnormal": each item of a group as looked for and absent."""

from __future__ import annotations

from collections.abc import Iterator

from zonule.findings.answers import Answer
from zonule.findings.fields import Field, group_of


def written_out(answers: dict[str, Answer], *, section: str) -> dict[str, Answer]:
    """Return the answers with every normal item of the named groups filled in.

    An item typed beside it stays as typed. Items that only an eye with its own lens can show
    are not written in an operated eye. Numbers without a normal value stay not recorded.

    Examples
    --------
    >>> found = written_out({"nothing_abnormal": ("zonule",), "pxf": True}, section="eye")
    >>> found["pxf"], found["dialysis_clock_hours"]
    (True, 0.0)
    """
    phakic = answers.get("lens_status") not in ("pseudophakic", "aphakic")
    normal = {
        item.key: item.normal
        for item in _items(answers, section)
        if item.normal is not None and (phakic or not item.phakic_only)
    }
    return normal | answers


def _items(answers: dict[str, Answer], section: str) -> Iterator[Field]:
    named = answers.get("nothing_abnormal", ())
    for group in named if isinstance(named, tuple) else ():
        yield from group_of(group, section=section)
