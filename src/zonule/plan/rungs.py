"""Builds the rungs of a plan: each place with a power and its bands, or why it has none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from zonule.assessment.applicable import FormulaUse, formulas_for
from zonule.assessment.eye_optics import EyeOptics, eye_optics
from zonule.assessment.measured import Measured
from zonule.assessment.prediction import Prediction, choose_power, predict
from zonule.assessment.risk.chance import Chance
from zonule.errors import NoSuchName
from zonule.findings.answers import number
from zonule.findings.conditions import Lookup, parse
from zonule.findings.facts import facts_of
from zonule.findings.records import Case
from zonule.library.placements import Place, places
from zonule.plan.caveats import caveats_of, store_too_far
from zonule.plan.closed import Verdict, verdict
from zonule.plan.lens_choice import LensFor, lens_for
from zonule.plan.records import Rung, expected
from zonule.plan.wish import Wish
from zonule.practice.lesson import Lesson
from zonule.practice.records import Lens, Practice, StockedPower

LENGTH_WITHIN_MM: Final = 0.5
"""How far the length of an angle-supported lens may be off; white-to-white itself is no surer."""
SHORT_IN_A_WIDE_SULCUS_MM: Final = 13.0


@dataclass(frozen=True, slots=True)
class Given:
    """What every rung of one plan is built from."""

    case: Case
    practice: Practice
    lookup: Lookup
    measured: Measured | None
    lesson: Lesson | None
    withheld: str
    """Why no power may be shown at all; empty when powers may be."""
    wish: Wish = field(default_factory=Wish)


def _stock(lens: Lens) -> tuple[StockedPower, ...]:
    return tuple(sorted((p for p in lens.stock if p.quantity), key=lambda power: power.power_d))


def _predicted(
    given: Given, place: Place, lens: Lens
) -> tuple[tuple[FormulaUse, ...], Prediction | None]:
    assert given.measured is not None
    uses = formulas_for(place, lens, given.measured, given.lookup)
    optics: EyeOptics | None = eye_optics(place, uses, given.measured)
    if optics is None:
        return uses, None
    prediction = predict(
        place=place,
        lens=lens,
        uses=uses,
        optics=optics,
        measured=given.measured,
        lesson=given.lesson,
        powers_d=np.array([power.power_d for power in _stock(lens)]),
    )
    return uses, prediction


def _chosen_power(given: Given, prediction: Prediction, bag: Rung | None) -> float:
    """What is asked for, the bag's power where the same lens goes there, else by the aim rule."""
    asked = _asked_power(given, prediction)
    if asked is not None:
        return asked
    same = bag is not None and bag.lens == prediction.lens and bag.chosen is not None
    if prediction.place.power_from == "bag" and same:
        assert bag is not None
        assert bag.chosen is not None
        return bag.chosen.power_d
    in_room = np.array([power.kept == "in_room" for power in _stock(prediction.lens)])
    return choose_power(prediction, given.case.aim, in_room=in_room)


def _asked_power(given: Given, prediction: Prediction) -> float | None:
    """Return the power a person asks for in this place; None when nobody did."""
    if given.wish.power_d is None or given.wish.hand != prediction.place.key:
        return None
    powers = [float(power) for power in prediction.powers_d]
    if given.wish.power_d not in powers:
        raise NoSuchName(
            f"power of {prediction.lens.name}",
            f"{given.wish.power_d:+.2f}",
            [f"{power:+.2f}" for power in powers],
        )
    return given.wish.power_d


def _no_formula(uses: Iterable[FormulaUse]) -> str:
    said = "; ".join(f"{use.label}: {use.says}" for use in uses)
    return f"no formula applies ({said})"


def _with_power(
    given: Given, place: Place, found: Verdict, chosen: LensFor, bag: Rung | None
) -> Rung:
    lens = chosen.lens
    assert lens is not None
    uses, prediction = _predicted(given, place, lens)
    if prediction is None:
        waits = next((use.says for use in uses if use.applies is None), "")
        return Rung(
            place=place, order=-1, lens=lens, refused_because=_no_formula(uses), waits_for=waits
        )
    power_d = _chosen_power(given, prediction, bag)
    index = prediction.index_of(power_d)
    aim_d = given.case.aim.spherical_equivalent_d
    moved = prediction.carried.mean_d[index] if prediction.carried else 0.0
    if far := store_too_far(prediction, aim_d - float(moved)):
        return Rung(place=place, order=-1, lens=lens, refused_because=far)
    stocked = _stock(lens)[index]
    return Rung(
        place=place,
        order=0,
        lens=lens,
        prediction=prediction,
        chosen=expected(prediction, index, aim_d, stocked.kept),
        in_stock=stocked,
        low_move_d=float(prediction.low_move_d[index] + moved),
        high_move_d=float(prediction.high_move_d[index] + moved),
        exact_power_d=prediction.optics.power_for(aim_d - float(moved)),
        caveats=caveats_of(
            prediction,
            index,
            aim_d=aim_d - float(moved),
            findings_say=found.says,
            ring_says=_ring(place, given.lookup),
            wander_says=_may_wander(place, lens, given),
            refused_lenses=chosen.refused_lenses,
        ),
    )


