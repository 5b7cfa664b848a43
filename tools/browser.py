"""What tests and pictures share: Debian's Chromium, and the pages of some cases on a free port."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from threading import Thread

from playwright.sync_api import Browser, Playwright

from zonule.pathway.open_cases import Desk
from zonule.web.app import application
from zonule.web.serving import free_socket, server_of

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"
DEMO_DAY = date(2026, 11, 25)
MISSING = "Chromium is missing. Run `make browser`, or name one with ZONULE_CHROMIUM."


class NoChromium(Exception):
    """There is no browser to look with."""


def chromium_path() -> str:
    """Return the browser that is named, else Debian's own."""
    found = os.environ.get("ZONULE_CHROMIUM") or shutil.which("chromium")
    if not found or not Path(found).is_file():
        raise NoChromium(MISSING)
    return found


def launched(playwright: Playwright) -> Browser:
    """Return a running browser."""
    return playwright.chromium.launch(executable_path=chromium_path())


@contextmanager
def served(
    folder: Path = EXAMPLES, practice_file: Path = EXAMPLES / "practice.toml"
) -> Iterator[str]:
    """Serve the cases of a folder on the demo day; yield the address without a last stroke."""
    listening = free_socket(0)
    port = listening.getsockname()[1]
    server = server_of(application(Desk(folder, practice_file), port=port, today=DEMO_DAY))
    thread = Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join()
        listening.close()
