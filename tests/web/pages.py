"""The pages of the example cases, asked without a network."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Final

from starlette.exceptions import StarletteDeprecationWarning

from plan.cases import EXAMPLES, TODAY
from zonule.pathway.open_cases import Desk
from zonule.web.app import application

with warnings.catch_warnings():  # it asks for another client library than the one it works with
    warnings.simplefilter("ignore", StarletteDeprecationWarning)
    from starlette.testclient import TestClient

PORT: Final = 8765
ORIGIN: Final = f"http://127.0.0.1:{PORT}"
OWN_PAGE: Final = {"Origin": ORIGIN, "Sec-Fetch-Site": "same-origin"}


def client(
    folder: Path = EXAMPLES, practice_file: Path = EXAMPLES / "practice.toml", *, only: str = ""
) -> TestClient:
    """Return a client of the pages of a folder; what fails in the program is a page to it."""
    app = application(Desk(folder, practice_file, only), port=PORT, today=TODAY)
    return TestClient(app, base_url=ORIGIN, raise_server_exceptions=False, follow_redirects=False)
