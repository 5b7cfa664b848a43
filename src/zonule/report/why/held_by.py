"""Which test files hold which kind of number."""

from __future__ import annotations

from typing import Final

FORMULAS: Final = ("tests/published/formulas.toml", "tests/properties/test_power_round_trip.py")
PLACES: Final = ("tests/published/positions.toml", "tests/assessment/test_places.py")
LAW: Final = ("tests/published/stats.toml", "tests/assessment/test_registry_law.py")
FELLOW: Final = ("tests/published/stats.toml", "tests/learning/test_first_eye.py")
RISK: Final = (
    "tests/published/risk.toml",
    "tests/assessment/test_risk.py",
    "tests/plan/test_roots.py",
)
CLOSED: Final = ("tests/plan/test_closed.py",)
CHECKS: Final = ("tests/intake/test_case_file.py", "tests/findings/test_checks.py")
RULES: Final = ("tests/rules/test_every_rule.py",)
PARTS: Final = ("tests/plan/test_parts.py", "tests/pathway/test_hard_second_eye_parts.py")
MACHINE: Final = (
    "tests/published/fluidics.toml",
    "tests/plan/test_machine_physics.py",
    "tests/plan/test_cup_test.py",
)
CORNEA: Final = (
    "tests/published/cornea.toml",
    "tests/formulas/test_endothelium.py",
    "tests/formulas/test_energy.py",
    "tests/plan/test_cornea.py",
    "tests/plan/test_energy.py",
)
CLOCK_MAP: Final = ("tests/plan/test_clock_map.py", "tests/plan/test_clock_map_search.py")
EVERY: Final = (
    *RULES,
    *PARTS,
    *FORMULAS,
    *PLACES,
    *LAW,
    *FELLOW,
    *RISK,
    *CLOSED,
    *CHECKS,
    *MACHINE,
    *CORNEA,
    *CLOCK_MAP,
)
