"""The ``zonule`` command: a module per subcommand, each loaded only when it is called."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Final

from zonule import __version__

COMMANDS: Final = {
    "plan": "plan the eye to be done: a lens power for every place the lens may end up",
    "replan": "say where the lens may still go, by what the team answers in theatre",
    "serve": "show the plans as pages in a browser, on this computer only",
    "sheet": "print the plan as one page for the theatre wall",
    "check": "say what is wrong or worth a look in a case file",
    "why": "say where a number of the plan comes from",
    "schema": "print the JSON Schema of a file",
}
"""Every subcommand with its one line; each is a module of this folder."""

EPILOG: Final = """\
examples:
  zonule plan examples/hard-second-eye.toml --practice examples/practice.toml
  zonule why examples/hard-second-eye.toml placements.sulcus_three_piece.power_d
  zonule check my-case.toml

exit status: 0 done; 1 bad input, or a power is withheld (the rest is still printed); 2 wrong use.

An aid to planning, not validated on patients; it does not replace a licensed surgeon."""


def parser() -> argparse.ArgumentParser:
    """Return the parser of the command line; a subcommand adds its own words when it is named."""
    top = argparse.ArgumentParser(
        prog="zonule",
        description="Plan high-risk cataract surgery.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    top.add_argument("--version", action="version", version=f"zonule {__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, line in COMMANDS.items():
        commands.add_parser(name, help=line, add_help=False)
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    known, rest = parser().parse_known_args(given[:1])
    command = import_module(f"zonule.cli.{known.command}_command")
    status: int = command.run([*rest, *given[1:]])
    return status
