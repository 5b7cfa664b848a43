"""``zonule replan CASE --state …``: in theatre, where the lens may still go."""

from __future__ import annotations

import argparse
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


def _answers(text: str) -> list[tuple[str, str]]:
    """Return the answers of one option; each is QUESTION=ANSWER."""
    found = []
    for part in text.split(","):
        name, mark, value = (one.strip() for one in part.partition("="))
        if not (name and mark and value):
            raise argparse.ArgumentTypeError(f"{part!r} is no answer; write QUESTION=ANSWER")
        found.append((name, value))
    return found


def _parser() -> argparse.ArgumentParser:
    example = "zonule replan examples/plain-eye.toml --state rhexis=continuous,gap_hours=0"
    parser = command_parser("replan", example)
    add_case(parser)
    parser.add_argument(
        "--state",
        metavar="QUESTION=ANSWER,…",
        type=_answers,
        action="append",
        default=[],
        help="answers of the team, such as posterior_capsule=tear_large; may be repeated. "
        "Unanswered stays not known, unless plan or stage say",
    )
    parser.add_argument("--stage", default=None, help="where the operation stands, such as nucleus")
    parser.add_argument(
        "--trigger", default=None, help="what happened before those answers, such as TR-13"
    )
    parser.add_argument(
        "--hands", default=None, help="what was in the eye then, such as handpiece; with --trigger"
    )
    add_practice(parser)
    add_today(parser)
    parser.add_argument("--json", action="store_true", help="print it as JSON instead")
    return parser


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = _parser()
    given = parser.parse_intermixed_args(arguments)
    pairs = [pair for option in given.state for pair in option]
    for name in dict.fromkeys(name for name, _ in pairs):
        if len({value for other, value in pairs if other == name}) > 1:
            parser.error(f"--state answers {name} more than once, and differently")
    for name in ("stage", "trigger", "hands"):
        if getattr(given, name) == "":
            parser.error(f"--{name} is empty; name one, or take it out")
    if given.hands and not given.trigger:
        parser.error("--hands needs --trigger")

    def work() -> int:
        from zonule.pathway.replan import replan_as_json, replan_files  # noqa: PLC0415

        told = replan_files(
            given.case,
            practice_for(given.case, given.practice),
            today=given.today or date.today(),
            answers=dict(pairs),
            stage=given.stage or "",
            trigger=given.trigger or "",
            hands=given.hands or "",
        )
        if given.json:
            print_json(replan_as_json(told))
        else:
            from zonule.pathway.replan import write_replan_to_terminal  # noqa: PLC0415

            write_replan_to_terminal(told)
        return BAD_INPUT if told.plan.power_withheld else DONE

    return guarded(work)
