"""The foot of the sheet: which plan this is, and its code."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import segno

from zonule import __version__
from zonule.plan.records import Plan
from zonule.report.identity import as_scanned, as_shown, plan_identity
from zonule.report.plan_json import library_edition
from zonule.report.sheet.records import Foot
from zonule.report.sheet.wording import NOT_THE_PLAN, SOURCE_PRINT
from zonule.report.words import day


def foot(plan: Plan, *, made_at: datetime) -> Foot:
    """Return the foot of the sheet of a plan, made at an instant."""
    identity = plan_identity(plan)
    which = " · ".join(
        (
            f"Zonule {__version__}",
            f"library {library_edition()[:8]}",
            f"plan {as_shown(identity)}",
            f"made {made(made_at, plan.practice.time_zone)}",
        )
    )
    payload = as_scanned(identity)
    return Foot(
        lines=(which, NOT_THE_PLAN, SOURCE_PRINT),
        payload=payload,
        drawing=drawn(payload),
        alt=f"Code of the plan {as_shown(identity)}",
    )


def made(at: datetime, time_zone: str) -> str:
    """Return an instant as the practice's clock shows it.

    Examples
    --------
    >>> from datetime import UTC
    >>> made(datetime(2026, 7, 1, 6, 5, tzinfo=UTC), "Europe/London")
    '1 July 2026, 07:05 (Europe/London)'
    """
    if at.tzinfo is None:
        raise ValueError("an instant without a time zone has no day")
    there = at.astimezone(ZoneInfo(time_zone))
    return f"{day(there.date())}, {there:%H:%M} ({time_zone})"


def code_of(payload: str) -> segno.QRCode:
    """Return the code of a text, error level M and no higher."""
    return segno.make_qr(payload, error="m", boost_error=False)


def drawn(payload: str) -> str:
    """Return the code of a text as SVG, its quiet zone with it."""
    return code_of(payload).svg_inline(border=4, dark="#000", light="#fff")
