"""The long measurements: ``make soak`` runs them and writes docs/measured/soak.json.

Coverage of the bands when a spread is wrong; the state engine asked every combination of theatre
answers; and the random tests (formulas, law, files, plans) drawn anew from many seeds, where
``make test`` draws the same ones every time. ``python -m benchmarks.soak state_engine`` runs one
part and keeps the others; each says at which commit and on which day it was measured.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from benchmarks.coverage import coverage
from benchmarks.state_engine import state_engine

ROOT = Path(__file__).parents[1]
WRITTEN = ROOT / "docs" / "measured" / "soak.json"
RANDOM_TESTS = (
    "tests/properties",
    "tests/plan/test_any_case.py",
    "tests/theatre_states/test_one_more_answer.py",
)
SEEDS = range(1, 21)


def said(*command: str) -> tuple[int, str]:
    """Return the exit status and the output of a command."""
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    return told.returncode, told.stdout.strip()


def one_seed(seed: int) -> dict[str, int]:
    """Return how many random tests passed and failed with one seed."""
    pytest = (sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "2")
    hypothesis = ("--hypothesis-profile=soak", f"--hypothesis-seed={seed}")
    _, output = said(*pytest, *hypothesis, *RANDOM_TESTS)
    closing = output.splitlines()[-1]
    counts = {word: int(number) for number, word in re.findall(r"(\d+) (passed|failed)", closing)}
    print(f"seed {seed}: {closing}")
    return {"passed": counts.get("passed", 0), "failed": counts.get("failed", 0)}


def random_tests() -> dict[str, Any]:
    """Return the random tests over all seeds."""
    found = [one_seed(seed) for seed in SEEDS]
    return {
        "what": "random tests of formulas, law, files and plans, drawn anew from each seed",
        "seeds": len(found),
        "passed": sum(one["passed"] for one in found),
        "failed": sum(one["failed"] for one in found),
    }


PARTS: dict[str, Callable[[], dict[str, Any]]] = {
    "coverage": coverage,
    "state_engine": state_engine,
    "random_tests": random_tests,
}


def failed(found: Mapping[str, Any]) -> bool:
    """Tell whether a random test or the state engine failed."""
    states, drawn = found["state_engine"], found["random_tests"]
    return any((states["engine_disagrees"], states["faults"], drawn["failed"]))


def main(names: Sequence[str]) -> int:
    """Run every part, or those named; write each down with the state it was measured at."""
    found = json.loads(WRITTEN.read_text("utf-8")) if WRITTEN.is_file() else {}
    found["schema"] = "zonule-soak-1"
    for name in names or PARTS:
        stamp = {
            "commit": said("git", "rev-parse", "--short=12", "HEAD")[1],
            "date": datetime.now(tz=UTC).date().isoformat(),
        }
        found[name] = stamp | PARTS[name]()
        WRITTEN.parent.mkdir(parents=True, exist_ok=True)
        WRITTEN.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")
    return int(failed(found))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
