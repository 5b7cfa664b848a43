"""Turns rows of a risk table into the parts that several records share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from zonule.library.reading import status
from zonule.library.risk_records import Rate


def read_rate(row: Mapping[str, Any]) -> Rate:
    """Return a rate from a row of a table.

    Examples
    --------
    >>> read_rate({"value": 0.0069, "status": "confirmed", "source": "audit2024news"}).value
    0.0069
    """
    fields = {"value": None, **row, "status": status(row["status"]), "ci": pair(row.get("ci"))}
    return Rate(**fields)


def pair(ends: Any) -> tuple[float, float] | None:
    """Return both ends of an interval, or None where there is none.

    Examples
    --------
    >>> pair([1, 2])
    (1.0, 2.0)
    """
    if ends is None:
        return None
    low, high = ends
    return float(low), float(high)
