"""The first column: intended, backups in order, what is closed."""

from __future__ import annotations

from collections.abc import Sequence

from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.figures.band import Band, small_band
from zonule.report.plan_view.records import RefusedView, RungView, Shown
from zonule.report.words import dioptres, kept, of_100, sentence_case, span

RARE_BELOW = 0.01
"""Places less likely than this stand together, folded; on paper they are open."""


def band_of(rung: Rung) -> Band:
    """Return the band of a place with a power, as it is drawn."""
    assert rung.chosen is not None
    return Band(
        middle_d=rung.chosen.refraction_d,
        half_d=rung.chosen.bands["p50"],
        nine_in_ten_d=rung.chosen.bands["p90"],
        assumed=rung.place.spread_status == "assumption",
    )


def _figure(plan: Plan, rung: Rung, ends: tuple[float, float]) -> str:
    if rung.chosen is None:
        return ""
    said = f"{dioptres(rung.chosen.refraction_d)}, nine in ten {span(*rung.chosen.bands['p90'])} D"
    return small_band(
        band_of(rung),
        lowest_d=ends[0],
        highest_d=ends[1],
        aim_d=plan.case.aim.spherical_equivalent_d,
        title=f"Expected: {rung.place.label}",
        described=said,
    )


def _ends(plan: Plan, rungs: Sequence[Rung]) -> tuple[float, float]:
    """Return the ends of the axis that all small bands share."""
    aim_d = plan.case.aim.spherical_equivalent_d
    bands = [rung.chosen.bands["p90"] for rung in rungs if rung.chosen]
    ends = [end for band in bands for end in band] + [aim_d - 0.5, aim_d + 0.5]
    return min(ends), max(ends)


def _notes(rung: Rung) -> tuple[str, ...]:
    if rung.chosen is None:
        waits = f"waits for {rung.waits_for}" if rung.waits_for else ""
        told = rung.refused_because or waits if rung.place.holds_lens else rung.place.note
        return (told,) if told else ()
    wound = f"wound {rung.place.wound_mm:.1f} mm" if rung.place.wound_mm is not None else ""
    shown = ("ring", "store_not_near", "one_formula", "may_wander")
    caveats = (one.says for one in rung.caveats if one.name in shown)
    return tuple(
        one for one in (*sentences.assumed(rung), sentences.bounds(rung), wound, *caveats) if one
    )


def _rung(plan: Plan, rung: Rung, ends: tuple[float, float]) -> RungView:
    chosen, root = rung.chosen, f"placements.{rung.place.key}"
    likely = rung.likelihood
    return RungView(
        key=rung.place.key,
        order=rung.order,
        name=rung.place.label,
        in_hand=plan.in_hand is not None and plan.in_hand.place.key == rung.place.key,
        happens_when=rung.place.happens_when,
        likelihood=None if likely is None else Shown(of_100(likely), f"{root}.likelihood"),
        power=Shown(dioptres(chosen.power_d), f"{root}.power_d") if chosen else None,
        lens=rung.lens.name if rung.lens else "",
        kept=kept(chosen.kept) if chosen else "",
        expected=Shown(dioptres(chosen.refraction_d), f"{root}.refraction_d") if chosen else None,
        band=Shown(span(*chosen.bands["p90"]), f"{root}.bands.p90") if chosen else None,
        within=Shown(of_100(chosen.within_0_50), f"{root}.within_0_50") if chosen else None,
        notes=_notes(rung),
        figure=_figure(plan, rung, ends),
    )


def rungs_of(plan: Plan) -> tuple[tuple[RungView, ...], tuple[RungView, ...]]:
    """Return the places shown at length, and the rare ones."""
    offered = [rung for rung in plan.rungs if rung.offered]
    ends = _ends(plan, offered)
    views = [(rung, _rung(plan, rung, ends)) for rung in offered]
    rare = [
        rung.order > 0 and rung.likelihood is not None and rung.likelihood < RARE_BELOW
        for rung, _ in views
    ]
    held = [view.in_hand for _, view in views]
    long = tuple(v for (_, v), r, h in zip(views, rare, held, strict=True) if not r or h)
    short = tuple(v for (_, v), r, h in zip(views, rare, held, strict=True) if r and not h)
    return long, short


def refused_of(plan: Plan) -> tuple[RefusedView, ...]:
    """Return what is closed to a lens, each reason once."""
    said = sorted({one.says for r in plan.rungs for one in r.caveats if one.name == "lens_refused"})
    by_reason: dict[str, list[str]] = {}
    for rung in plan.rungs:
        if not rung.offered:
            reason = f"waits for {rung.waits_for}" if rung.waits_for else rung.refused_because
            by_reason.setdefault(reason, []).append(rung.place.label)
    return (
        *(RefusedView(sentence_case(one), "") for one in said),
        *(RefusedView("; ".join(places), reason) for reason, places in by_reason.items()),
    )
