"""Which test files hold which kind of number."""

from __future__ import annotations

from typing import Final

FORMULAS: Final = ("tests/published/formulas.toml", "tests/properties/test_power_round_trip.py")
PLACES: Final = ("tests/published/positions.toml", "tests/assessment/test_places.py")
LAW: Final = ("tests/published/stats.toml", "tests/assessment/test_registry_law.py")
FELLOW: Final = ("tests/published/stats.toml", "tests/learning/test_first_eye.py")
SHARES: Final = ("tests/plan/test_likelihood.py",)
CLOSED: Final = ("tests/plan/test_closed.py",)
CHECKS: Final = ("tests/intake/test_case_file.py", "tests/findings/test_checks.py")
RULES: Final = ("tests/rules/test_every_rule.py",)
PARTS: Final = ("tests/plan/test_parts.py", "tests/pathway/test_hard_second_eye_parts.py")
EVERY: Final = (*RULES, *PARTS, *FORMULAS, *PLACES, *LAW, *FELLOW, *SHARES, *CLOSED, *CHECKS)
