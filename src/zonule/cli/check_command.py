"""``zonule check CASE``: what is wrong or worth a look in a case file."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from zonule.cli.shared import (
    BAD_INPUT,
    DONE,
    add_case,
    add_today,
    command_parser,
    guarded,
)


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = command_parser("check", "zonule check examples/half-missing.toml")
    add_case(parser)
    add_today(parser)
    given = parser.parse_intermixed_args(arguments)

    def work() -> int:
        from zonule.pathway.plan_an_eye import check_file  # noqa: PLC0415
        from zonule.pathway.show_a_plan import write_checks_to_terminal  # noqa: PLC0415

        problems = check_file(given.case, today=given.today or date.today())
        write_checks_to_terminal(problems, given.case.name)
        return BAD_INPUT if any(problem.stops == "power" for problem in problems) else DONE

    return guarded(work, faults_are_the_answer=True)
