"""``zonule serve``: the plans as pages, on this computer only."""

from __future__ import annotations

import argparse
import webbrowser
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import quote

from zonule.cli.shared import (
    BAD_INPUT,
    DONE,
    add_practice,
    add_today,
    command_parser,
    guarded,
    practice_for,
)

FIRST_PORT = 8765
OK = 200


def run(arguments: Sequence[str]) -> int:
    """Run the command."""
    parser = command_parser("serve", "zonule serve examples --open")
    _add_words(parser)
    given = parser.parse_intermixed_args(arguments)

    def work() -> int:
        from zonule.pathway.open_cases import desk_for, first_case  # noqa: PLC0415
        from zonule.web.serving import free_socket, serve, serve_once  # noqa: PLC0415

        where = given.where or _usual_folder()
        desk = desk_for(where, practice_for(first_case(where), given.practice))
        listening = free_socket(given.port)
        address = f"http://127.0.0.1:{listening.getsockname()[1]}/"
        print(f"Zonule is at {address} . Stop with Ctrl+C.", flush=True)  # noqa: T201
        shown = given.show or desk.only
        if shown:
            print(f"The plan of {shown}: {address}plan/{quote(shown)}", flush=True)  # noqa: T201
        if given.open:
            webbrowser.open(address)
        if not given.once:
            serve(desk, listening, today=given.today)
            return DONE
        path = f"/plan/{quote(shown)}" if shown else "/"
        status = serve_once(desk, listening, path=path, today=given.today)
        print(f"One page was answered (status {status}); Zonule ends.")  # noqa: T201
        return DONE if status == OK else BAD_INPUT

    return guarded(work)


def _add_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "where",
        metavar="FOLDER_OR_CASE",
        nargs="?",
        type=Path,
        help="a folder of case files, or one case file; without it the folder examples, "
        "else the one you are in",
    )
    add_practice(parser)
    parser.add_argument(
        "--port",
        metavar="N",
        type=_port,
        default=FIRST_PORT,
        help=f"the port to listen on, {FIRST_PORT} without it; the next free one where it is taken",
    )
    parser.add_argument(
        "--show", metavar="NAME", default="", help="the case whose page is named on starting"
    )
    parser.add_argument("--open", action="store_true", help="open it in the browser")
    parser.add_argument(
        "--once",
        action="store_true",
        help="end after one page was answered, asking for it after a while if nobody does",
    )
    add_today(parser)


def _port(text: str) -> int:
    if text.isascii() and text.isdigit() and int(text) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no port; write a number from 0 to 65535")


def _usual_folder() -> Path:
    examples = Path("examples")
    return examples if examples.is_dir() else Path()