def _may_wander(place: Place, lens: Lens, given: Given) -> str:
    """Return that a usual lens may be too short for this sulcus, where the eye is wide or long."""
    if place.key != "sulcus_three_piece" or lens.overall_mm > SHORT_IN_A_WIDE_SULCUS_MM:
        return ""
    wide = parse("white_to_white_mm > 12.5").holds(given.lookup)
    long = parse("axial_length_mm > 26").holds(given.lookup)
    if not (wide or long):
        return ""
    return f"a {lens.overall_mm:.1f} mm lens may wander here: capture it, or take a longer one"


def _ring(place_: Place, lookup: Lookup) -> str:
    """Return what a tension ring does to the power, where one may be wanted."""
    if place_.key != "bag":
        return ""
    weak = (
        "phacodonesis in ['slight','marked']",
        "dialysis_clock_hours > 0",
        "pxf == true",
    )
    if not any(parse(text).holds(lookup) for text in weak):
        return ""
    return "with a tension ring the power stays, it may add +0.0 to +0.2 D"


def _length_unfit(place: Place, lens: Lens, lookup: Lookup) -> Verdict | None:
    """Return why an angle-supported lens does not fit the eye's width; None when it may."""
    if place.longer_than_white_to_white_mm is None:
        return None
    width = number(lookup("white_to_white_mm"))
    if width is None:
        return Verdict(waits_for="white-to-white, for the length of the lens")
    needed = width + place.longer_than_white_to_white_mm
    if abs(lens.overall_mm - needed) <= LENGTH_WITHIN_MM:
        return None
    return Verdict(
        refused_because=f"needs a lens of {needed:.1f} mm (white-to-white + "
        f"{place.longer_than_white_to_white_mm:.1f}), the store has {lens.overall_mm:.1f}"
    )


def _closed(place: Place, found: Verdict) -> Rung:
    return Rung(
        place=place, order=-1, refused_because=found.refused_because, waits_for=found.waits_for
    )


def _rung(given: Given, place: Place, found: Verdict, bag: Rung | None) -> Rung:
    """Return the rung of a place that eye, surgeon and patient leave open."""
    if not place.holds_lens:
        return Rung(place=place, order=0)
    if place.lens_already_in and (bag is None or bag.chosen is None) and not given.withheld:
        return Rung(place=place, order=-1, refused_because="no lens is meant for the bag")
    chosen = lens_for(place, given.practice, bag.lens if bag else None)
    if chosen.lens is None:
        return Rung(place=place, order=-1, refused_because=chosen.refused_because)
    if unfit := _length_unfit(place, chosen.lens, given.lookup):
        return Rung(
            place=place,
            order=-1,
            lens=chosen.lens,
            refused_because=unfit.refused_because,
            waits_for=unfit.waits_for,
        )
    if given.withheld or given.measured is None:
        return Rung(place=place, order=0, lens=chosen.lens, refused_because=given.withheld)
    return _with_power(given, place, found, chosen, bag)


def rungs_of(given: Given) -> tuple[Rung, ...]:
    """Return every rung: intended first, backups in order, then those refused or waiting.

    Staying without a lens for good is never offered: only the surgeon's word enters it.
    """
    built: list[Rung] = []
    intended = ""
    for place in places().values():
        if place.property_of or place.key == "none_final":
            continue
        found = verdict(place, given.case.operative_eye, given.practice, given.lookup)
        if found.closes:
            built.append(_closed(place, found))
            continue
        bag = next((rung for rung in built if rung.place.key == "bag"), None)
        intended = intended or place.key
        rung = _rung(_in_hand(given, intended), place, found, bag)
        # The intended place stays intended without a power; nothing takes its place in silence.
        built.append(replace(rung, order=0) if place.key == intended else rung)
    offered = [rung for rung in built if rung.order >= 0]
    ordered = [replace(rung, order=index) for index, rung in enumerate(offered)]
    return tuple(ordered + [r for r in built if r.order < 0])


def _in_hand(given: Given, intended: str) -> Given:
    """Return what is given, a power asked for without a place being meant for the intended one."""
    return replace(given, wish=replace(given.wish, hand=given.wish.hand or intended))


def with_likelihoods(rungs: Sequence[Rung], found: Mapping[str, Chance]) -> tuple[Rung, ...]:
    """Return the rungs of a plan, each that is offered with its likelihood and range."""
    return tuple(
        replace(rung, likelihood=found[rung.place.key].value, likely_between=found[rung.place.key])
        if rung.offered and rung.place.key in found
        else rung
        for rung in rungs
    )


def given_for(
    case: Case,
    practice: Practice,
    *,
    measured: Measured | None,
    lesson: Lesson | None,
    withheld: str,
    wish: Wish,
) -> Given:
    """Return what every rung of a plan is built from."""
    return Given(
        case=case,
        practice=practice,
        lookup=facts_of(case, case.eye_to_do),
        measured=measured,
        lesson=lesson,
        withheld=withheld,
        wish=wish,
    )
