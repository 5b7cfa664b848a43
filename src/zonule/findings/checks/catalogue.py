"""Makes a problem out of a check's row in ``library/checks.toml`` and the values at hand."""

from __future__ import annotations

from typing import Any, Final

from zonule.errors import LibraryFault, NoSuchName, Problem, Severity, Side, Stops
from zonule.findings.derived import deciding_biometry
from zonule.findings.fields import label
from zonule.findings.records import Eye
from zonule.library.reading import table

_SEVERITIES: Final[dict[str, Severity]] = {
    "block": "block",
    "confirm": "confirm",
    "warn": "warn",
    "mark": "mark",
    "info": "info",
}
_STOPS: Final[dict[str, Stops]] = {
    "power": "power",
    "signature": "signature",
    "first_cut": "first_cut",
    "opening_a_lens": "opening_a_lens",
    "nothing": "nothing",
}


def row(name: str) -> dict[str, Any]:
    """Return the row of a check.

    Raises
    ------
    NoSuchName
        If there is no such check.
    """
    rows = table("checks")
    if name not in rows:
        raise NoSuchName("check", name, rows)
    found: dict[str, Any] = rows[name]
    return found


def threshold(name: str, key: str) -> float:
    """Return one threshold of a check.

    Raises
    ------
    LibraryFault
        If the check has no such threshold.

    Examples
    --------
    >>> threshold("unequal_corneas", "above_d")
    0.9
    """
    if key not in row(name):
        raise LibraryFault(f"check {name} has no threshold {key}")
    return float(row(name)[key])


def problem(
    name: str,
    *,
    field: str,
    label: str,
    value: str = "",
    eye: Side | None = None,
    **words: str,
) -> Problem:
    """Return the problem of a check, its words filled in.

    A check ``of_both_eyes`` casts doubt on either eye, whichever its field names.

    Examples
    --------
    >>> problem(
    ...     "pupil_smaller_when_dilated",
    ...     field="left.pupil_dilated_mm",
    ...     label="Dilated pupil, left eye",
    ...     value="3 mm",
    ...     eye="left",
    ...     undilated="4 mm",
    ... ).sentence()
    'Dilated pupil, left eye 3 mm: below the undilated pupil of 4 mm. Exchange the two,
    or measure again.'
    """
    found = row(name)
    return Problem(
        check=name,
        field=field,
        label=label,
        value=value,
        limit=found["limit"].format(**words),
        remedy=found["remedy"].format(**words),
        severity=_SEVERITIES[found["severity"]],
        stops=_STOPS[found["stops"]],
        eye=None if found.get("of_both_eyes") else eye,
        source=found["source"],
        status=found["status"],
    )


def of_eye(name: str, eye: Eye, key: str, *, value: str = "", **words: str) -> Problem:
    """Return a problem of one finding of an eye."""
    return problem(
        name,
        field=f"{eye.side}.{key}",
        label=label("eye", key, eye.side),
        value=value,
        eye=eye.side,
        **words,
    )


def of_sitting(name: str, eye: Eye, key: str, *, value: str = "", **words: str) -> Problem:
    """Return a problem of one value of the sitting that the power rests on."""
    deciding = deciding_biometry(eye)
    place = next((n for n, one in enumerate(eye.biometry) if one is deciding), 0)
    return problem(
        name,
        field=f"{eye.side}.biometry[{place}].{key}",
        label=label("biometry", key, eye.side),
        value=value,
        eye=eye.side,
        **words,
    )


def of_operation(name: str, eye: Eye, key: str, *, value: str = "", **words: str) -> Problem:
    """Return a problem of one value of an eye's operation."""
    return problem(
        name,
        field=f"{eye.side}.operation.{key}",
        label=label("operation", key, eye.side),
        value=value,
        eye=eye.side,
        **words,
    )


def millimetres(value: float) -> str:
    """Return a length as a person reads it."""
    return f"{value:.2f} mm"


def dioptres(value: float) -> str:
    """Return a size in dioptres, two decimals, with a true minus."""
    return f"{value:.2f} D".replace("-", "−")


def signed_dioptres(value: float) -> str:
    """Return a refraction or power with its sign.

    Examples
    --------
    >>> signed_dioptres(-2.5)
    '−2.50 D'
    """
    return f"{value:+.2f} D".replace("-", "−")
