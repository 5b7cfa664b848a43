"""The files a page needs: face, style, script, icon. Read once; nothing else can be asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib import resources
from importlib.resources.abc import Traversable
from typing import Final

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

TYPES: Final = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml",
    "txt": "text/plain; charset=utf-8",
    "woff2": "font/woff2",
}
"""Set here: a computer's own table of types may call a script plain text."""


@dataclass(frozen=True, slots=True)
class StaticFile:
    """One file as it is sent."""

    data: bytes
    type: str
    tag: str


@cache
def static_files() -> Mapping[str, StaticFile]:
    """Return every file by its path below ``static/``."""
    return dict(_walk(resources.files("zonule.web").joinpath("static"), ""))


def _walk(folder: Traversable, path: str) -> list[tuple[str, StaticFile]]:
    found: list[tuple[str, StaticFile]] = []
    for item in folder.iterdir():
        kind = item.name.rpartition(".")[2]
        if item.is_dir():
            found += _walk(item, f"{path}{item.name}/")
        elif kind in TYPES:
            data = item.read_bytes()
            tag = f'"{sha256(data).hexdigest()[:32]}"'
            found.append((f"{path}{item.name}", StaticFile(data, TYPES[kind], tag)))
    return found


async def static_file(request: Request) -> Response:
    """Send one file, or say that the browser's own copy is still good."""
    file = static_files().get(request.path_params["path"])
    if file is None:
        raise HTTPException(404)
    headers = {"ETag": file.tag, "Cache-Control": "no-cache"}
    if request.headers.get("if-none-match") == file.tag:
        return Response(status_code=304, headers=headers)
    return Response(file.data, headers={**headers, "Content-Type": file.type})
