"""Which test files hold which kind of number."""

from __future__ import annotations

from typing import Final

FORMULAS: Final = ("tests/published/formulas.toml", "tests/properties/test_power_formulas.py")
PLACES: Final = ("tests/published/positions.toml", "tests/assessment/test_places.py")
LAW: Final = ("tests/published/stats.toml", "tests/assessment/test_registry_law.py")
FELLOW: Final = ("tests/published/stats.toml", "tests/learning/test_first_eye.py")
SHARES: Final = ("tests/plan/test_likelihood.py",)
CHECKS: Final = ("tests/intake", "tests/findings")
EVERY: Final = (*FORMULAS, *PLACES, *LAW, *FELLOW, *SHARES, *CHECKS)
