"""Every path of a plan, and the explanation of one of them."""

from __future__ import annotations

from collections.abc import Mapping

from zonule.errors import NoSuchName
from zonule.plan.records import Plan
from zonule.report.why.clock_map import map_paths
from zonule.report.why.expected import expected_paths
from zonule.report.why.explanation import Explain, Explanation
from zonule.report.why.eye import eye_paths
from zonule.report.why.first_eye import first_eye_paths
from zonule.report.why.parts import part_paths
from zonule.report.why.place import place_paths
from zonule.report.why.placement import placement_paths
from zonule.report.why.risk import risk_paths


def explanations(plan: Plan) -> Mapping[str, Explain]:
    """Return every path of a plan with what makes its explanation."""
    return {
        **placement_paths(plan),
        **place_paths(plan),
        **expected_paths(plan),
        **first_eye_paths(plan),
        **eye_paths(plan),
        **part_paths(plan),
        **map_paths(plan),
        **risk_paths(plan),
    }


def why(plan: Plan, path: str) -> Explanation:
    """Return the explanation of one number.

    Raises
    ------
    NoSuchName
        If the plan shows no number under that path; the nearest ones are offered.
    """
    known = explanations(plan)
    if path not in known:
        raise NoSuchName("number", path, known)
    return known[path]()
