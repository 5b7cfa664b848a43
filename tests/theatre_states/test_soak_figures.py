"""The figures of the long measurement of the state engine are there, and say that it held."""

from __future__ import annotations

import json
from pathlib import Path

WRITTEN = Path(__file__).parents[2] / "docs" / "measured" / "soak.json"


def test_every_combination_was_asked_of_the_engine_and_none_disagreed() -> None:
    found = json.loads(WRITTEN.read_text("utf-8"))["state_engine"]
    assert found["with_not_known"] == 544_320
    assert found["engine_disagrees"] == 0
    assert found["faults"] == 0
    assert found["commit"]
    assert found["date"]
