"""Prints how long things take against a floor measured in the same run.

    python -m benchmarks

Start-up is held against a bare interpreter; arrays through a formula against the same formula
called eye by eye.
"""

import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np

from zonule.formulas.power import FORMULAS

ROOT = Path(__file__).resolve().parent.parent
REPEATS = 7
EYES = 100_000
FEW = 500
Power = Callable[..., object]
CONSTANTS: dict[str, dict[str, float]] = {
    "srkt": {"a_constant": 119.27},
    "t2": {"a_constant": 119.27},
    "holladay1": {"surgeon_factor": 1.97},
    "hofferq": {"pacd_mm": 5.74},
    "haigis": {"a0": -0.59, "a1": 0.357, "a2": 0.197, "anterior_chamber_depth_mm": 3.1},
}


def best(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Return the shortest of several runs, in seconds."""
    times = []
    for _ in range(repeats):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return min(times)


def command(*arguments: str) -> Callable[[], object]:
    """Return a call of this interpreter."""
    return lambda: subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, stdout=subprocess.DEVNULL, check=False
    )


def start_up() -> None:
    """Print start-up against a bare interpreter."""
    bare = best(command("-c", "pass"))
    print(f"bare interpreter        {bare:6.3f} s    1.0 ×")
    plain = ["examples/plain-eye.toml", "--today", "2026-11-25"]
    for name, run in (
        ("import numpy", command("-c", "import numpy")),
        ("zonule --help", command("-m", "zonule", "--help")),
        ("zonule plan, plain eye", command("-m", "zonule", "plan", *plain)),
        ("zonule check, plain eye", command("-m", "zonule", "check", *plain)),
    ):
        taken = best(run)
        print(f"{name:<23} {taken:6.3f} s {taken / bare:6.1f} ×")


def formulas() -> None:
    """Print one call for many eyes against one call an eye."""
    rng = np.random.default_rng(20261125)
    lengths, corneas = rng.uniform(21, 28, EYES), rng.uniform(40, 47, EYES)
    for name, constants in CONSTANTS.items():
        power = partial(FORMULAS[name].lens_power, target_refraction_d=-0.25, **constants)

        def many(power: Power = power) -> object:
            return power(axial_length_mm=lengths, corneal_power_d=corneas)

        def few(power: Power = power) -> object:
            pairs = zip(lengths[:FEW].tolist(), corneas[:FEW].tolist(), strict=True)
            return [power(axial_length_mm=one, corneal_power_d=two) for one, two in pairs]

        ratio = (best(few, repeats=2) / FEW) / (best(many) / EYES)
        print(f"{FORMULAS[name].label:<23} {EYES:,} eyes in one call: {ratio:6.0f} × one by one")


if __name__ == "__main__":
    start_up()
    formulas()
