"""Reads the machine of a practice file: its zero, the allowed floor, and cup tests."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from zonule.findings.fields import field, sections
from zonule.intake.gathering import Gathering, shown_raw
from zonule.practice.machine import CupTest, Machine

MOST_CUP_TESTS: Final = 50
_PAIR: Final = ("vacuum_shown_mmhg", "aspiration_flow_ml_min")
_NEEDS_THE_PAIR: Final = "vacuum_sd_mmhg"


def read_machine(gathering: Gathering, raw: Mapping[str, Any]) -> Machine:
    """Return the machine of a practice; whatever is wrong is told."""
    given = gathering.table(raw, "machine", "machine") or {}
    found: dict[str, Any] = dict(
        gathering.answers(given, section="machine", path="machine", beside=("cup_test",))
    )
    tables = gathering.tables(given, "cup_test", "machine.cup_test")
    if len(tables) > MOST_CUP_TESTS:
        gathering.tell(
            "machine.cup_test",
            "Cup test",
            f"must be at most {MOST_CUP_TESTS} readings",
            "Keep those of the set-up in use.",
            check="wrong_value",
            value=f"{len(tables)} readings",
        )
        return Machine(**found)
    tests = [
        _read_test(gathering, table, f"machine.cup_test[{place}]")
        for place, table in enumerate(tables)
    ]
    return Machine(**found, cup_tests=tuple(one for one in tests if one is not None))


def _read_test(gathering: Gathering, raw: Mapping[str, Any], path: str) -> CupTest | None:
    """Return one reading, or None where a key that it needs was not read (and told)."""
    found: dict[str, Any] = dict(gathering.answers(raw, section="cup_test", path=path))
    _pair_whole(gathering, raw, path)
    _flow_possible(gathering, found, path)
    needed = [key for key, asked in sections("practice")["cup_test"].items() if asked.required]
    return CupTest(**found) if all(key in found for key in needed) else None


def _flow_possible(gathering: Gathering, found: Mapping[str, Any], path: str) -> None:
    """Tell a volume and a time that no irrigation path would give together."""
    if "collected_ml" not in found or "seconds" not in found:
        return
    asked = field("cup_flow", "flow_ml_min", which="practice")
    flow = 60.0 * found["collected_ml"] / found["seconds"]
    if asked.low is None or asked.high is None or asked.low <= flow <= asked.high:
        return
    gathering.tell(
        f"{path}.collected_ml",
        asked.label,
        asked.limit_sentence(),
        "Check mL and seconds: one of them does not fit the other.",
        check="contradicts",
        value=f"{flow:.3g} {asked.unit}",
    )


def _pair_whole(gathering: Gathering, raw: Mapping[str, Any], path: str) -> None:
    """Tell a vacuum without its flow, a flow without its vacuum, and a spread of neither."""
    there = [key for key in _PAIR if key in raw]
    if len(there) == len(_PAIR) or any(gathering.document.failed(f"{path}.{k}") for k in _PAIR):
        return
    if there:
        missing = next(key for key in _PAIR if key not in raw)
        _tell(gathering, raw, path, there[0], missing)
    elif _NEEDS_THE_PAIR in raw:
        _tell(gathering, raw, path, _NEEDS_THE_PAIR, _PAIR[0])


def _tell(gathering: Gathering, raw: Mapping[str, Any], path: str, key: str, missing: str) -> None:
    asked = field("cup_test", key, which="practice")
    gathering.tell(
        f"{path}.{key}",
        asked.label,
        f"says nothing without {missing}",
        f"Add {missing} = …, or take {key} out.",
        check="missing",
        value=shown_raw(raw[key], asked.unit),
    )
