"""Where a number of the plan comes from: one explanation for each path.

A path names a number as the JSON does: ``placements.sulcus_three_piece.power_d``,
``placements.bag.bands.p90``, ``placements.bag.by_formula.srkt``, ``first_eye.error_d``,
``eye.axial_length_mm``. A command and a page open the same text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from zonule.errors import NoSuchName
from zonule.plan.records import Plan


@dataclass(frozen=True, slots=True)
class Input:
    """One thing a number was made from."""

    label: str
    value: str
    source: str = ""
    status: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """Everything behind one number."""

    path: str
    title: str
    value: str
    how: str
    inputs: tuple[Input, ...] = ()
    sources: tuple[str, ...] = ()
    """Keys of references.toml."""
    status: str = "derived"
    held_by: tuple[str, ...] = ()
    """Test files that would fail if the number were computed otherwise."""
    caveats: tuple[str, ...] = ()


Explain = Callable[[], Explanation]


def explanations(plan: Plan) -> Mapping[str, Explain]:
    """Return every path of a plan with what makes its explanation."""
    from zonule.report.why_eye import eye_paths  # noqa: PLC0415
    from zonule.report.why_first_eye import first_eye_paths  # noqa: PLC0415
    from zonule.report.why_placement import placement_paths  # noqa: PLC0415

    return {**placement_paths(plan), **first_eye_paths(plan), **eye_paths(plan)}


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


def later(make: Callable[..., Explanation], *given: object) -> Explain:
    """Return an explanation to be made when asked for."""
    return partial(make, *given)
