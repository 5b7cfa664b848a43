"""Bytes of a file to text, or the reason why they are none."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from zonule.errors import BadInput, Problem

LARGEST_BYTES: Final = 1_000_000


def to_text(data: bytes, *, name: str) -> str:
    """Return the text of a file.

    Raises
    ------
    BadInput
        If it is empty, over 1 MB, binary, or not UTF-8.

    Examples
    --------
    >>> to_text(b"eye_to_do = 'left'", name="a.toml")
    "eye_to_do = 'left'"
    """
    if len(data) > LARGEST_BYTES:
        raise _refused(name, "must be at most 1 MB", "Check that this is the file you mean.")
    if not data.strip():
        raise _refused(name, "is empty", "Start from an example file.")
    if b"\0" in data:
        raise _refused(name, "is not a text file", "Save it as plain text in UTF-8.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        raise _refused(
            name, "is not UTF-8 text", "Save it as plain text in UTF-8.", line=line
        ) from None


def read_bytes(path: Path) -> bytes:
    """Return the bytes of a file.

    Raises
    ------
    BadInput
        If it is not there, is no file, cannot be read, or is over 1 MB.
    """
    name = str(path)
    try:
        if path.is_dir():
            raise _refused(name, "is a folder", "Name a file in it.")
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise _refused(name, "is not there", "Check the name and the folder.") from None
    except PermissionError:
        raise _refused(name, "may not be read", "Ask for permission to read it.") from None
    except (OSError, ValueError):
        raise _refused(name, "cannot be read", "Check the name and the disk.") from None


def _refused(name: str, limit: str, remedy: str, *, line: int | None = None) -> BadInput:
    problem = Problem(
        check="file_unreadable",
        field="file",
        label="File",
        value=name if len(name) <= 200 else f"…{name[-199:]}",
        limit=limit,
        remedy=remedy,
        stops="power",
        line=line,
    )
    return BadInput([problem])
