"""``zonule why CASE PATH``: where a number of the plan comes from."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from zonule.cli.shared import (
    DONE,
    add_case,
    add_practice,
    add_today,
    command_parser,
    guarded,
    practice_for,
)


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = command_parser("why", "zonule why examples/plain-eye.toml placements.bag.bands.p90")
    add_case(parser)
    parser.add_argument(
        "path",
        metavar="PATH",
        nargs="?",
        help="the number, named as in the JSON of the plan; without it every path is listed",
    )
    add_practice(parser)
    add_today(parser)
    given = parser.parse_intermixed_args(arguments)

    def work() -> int:
        from zonule.pathway.plan_an_eye import plan_files  # noqa: PLC0415
        from zonule.pathway.show_a_plan import paths_of, write_why_to_terminal  # noqa: PLC0415

        plan = plan_files(
            given.case,
            practice_for(given.case, given.practice),
            today=given.today or date.today(),
        )
        if given.path is None:
            print("\n".join(paths_of(plan)))  # noqa: T201
        else:
            write_why_to_terminal(plan, given.path)
        return DONE

    return guarded(work)
