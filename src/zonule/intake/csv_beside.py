"""A CSV file that a practice file names, beside it: read, or told as a fault of its key."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from zonule.errors import BadInput
from zonule.findings.fields import field
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.text import read_bytes

Read = TypeVar("Read")


def csv_beside(
    gathering: Gathering,
    *,
    section: str,
    key: str,
    name: str,
    folder: Path,
    reader: Callable[[bytes], Read],
) -> Read | None:
    """Return what a CSV file beside the practice file holds; None where that cannot be used.

    Parameters
    ----------
    gathering
        The reading of the practice file; whatever is wrong is told to it.
    section, key
        Where the name stands.
    name
        The name, which must be a file's alone: no path leads out of the folder.
    folder
        Where the practice file lies.
    reader
        Takes the bytes of the file; what it raises is told.
    """

    def tell(limit: str, remedy: str) -> None:
        label = field(section, key, which="practice").label
        path, value = f"{section}.{key}", shown_raw(name)
        gathering.tell(path, label, limit, remedy, check="file_unreadable", value=value)

    if not _plain_name(name):
        limit = "must be the name of a CSV file beside the practice file"
        tell(limit, "Write the name alone, such as own-cases.csv.")
        return None
    try:
        return reader(read_bytes(folder / name))
    except BadInput as bad:
        for problem in bad.problems:
            about = f"column {problem.value} " if problem.label == "Column" else ""
            tell(f"{about}{problem.limit}", problem.remedy)
        return None


def _plain_name(name: str) -> bool:
    return name.endswith(".csv") and not set(name) & set("/\\:") and not name.startswith(".")
