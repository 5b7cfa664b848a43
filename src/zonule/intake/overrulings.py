"""Rules that the surgeon has set aside for one eye, each with who, when and why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from zonule.errors import Side
from zonule.findings.fields import field, sections
from zonule.findings.records import Overruling
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.rule_names import tell_unknown_rule


def read_overrulings(
    gathering: Gathering, table: Mapping[str, Any], side: Side
) -> tuple[Overruling, ...]:
    """Return the rules set aside in one eye's section; whatever is wrong with them is told."""
    label = field("overruled", "rule").label
    read: list[Overruling] = []
    seen: set[str] = set()
    for place, raw in enumerate(gathering.tables(table, "overruled", f"{side}.overruled")):
        path = f"{side}.overruled[{place}]"
        found: dict[str, Any] = dict(gathering.answers(raw, section="overruled", path=path))
        where = f"{path}.rule"
        tell_unknown_rule(gathering, found, where, label=label, of_an_eye=True)
        if found.get("rule") in seen:
            _tell_twice(gathering, where, label, found["rule"])
        seen.add(found.get("rule", ""))
        if set(found) == set(sections("case")["overruled"]):
            read.append(Overruling(**found))
    return tuple(read)


def _tell_twice(gathering: Gathering, path: str, label: str, rule: str) -> None:
    gathering.tell(
        path,
        label,
        "is set aside twice for this eye",
        "Keep one entry per rule.",
        check="set_twice",
        value=shown_raw(rule),
    )
