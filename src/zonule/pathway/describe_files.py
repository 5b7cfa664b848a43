"""Describe the files: the JSON Schema of a case, a practice, and a plan."""

from __future__ import annotations

from typing import Any, Final, Literal

from zonule.errors import NoSuchName

KINDS: Final = ("case", "practice", "plan")


def schema_of(which: str) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a kind of file.

    Parameters
    ----------
    which
        ``case``, ``practice`` or ``plan``.

    Raises
    ------
    NoSuchName
        If there is no such kind.

    Examples
    --------
    >>> schema_of("plan")["$id"], schema_of("case")["$id"]
    ('zonule-plan-1', 'zonule-case-1')
    """
    if which == "plan":
        from zonule.report.plan_schema import plan_schema  # noqa: PLC0415

        return plan_schema()
    if which not in KINDS:
        raise NoSuchName("kind of file", which, KINDS)
    from zonule.intake.schema import json_schema  # noqa: PLC0415

    entered: Literal["case", "practice"] = "case" if which == "case" else "practice"
    return json_schema(entered)
