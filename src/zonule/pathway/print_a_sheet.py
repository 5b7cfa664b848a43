"""Print a sheet: a plan as one A4 page for the theatre wall."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from zonule.errors import BadInput, Problem
from zonule.plan.records import Plan


def sheet_pdf(plan: Plan, *, made_at: datetime) -> bytes:
    """Return the sheet of a plan as PDF; without a power too, and it then says so.

    Parameters
    ----------
    plan
        The plan.
    made_at
        The instant, with its zone; shown in the zone of the practice.

    Raises
    ------
    BadInput
        If a text of the plan cannot be printed, or does not fit one page.
    """
    from zonule.report.sheet.of_plan import sheet_of  # noqa: PLC0415
    from zonule.report.sheet.page import sheet_page  # noqa: PLC0415

    return sheet_page(sheet_of(plan, made_at=made_at), made_at=made_at)


def plan_shown_as(plan: Plan) -> str:
    """Return the identity of a plan as page and paper show it."""
    from zonule.report.identity import as_shown, plan_identity  # noqa: PLC0415

    return as_shown(plan_identity(plan))


def write_sheet(plan: Plan, file: Path, *, made_at: datetime, force: bool = False) -> None:
    """Write the sheet of a plan to a file; one that exists is kept unless ``force``.

    Raises
    ------
    BadInput
        If the file is kept or cannot be written, or if the sheet cannot be made.
    """
    if file.exists() and not force:
        raise _kept(file)
    _write(sheet_pdf(plan, made_at=made_at), file, force=force)


def _write(data: bytes, file: Path, *, force: bool) -> None:
    try:
        with file.open("wb" if force else "xb") as paper:
            paper.write(data)
    except FileExistsError:
        raise _kept(file) from None
    except OSError as fault:
        reason = (fault.strerror or "no reason given").lower()
        limit = f"cannot be written ({reason})"
        raise _fault("file_not_written", file, limit, "Check the folder and the disk.") from fault


def _kept(file: Path) -> BadInput:
    return _fault(
        "file_exists", file, "is already there and is kept", "Name another, or add --force."
    )


def _fault(check: str, file: Path, limit: str, remedy: str) -> BadInput:
    return BadInput(
        [
            Problem(
                check=check,
                field="file",
                label="File",
                value=str(file),
                limit=limit,
                remedy=remedy,
            )
        ]
    )
