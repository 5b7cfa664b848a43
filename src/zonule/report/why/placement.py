"""Why a place has the power and the refraction it has."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import Final

from zonule.assessment.measured import measured
from zonule.formulas.power import FORMULAS
from zonule.plan.records import Expected, Plan, Rung
from zonule.report import sentences
from zonule.report.why import held_by
from zonule.report.why.at import (
    At,
    by_formula,
    constants_said,
    formula_inputs,
    measurements,
    own_constant,
    place_inputs,
    sources_at,
)
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.why.law import law_paths, spread_paths
from zonule.report.words import dioptres, signed, span

RULES: Final = {
    "best_chance": "the largest share within ±0.50 D of the aim",
    "nearest": "the median nearest to the aim",
    "asymmetric": "the least expected loss, hyperopia counting more",
}


def _power(at: At) -> Explanation:
    case = at.plan.case
    aim = case.aim
    same = _as_in_the_bag(at)
    how = (
        "The power chosen for the bag: the same lens, unchanged."
        if same
        else f"Of the powers in stock the one with {RULES[aim.rule]}; a tie goes to the lens in "
        "the room, then to the stronger."
    )
    assert at.rung.exact_power_d is not None
    assert at.rung.lens is not None
    return Explanation(
        path=f"{at.root}.power_d",
        title=f"Lens power · {at.name}",
        value=dioptres(at.chosen.power_d),
        how=how,
        inputs=(
            Input("Aim", dioptres(aim.spherical_equivalent_d)),
            Input("Lens", at.rung.lens.name),
            Input("Power that meets the aim exactly", dioptres(at.rung.exact_power_d)),
            Input("Expected with the power chosen", dioptres(at.chosen.refraction_d)),
            *measurements(at),
            *place_inputs(at),
            *formula_inputs(at),
        ),
        sources=sources_at(at),
        status=at.rung.place.move_status,
        held_by=(*held_by.FORMULAS, *held_by.PLACES),
        caveats=_with_rule_of_thumb(at),
    )


def _as_in_the_bag(at: At) -> bool:
    """Tell whether the power is the bag's: the same lens goes there unchanged."""
    bag, place = at.plan.rung("bag"), at.rung.place
    if place.power_from != "bag" or place.key == "bag" or bag is None or bag.chosen is None:
        return False
    return bag.lens == at.rung.lens


def _with_rule_of_thumb(at: At) -> tuple[str, ...]:
    rule = sentences.sulcus_against_rule(at.plan) if at.rung.place.rule_of_thumb else ""
    return (*at.caveats(), rule) if rule else at.caveats()


def explain_refraction(at: At) -> Explanation:
    """Return why a power is expected to leave the refraction it is shown with."""
    carried = at.prediction.carried
    moved = (
        f" Carried over from the first eye: {dioptres(float(carried.mean_d[at.index]))}."
        if carried
        else ""
    )
    return Explanation(
        path=f"{at.root}.refraction_d",
        title=f"Expected refraction with {dioptres(at.chosen.power_d)} · {at.name}",
        value=dioptres(at.chosen.refraction_d),
        how="Median of the predictive law: the mean of the formulas that have a say, equal "
        "weights, the lens plane moved by millimetres through each formula's optics." + moved,
        inputs=(*measurements(at), *place_inputs(at), *by_formula(at), *formula_inputs(at)),
        sources=sources_at(at),
        status=at.rung.place.move_status,
        held_by=(*held_by.FORMULAS, *held_by.PLACES),
        caveats=at.caveats(),
    )


def _formula(at: At, column: int) -> Explanation:
    use = at.prediction.optics.uses[column]
    formula = FORMULAS[use.name]
    value = float(at.prediction.by_formula_d[at.index, column])
    position = float(at.prediction.optics.position_mm[column])
    return Explanation(
        path=f"{at.root}.by_formula.{use.name}",
        title=f"{use.label} · {at.title_end}",
        value=dioptres(value),
        how=f"{use.label} as published; lens plane at {position:.2f} mm behind the cornea. "
        f"Verified by: {formula.verified_by}.",
        inputs=(*measurements(at), Input("Constants", constants_said(use)), *place_inputs(at)),
        sources=(formula.reference,),
        status=formula.status,
        held_by=held_by.FORMULAS,
    )


def _exact_power(at: At) -> Explanation:
    assert at.rung.exact_power_d is not None
    return replace(
        _power(at),
        path=f"{at.root}.exact_power_d",
        title=f"Power that meets the aim exactly · {at.name}",
        value=dioptres(at.rung.exact_power_d),
        how="Solved from the mean of the formulas that have a say, the lens plane moved by "
        "millimetres through each formula's optics; no step, no stock.",
    )


def _move(at: At) -> Explanation:
    place, own = at.rung.place, at.rung.place.a_constant is not None
    return Explanation(
        path=f"{at.root}.{'a_constant' if own else 'move_mm'}",
        title=f"Where the lens plane lies · {at.name}",
        value=own_constant(at) if own else f"{signed(place.move_mm)} mm from the bag",
        how=place.note,
        inputs=place_inputs(at),
        sources=(place.source,),
        status=place.move_status,
        held_by=held_by.PLACES,
    )


def _bounds(at: At) -> Explanation:
    assert at.rung.low_move_d is not None
    assert at.rung.high_move_d is not None
    return replace(
        _move(at),
        path=f"{at.root}.at_bounds_d",
        title=f"Expected refraction at both bounds of the place · {at.name}",
        value=f"{span(at.rung.low_move_d, at.rung.high_move_d)} D",
        how="The same lens with its plane at the forward and at the rearward bound within which "
        "the mean place may truly lie.",
    )


def _paths_of(at: At) -> dict[str, Explain]:
    root = at.root
    moved = "move_mm" if at.rung.place.a_constant is None else "a_constant"
    paths: dict[str, Explain] = {
        root: partial(_power, at),
        f"{root}.power_d": partial(_power, at),
        f"{root}.exact_power_d": partial(_exact_power, at),
        f"{root}.refraction_d": partial(explain_refraction, at),
        f"{root}.{moved}": partial(_move, at),
        f"{root}.at_bounds_d": partial(_bounds, at),
    }
    for column, use in enumerate(at.prediction.optics.uses):
        paths[f"{root}.by_formula.{use.name}"] = partial(_formula, at, column)
    return paths | law_paths(at) | spread_paths(at)


def at_rung(plan: Plan, rung: Rung, chosen: Expected | None, root: str) -> At | None:
    """Return a power of a rung ready to be explained; None where the rung has no power."""
    found = measured(plan.case.operative_eye)
    if chosen is None or rung.prediction is None or found is None:
        return None
    return At(plan, rung, rung.prediction, chosen, found, root)


def placement_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of every place that has a power."""
    paths: dict[str, Explain] = {}
    for rung in plan.rungs:
        at = at_rung(plan, rung, rung.chosen, f"placements.{rung.place.key}")
        if at is not None:
            paths |= _paths_of(at)
    return paths
