"""``zonule schema case|practice|plan``: the JSON Schema of a file."""

from __future__ import annotations

from collections.abc import Sequence

from zonule.cli.shared import DONE, command_parser, guarded, print_json


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = command_parser("schema", "zonule schema case > zonule-case-1.schema.json")
    parser.add_argument("which", choices=["case", "practice", "plan"], help="which file")
    given = parser.parse_args(arguments)

    def work() -> int:
        from zonule.pathway.describe_files import schema_of  # noqa: PLC0415

        print_json(schema_of(given.which))
        return DONE

    return guarded(work)
