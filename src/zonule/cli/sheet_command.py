"""``zonule sheet CASE -o FILE.pdf``: the plan as one page for the theatre wall."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path

from zonule.cli.shared import (
    BAD_INPUT,
    DONE,
    add_case,
    add_practice,
    add_today,
    command_parser,
    guarded,
    practice_for,
)


def _paper(text: str) -> Path:
    """Return the file to write: a PDF, so that no case or practice file can be named by a slip."""
    file = Path(text)
    if file.suffix.lower() != ".pdf":
        raise argparse.ArgumentTypeError(f"{text!r} is no name for a sheet; end it in .pdf")
    return file


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = command_parser("sheet", "zonule sheet my-case.toml -o my-case.pdf")
    add_case(parser)
    add_practice(parser)
    add_today(parser)
    parser.add_argument(
        "-o", "--output", metavar="FILE.pdf", type=_paper, required=True, help="file to write"
    )
    parser.add_argument("--force", action="store_true", help="overwrite a file that exists")
    given = parser.parse_intermixed_args(arguments)

    def work() -> int:
        from zonule.pathway.plan_an_eye import plan_files  # noqa: PLC0415
        from zonule.pathway.print_a_sheet import plan_shown_as, write_sheet  # noqa: PLC0415

        plan = plan_files(
            given.case,
            practice_for(given.case, given.practice),
            today=given.today or date.today(),
        )
        write_sheet(plan, given.output, made_at=datetime.now(UTC), force=given.force)
        print(f"{given.output}: sheet of plan {plan_shown_as(plan)}")  # noqa: T201
        if not plan.power_withheld:
            return DONE
        which = " for the intended place" if plan.shows_a_power else ""
        print(f"No lens power is shown{which}: {plan.power_withheld}")  # noqa: T201
        return BAD_INPUT

    return guarded(work)
