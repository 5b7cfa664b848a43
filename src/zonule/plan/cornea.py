"""The corneal endothelium: what this eye has, what surgery is expected to leave, and for how long.

Everything printed comes from ``library/endothelium.toml``. A count that was not recorded is never
taken as usual for the age.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from zonule.findings.answers import Unknown, number
from zonule.findings.conditions import Lookup
from zonule.findings.density import dense
from zonule.findings.records import Case
from zonule.formulas import endothelium as formulas
from zonule.formulas.uncertainty import normal
from zonule.library.reading import status, table
from zonule.plan.cornea_parts import (
    After,
    Band,
    Cornea,
    CoursePoint,
    LossGroup,
    Outlook,
    Series,
    Threshold,
)

LEVELS: Final = (0.05, 0.25, 0.5, 0.75, 0.95)
"""Shares of eyes that lose more: the ends of nine in ten, of half, and the middle."""
EVERY_YEARS: Final = 5
NO_OWN_LENS: Final = (
    "printed losses are those of phaco, and this eye has no lens of its own to bring out"
)


def cornea_of(case: Case, lookup: Lookup) -> Cornea:
    """Return what is known of the endothelium, and what surgery is expected to leave.

    Parameters
    ----------
    case
        Both eyes.
    lookup
        Every finding of the eye to be done, by the name that rules use.
    """
    rows = table("endothelium")
    answer, age = lookup("ecd"), number(lookup("age"))
    count, lens = number(answer), case.operative_eye.lens_status
    waits = _waits(count, lens)
    no_lens = lens in ("aphakic", "pseudophakic")
    after = None if count is None or waits or no_lens else _after(_group(count), count)
    return Cornea(
        count_per_mm2=count,
        why_unknown=answer.value if isinstance(answer, Unknown) else "",
        waits_for=waits,
        usual_per_mm2=None if age is None else usual_count(age),
        age_years=age,
        after=after,
        beside=_beside(count) if after is not None and count is not None else None,
        no_loss_because=NO_OWN_LENS if no_lens else "",
        loss_range=_loss_range(),
        thresholds=tuple(_threshold(row, count, after) for row in rows["threshold"]),
        series=() if no_lens else _series(dense(case.operative_eye), None if waits else count),
        course=() if after is None else _course(after),
        yearly_rate=float(rows["yearly_loss"]["after_phaco"]["share"]),
        yearly_rate_unoperated=float(rows["yearly_loss"]["unoperated"]["share"]),
        rupture_waits_for=rows["after_rupture"]["waits_for"],
        rupture_says=rows["after_rupture"]["says"],
    )


def _waits(count: float | None, lens: str | Unknown) -> tuple[str, ...]:
    missing = ("ecd",) if count is None else ()
    return (*missing, "lens_status") if isinstance(lens, Unknown) else missing


def usual_count(age_years: float) -> float:
    """Return the count that is usual for an age.

    Examples
    --------
    >>> round(usual_count(80))
    2365
    """
    row = table("endothelium")["usual_by_age"]
    (first_age, second_age), (first, second) = row["anchor_ages"], row["anchor_per_mm2"]
    return float(
        formulas.usual_count(
            age_years=age_years,
            first_age_years=first_age,
            first_per_mm2=first,
            second_age_years=second_age,
            second_per_mm2=second,
        )
    )


def _groups() -> list[dict[str, Any]]:
    return list(table("endothelium")["early_loss"]["group"])


def _group(count: float) -> dict[str, Any]:
    """Return the group of a count; 2,000 itself belongs to 1,000 to 2,000, as it is printed."""
    first, *rest = _groups()
    if count < first["to_per_mm2"]:
        return first
    return next(row for row in rest if count <= row["to_per_mm2"])


def _beside(count: float) -> After | None:
    """Return what the nearest other group would say, where the count lies near its edge."""
    within = float(table("endothelium")["group_edge"]["within_share"])
    own = _group(count)["key"]
    for row in _groups():
        edges = (row["from_per_mm2"], row["to_per_mm2"])
        near = any(abs(count - edge) <= within * edge for edge in edges)
        if near and row["key"] != own:
            return _after(row, count)
    return None


def _loss_range() -> tuple[float, float]:
    means = [float(row["share"]) for row in _groups()]
    return min(means), max(means)


def _after(row: Mapping[str, Any], count: float) -> After:
    mean, sd = float(row["share"]), float(row["sd"])
    losses = formulas.loss_quantile(
        mean_share=mean, sd_share=sd, probability=1.0 - np.array(LEVELS)
    )
    ends = np.clip([mean + sd, mean - sd], 0.0, 1.0)
    low, high = formulas.count_after(before_per_mm2=count, loss_share=ends)
    large = float(table("endothelium")["large_loss"]["share"])
    return After(
        group=LossGroup(row["key"], row["label"], int(row["eyes"]), mean, sd),
        count=_band(formulas.count_after(before_per_mm2=count, loss_share=losses)),
        one_sd=(float(low), float(high)),
        chance_of_large_loss=float(normal.cdf((mean - large) / sd)),
    )


def _band(values: formulas.Array) -> Band:
    lowest, low, middle, high, highest = (float(one) for one in values)
    return Band(middle, (low, high), (lowest, highest))


def _ends(count: Band) -> formulas.Array:
    return np.array([count.nine_in_ten[0], *count.half, count.nine_in_ten[1]])


def _threshold(row: Mapping[str, Any], count: float | None, after: After | None) -> Threshold:
    below = float(row["below_per_mm2"])
    asked = bool(row.get("years", False)) and after is not None
    years = _years(after, below) if asked and after is not None else (None, None)
    return Threshold(
        key=row["key"],
        label=row["label"],
        below_per_mm2=below,
        outlook=_outlook(below, count, after),
        years=years[1],
        years_middle=years[0],
        source=row["source"],
        status=status(row["status"]),
    )


def _years(after: After, below: float) -> tuple[float, tuple[float, float]]:
    counts = np.array([after.count.middle, *after.count.nine_in_ten])
    rate = table("endothelium")["yearly_loss"]["after_phaco"]["share"]
    middle, low, high = formulas.years_to(
        count_per_mm2=counts, threshold_per_mm2=below, yearly_rate=rate
    )
    return float(middle), (float(low), float(high))


def _outlook(below: float, count: float | None, after: After | None) -> Outlook:
    """Return how a count stands to a threshold now, and with surgery by the band of nine in ten."""
    if count is None:
        return "not_known"
    if count < below:
        return "below_now"
    if after is None:
        return "above_now"
    if after.count.middle < below:
        return "below_expected"
    return "below_possible" if after.count.nine_in_ten[0] < below else "above"


def _series(is_dense: bool | None, count: float | None) -> tuple[Series, ...]:
    rows = [r for r in table("endothelium")["series"] if is_dense in (None, r["dense"])]
    return tuple(
        Series(
            label=row["label"],
            share=float(row["share"]),
            weeks=row.get("weeks"),
            count_per_mm2=None if count is None else count * (1.0 - float(row["share"])),
            source=row["source"],
            status=status(row["status"]),
        )
        for row in sorted(rows, key=lambda row: float(row["share"]))
    )


def _course(after: After) -> tuple[CoursePoint, ...]:
    """Return the count every few years after surgery, up to the horizon."""
    rows = table("endothelium")
    rate, horizon = rows["yearly_loss"]["after_phaco"]["share"], int(rows["horizon"]["years"])
    start = np.insert(_ends(after.count), 2, after.count.middle)
    return tuple(
        CoursePoint(
            float(years),
            _band(formulas.count_later(count_per_mm2=start, years=years, yearly_rate=rate)),
        )
        for years in range(0, horizon + 1, EVERY_YEARS)
    )
