"""Show a plan: on the terminal, as JSON, and where each of its numbers comes from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from zonule.errors import Problem
from zonule.plan.records import Plan

if TYPE_CHECKING:
    from zonule.report.cornea_view import CorneaView
    from zonule.report.machine_view import MachineView
    from zonule.report.map_view import MapView, View
    from zonule.report.plan_view.records import PlanView
    from zonule.report.risk_view.records import RiskView
    from zonule.report.why.view import WhyView


def write_plan_to_terminal(plan: Plan) -> None:
    """Write the page of a plan to the terminal."""
    from zonule.report.terminal.layout import Page  # noqa: PLC0415
    from zonule.report.terminal.plan_page import write_plan  # noqa: PLC0415

    write_plan(plan, Page(highlight=False, soft_wrap=False))


def plan_view_of(plan: Plan) -> PlanView:
    """Return what the plan page says."""
    from zonule.report.plan_view.build import plan_view  # noqa: PLC0415

    return plan_view(plan)


def cornea_view_of(plan: Plan) -> CorneaView:
    """Return what the page of cornea and energy says."""
    from zonule.report.cornea_view import cornea_view  # noqa: PLC0415

    return cornea_view(plan)


def machine_view_of(plan: Plan) -> MachineView:
    """Return what the page of the machine says."""
    from zonule.report.machine_view import machine_view  # noqa: PLC0415

    return machine_view(plan)


def risk_view_of(plan: Plan) -> RiskView:
    """Return what the page of risks says."""
    from zonule.report.risk_view.build import risk_view  # noqa: PLC0415

    return risk_view(plan)


def map_view_of(plan: Plan, view: View) -> MapView:
    """Return what the page of the incision and hook map says, as examiner or surgeon sees it."""
    from zonule.report.map_view import map_view  # noqa: PLC0415

    return map_view(plan, view)


def plan_as_json(plan: Plan) -> dict[str, Any]:
    """Return a plan in the shape of ``zonule-plan-1``."""
    from zonule.report.plan_json import as_json  # noqa: PLC0415

    return as_json(plan)


def paths_of(plan: Plan) -> tuple[str, ...]:
    """Return the path of every number of a plan that can be asked about."""
    from zonule.report.why.paths import explanations  # noqa: PLC0415

    return tuple(explanations(plan))


def write_why_to_terminal(plan: Plan, path: str) -> None:
    """Write where one number comes from.

    Raises
    ------
    NoSuchName
        If the plan shows no number under that path.
    """
    from zonule.report.terminal.layout import Page  # noqa: PLC0415
    from zonule.report.terminal.why_page import write_why  # noqa: PLC0415
    from zonule.report.why.paths import why  # noqa: PLC0415

    write_why(why(plan, path), Page(highlight=False))


def why_of(plan: Plan, path: str) -> WhyView:
    """Return where one number comes from, in words for a page.

    Raises
    ------
    NoSuchName
        If the plan shows no number under that path.
    """
    from zonule.report.why.paths import why  # noqa: PLC0415
    from zonule.report.why.view import why_view  # noqa: PLC0415

    return why_view(why(plan, path))


def said_aloud(plan: Plan) -> str:
    """Return the power in hand as one sentence to be heard, or why there is none."""
    from zonule.report.sentences import read_back  # noqa: PLC0415

    return " ".join(read_back(plan)) or f"No power is shown: {plan.power_withheld}"


def write_checks_to_terminal(problems: Sequence[Problem], name: str) -> None:
    """Write what the checks of a case found."""
    from zonule.report.terminal.check_page import write_checks  # noqa: PLC0415
    from zonule.report.terminal.layout import Page  # noqa: PLC0415

    write_checks(problems, name, Page(highlight=False))
