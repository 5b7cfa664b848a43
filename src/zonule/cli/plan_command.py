"""``zonule plan CASE``: the plan, on the terminal or as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from zonule.cli.shared import (
    BAD_INPUT,
    DONE,
    add_case,
    add_practice,
    add_today,
    command_parser,
    guarded,
    practice_for,
    print_json,
)


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = command_parser("plan", "zonule plan examples/plain-eye.toml")
    add_case(parser)
    add_practice(parser)
    add_today(parser)
    parser.add_argument("--json", action="store_true", help="print the plan as JSON instead")
    given = parser.parse_intermixed_args(arguments)

    def work() -> int:
        from zonule.pathway.plan_an_eye import plan_files  # noqa: PLC0415

        plan = plan_files(
            given.case,
            practice_for(given.case, given.practice),
            today=given.today or date.today(),
        )
        if given.json:
            from zonule.pathway.show_a_plan import plan_as_json  # noqa: PLC0415

            print_json(plan_as_json(plan))
        else:
            from zonule.pathway.show_a_plan import write_plan_to_terminal  # noqa: PLC0415

            write_plan_to_terminal(plan)
        return BAD_INPUT if plan.power_withheld else DONE

    return guarded(work)
