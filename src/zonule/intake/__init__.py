"""Brings it in: case and practice files, judged whole, refused with every fault at once."""

from __future__ import annotations

from zonule.intake.case_file import read_case, read_case_file
from zonule.intake.practice_file import read_practice, read_practice_file

__all__ = ["read_case", "read_case_file", "read_practice", "read_practice_file"]
