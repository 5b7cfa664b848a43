"""Show a plan: on the terminal, as JSON, and where each of its numbers comes from."""

from __future__ import annotations

from typing import Any

from zonule.plan.records import Plan


def write_plan_to_terminal(plan: Plan) -> None:
    """Write the page of a plan to the terminal."""
    from rich.console import Console  # noqa: PLC0415

    from zonule.report.terminal.plan_page import write_plan  # noqa: PLC0415

    write_plan(plan, Console(highlight=False, soft_wrap=False))


def plan_as_json(plan: Plan) -> dict[str, Any]:
    """Return a plan in the shape of ``zonule-plan-1``."""
    from zonule.report.plan_json import as_json  # noqa: PLC0415

    return as_json(plan)
