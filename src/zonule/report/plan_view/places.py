"""The first column: intended, backups in order, what is closed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.figures.band import Band, small_band
from zonule.report.plan_view.phrases import phrase
from zonule.report.plan_view.records import Phrase, RefusedView, RungView, Shown
from zonule.report.words import dioptres, kept, of_100, sentence_case, span

SAID_BENEATH: Final = ("ring", "store_not_near", "one_formula", "may_wander")


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
    dashed = ", spread assumed" if rung.place.spread_status == "assumption" else ""
    return small_band(
        band_of(rung),
        lowest_d=ends[0],
        highest_d=ends[1],
        aim_d=plan.case.aim.spherical_equivalent_d,
        in_hand=rung is plan.in_hand,
        title=f"Expected: {rung.place.label}",
        described=f"half of such eyes {span(*rung.chosen.bands['p50'])} D, nine in ten "
        f"{span(*rung.chosen.bands['p90'])} D{dashed}",
    )


def _ends(plan: Plan, rungs: Sequence[Rung]) -> tuple[float, float]:
    """Return the ends of the axis that all small bands share."""
    aim_d = plan.case.aim.spherical_equivalent_d
    bands = [rung.chosen.bands["p90"] for rung in rungs if rung.chosen]
    ends = [end for band in bands for end in band] + [aim_d - 0.5, aim_d + 0.5]
    return min(ends), max(ends)


def _without_power(plan: Plan, rung: Rung) -> tuple[Phrase, ...]:
    """Return why a place has no power; what holds for every place is said once, above."""
    waits = f"waits for {rung.waits_for}" if rung.waits_for else ""
    told = rung.refused_because or waits if rung.place.holds_lens else rung.place.note
    if told and told == plan.power_withheld:
        told = sentences.NO_POWER_HERE
    return ((Shown(told, f"placements.{rung.place.key}"),),) if told else ()


def _notes(plan: Plan, rung: Rung) -> tuple[Phrase, ...]:
    """Return what is said beneath a place, each with the why of its numbers."""
    if rung.chosen is None:
        return _without_power(plan, rung)
    said = sentences.bounds(rung)
    bounds = said and phrase(
        said, (said.partition(" D")[0] + " D", f"placements.{rung.place.key}.at_bounds_d")
    )
    assumed = (one.says for one in rung.caveats if one.name in SAID_BENEATH)
    plain = (*sentences.assumed(rung), *assumed)
    return (*((Shown(one),) for one in plain), *((bounds,) if bounds else ()))


def _order(rung: Rung) -> str:
    return f"backup {rung.order}" if rung.order else "intended"


def _rung(plan: Plan, rung: Rung, ends: tuple[float, float]) -> RungView:
    chosen, root = rung.chosen, f"placements.{rung.place.key}"
    likely, wound = rung.likelihood, rung.place.wound_mm
    return RungView(
        key=rung.place.key,
        order=rung.order,
        order_says=_order(rung),
        name=rung.place.label,
        in_hand=rung is plan.in_hand,
        happens_when=rung.place.happens_when,
        likelihood=None if likely is None else Shown(sentences.likely(rung), f"{root}.likelihood"),
        power=Shown(dioptres(chosen.power_d), f"{root}.power_d") if chosen else None,
        lens=rung.lens.name if rung.lens else "",
        kept=kept(chosen.kept) if chosen else "",
        expected=Shown(dioptres(chosen.refraction_d), f"{root}.refraction_d") if chosen else None,
        nine_in_ten=Shown(span(*chosen.bands["p90"]), f"{root}.bands.p90") if chosen else None,
        within=Shown(of_100(chosen.within_0_50), f"{root}.within_0_50") if chosen else None,
        wound=None if wound is None else Shown(f"wound {wound:.1f} mm", f"{root}.wound_mm"),
        notes=_notes(plan, rung),
        figure=_figure(plan, rung, ends),
    )


def _rare(plan: Plan, rung: Rung) -> bool:
    """Return whether a place stands among the rare ones; the one in hand never does."""
    return rung.rare and rung is not plan.in_hand


def rungs_of(plan: Plan) -> tuple[tuple[RungView, ...], tuple[RungView, ...]]:
    """Return the places shown at length, and the rare ones."""
    offered = [rung for rung in plan.rungs if rung.offered]
    ends = _ends(plan, offered)
    at_length = tuple(_rung(plan, rung, ends) for rung in offered if not _rare(plan, rung))
    return at_length, tuple(_rung(plan, rung, ends) for rung in offered if _rare(plan, rung))


def refused_of(plan: Plan) -> tuple[RefusedView, ...]:
    """Return what is closed to a lens, each reason once."""
    said = sorted({one.says for r in plan.rungs for one in r.caveats if one.name == "lens_refused"})
    return (
        *(RefusedView((Shown(sentence_case(one)),), "") for one in said),
        *(
            RefusedView(tuple(Shown(one.label, f"placements.{one.key}") for one in places), reason)
            for reason, places in plan.closed_by_reason().items()
        ),
    )
