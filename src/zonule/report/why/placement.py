"""Why a place has the power, the refraction and the bands it has."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import Final

import numpy as np

from zonule.assessment.applicable import FormulaUse
from zonule.assessment.measured import Measured, measured
from zonule.assessment.prediction import Prediction, typical_disagreement_d
from zonule.formulas.power import FORMULAS
from zonule.formulas.uncertainty.budget import spreads_d
from zonule.library.reading import table
from zonule.plan.records import Expected, Plan, Rung
from zonule.report import sentences
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import dioptres, of_100, signed, span, underscored

RULES: Final = {
    "best_chance": "the largest share within ±0.50 D of the aim",
    "nearest": "the median nearest to the aim",
    "asymmetric": "the least expected loss, hyperopia counting more",
}
BANDS: Final = {"p50": "half of such eyes", "p80": "eight in ten", "p90": "nine in ten"}
PARTS: Final = {
    "measured": "length, cornea and chamber as measured",
    "position": "where the lens comes to rest",
    "position_mean": "how well the mean place is known",
    "label": "true against labelled power",
    "refraction": "the refraction as taken",
    "disagreement": "formulas beyond the ordinary",
}


@dataclass(frozen=True, slots=True)
class _At:
    """A rung with a power, ready to be explained."""

    plan: Plan
    rung: Rung
    prediction: Prediction
    chosen: Expected
    measured: Measured

    @property
    def index(self) -> int:
        return self.prediction.index_of(self.chosen.power_d)

    @property
    def root(self) -> str:
        return f"placements.{self.rung.place.key}"

    @property
    def name(self) -> str:
        return self.rung.place.label

    def caveats(self) -> tuple[str, ...]:
        """Caveats of the place, and its note."""
        return (*(caveat.says for caveat in self.rung.caveats), self.rung.place.note)


def _measurements(at: _At) -> tuple[Input, ...]:
    found = at.measured
    depth = found.anterior_chamber_depth_mm
    told = [
        Input("Axial length", f"{found.axial_length_mm:.2f} mm ± {found.length_sd_mm:.2f}"),
        Input("Corneal power", f"{found.corneal_power_d:.2f} D ± {found.corneal_power_sd_d:.2f}"),
    ]
    if depth is not None:
        told.append(Input("Chamber depth", f"{depth:.2f} mm ± {found.chamber_depth_sd_mm:.2f}"))
    return tuple(told)


def _place(at: _At) -> tuple[Input, ...]:
    place, optics = at.rung.place, at.prediction.optics
    spread = Input(
        "Spread of the lens plane",
        f"±{place.position_sd_mm:.3g} mm, its mean ±{place.position_mean_sd_mm:.2f} mm",
        place.source,
        place.spread_status,
    )
    if place.a_constant is not None:
        return (Input("Place", "by a constant of its own", place.source, place.move_status), spread)
    move = (
        f"{signed(place.move_mm)} mm from the bag "
        f"({signed(optics.move_low_mm)} to {signed(optics.move_high_mm)})"
    )
    return (Input("Lens plane", move, place.source, place.move_status), spread)


def _constants(use: FormulaUse) -> str:
    said = ", ".join(f"{underscored(name)} {value:g}" for name, value in use.values.items())
    return f"{said} ({use.says})"


def _formula_inputs(at: _At) -> tuple[Input, ...]:
    spoken = tuple(
        Input(use.label, _constants(use), FORMULAS[use.name].reference, FORMULAS[use.name].status)
        for use in at.prediction.optics.uses
    )
    silent = tuple(
        Input(f"{use.label}, silent", use.says) for use in at.prediction.uses if not use.applies
    )
    return spoken + silent


def _sources(at: _At) -> tuple[str, ...]:
    uses = at.prediction.optics.uses
    constants = tuple(u.constants.source for u in uses if u.constants and u.constants.source)
    formulas = tuple(FORMULAS[use.name].reference for use in uses)
    return tuple(dict.fromkeys((*formulas, *constants, at.rung.place.source)))


def _power(at: _At) -> Explanation:
    case = at.plan.case
    aim = case.aim
    same = at.rung.place.power_from == "bag" and at.rung.place.key != "bag"
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
        title=f"Lens power · {at.name.lower()}",
        value=dioptres(at.chosen.power_d),
        how=how,
        inputs=(
            Input("Aim", dioptres(aim.spherical_equivalent_d)),
            Input("Lens", at.rung.lens.name),
            Input("Power that meets the aim, in no step", dioptres(at.rung.exact_power_d)),
            Input("Expected with the power chosen", dioptres(at.chosen.refraction_d)),
            *_measurements(at),
            *_place(at),
            *_formula_inputs(at),
        ),
        sources=_sources(at),
        status=at.rung.place.move_status,
        held_by=(*held_by.FORMULAS, *held_by.PLACES),
        caveats=_with_rule_of_thumb(at),
    )


def _with_rule_of_thumb(at: _At) -> tuple[str, ...]:
    rule = sentences.sulcus_against_rule(at.plan) if at.rung.place.rule_of_thumb else ""
    return (*at.caveats(), rule) if rule else at.caveats()


def _refraction(at: _At) -> Explanation:
    carried = at.prediction.carried
    moved = (
        f" Carried over from the first eye: {dioptres(float(carried.mean_d[at.index]))}."
        if carried
        else ""
    )
    return Explanation(
        path=f"{at.root}.refraction_d",
        title=f"Expected refraction with {dioptres(at.chosen.power_d)} · {at.name.lower()}",
        value=dioptres(at.chosen.refraction_d),
        how="Median of the predictive law: the mean of the formulas that have a say, equal "
        "weights, the lens plane moved by millimetres through each formula's optics." + moved,
        inputs=(*_measurements(at), *_place(at), *_by_formula(at), *_formula_inputs(at)),
        sources=_sources(at),
        status=at.rung.place.move_status,
        held_by=(*held_by.FORMULAS, *held_by.PLACES),
        caveats=at.caveats(),
    )


def _by_formula(at: _At) -> tuple[Input, ...]:
    values = at.prediction.by_formula_d[at.index]
    return tuple(
        Input(f"By {use.label}", dioptres(float(values[column])))
        for column, use in enumerate(at.prediction.optics.uses)
    )


def _budget_inputs(at: _At) -> tuple[Input, ...]:
    parts = spreads_d(at.prediction.budget)
    told = [
        Input(words, f"±{float(parts[name][at.index]):.2f} D")
        for name, words in PARTS.items()
        if float(parts[name][at.index]) >= 0.005
    ]
    tail = table("prediction")["tail"]
    row = tail[at.rung.place.tail]
    told.append(
        Input("All of these together", f"±{float(at.prediction.budget.total_sd_d[at.index]):.2f} D")
    )
    told.append(
        Input(
            "Gross errors no formula sees",
            f"{of_100(row['weight'])} eyes, ±{tail['sd_d']:.2f} D more",
            row["source"],
            row["status"],
        )
    )
    return tuple(told)


def _law_how(at: _At) -> str:
    closed = at.rung.place.tail == "practice"
    how = (
        "two normal laws with one middle: the ordinary eye with this eye's own budget, and a few "
        "with a gross error on top"
    )
    through = "" if closed else "; the scatter of the lens plane is taken through the optics"
    typical, unusual = typical_disagreement_d(at.measured.axial_length_mm)
    spread = float(at.prediction.disagreement.spread_d[at.index])
    compared = (
        f" The formulas differ by {spread:.2f} D (ordinary {typical:.2f}, 19 of 20 below "
        f"{unusual:.2f} at this length); only what goes beyond the ordinary widens the band."
        if np.isfinite(spread)
        else " One formula alone: nothing was compared."
    )
    return f"Read off the predictive law: {how}{through}.{compared}"


def _law(at: _At, path: str, title: str, value: str) -> Explanation:
    return Explanation(
        path=f"{at.root}.{path}",
        title=f"{title} · {at.name.lower()}, {dioptres(at.chosen.power_d)}",
        value=value,
        how=_law_how(at),
        inputs=_budget_inputs(at),
        sources=tuple(
            dict.fromkeys(
                (
                    table("prediction")["tail"]["practice"]["source"],
                    table("prediction")["refraction"]["sd_d"]["source"],
                    table("prediction")["cornea"]["sd_d"]["source"],
                    at.rung.place.source,
                )
            )
        ),
        status=at.rung.place.spread_status,
        held_by=held_by.LAW,
        caveats=at.caveats(),
    )


def _formula(at: _At, column: int) -> Explanation:
    use = at.prediction.optics.uses[column]
    formula = FORMULAS[use.name]
    value = float(at.prediction.by_formula_d[at.index, column])
    position = float(at.prediction.optics.position_mm[column])
    return Explanation(
        path=f"{at.root}.by_formula.{use.name}",
        title=f"{use.label} · {at.name.lower()}, {dioptres(at.chosen.power_d)}",
        value=dioptres(value),
        how=f"{use.label} as published; lens plane at {position:.2f} mm behind the cornea. "
        f"Verified by: {formula.verified_by}.",
        inputs=(*_measurements(at), Input("Constants", _constants(use)), *_place(at)),
        sources=(formula.reference,),
        status=formula.status,
        held_by=held_by.FORMULAS,
    )


def _likelihood(plan: Plan, rung: Rung) -> Explanation:
    assert rung.likelihood is not None
    entered = plan.practice.shares
    return Explanation(
        path=f"placements.{rung.place.key}.likelihood",
        title=f"How likely · {rung.place.label.lower()}",
        value=of_100(rung.likelihood),
        how="Your own shares from the practice file. What was entered for places this plan does "
        "not offer is spread over the other backups in proportion; the intended place keeps the "
        "rest. Not this eye's risk: no risk model is behind it yet.",
        inputs=tuple(
            Input(key, f"{share:.3f}", "", "assumption") for key, share in entered.items()
        ),
        status="assumption",
        held_by=held_by.SHARES,
        caveats=(sentences.shares(plan),),
    )


def _move(at: _At) -> Explanation:
    place = at.rung.place
    return Explanation(
        path=f"{at.root}.move_mm",
        title=f"Where the lens plane lies · {at.name.lower()}",
        value=f"{signed(place.move_mm)} mm from the bag",
        how=place.note,
        inputs=_place(at),
        sources=(place.source,),
        status=place.move_status,
        held_by=held_by.PLACES,
    )


def _bounds(at: _At) -> Explanation:
    assert at.rung.low_move_d is not None
    assert at.rung.high_move_d is not None
    return replace(
        _move(at),
        path=f"{at.root}.at_bounds_d",
        title=f"Expected refraction at both bounds of the place · {at.name.lower()}",
        value=f"{span(at.rung.low_move_d, at.rung.high_move_d)} D",
        how="The same lens with its plane at the forward and at the rearward bound within which "
        "the mean place may truly lie.",
    )


def _of_rung(at: _At) -> dict[str, Explain]:
    root, chosen = at.root, at.chosen
    paths: dict[str, Explain] = {
        f"{root}.power_d": partial(_power, at),
        f"{root}.refraction_d": partial(_refraction, at),
        f"{root}.move_mm": partial(_move, at),
        f"{root}.at_bounds_d": partial(_bounds, at),
    }
    numbers = {
        "within_0_50": ("Within ±0.50 D of aim", chosen.within_0_50),
        "within_1_00": ("Within ±1.00 D of aim", chosen.within_1_00),
        "hyperopic.above_0": ("Above 0", chosen.above_0),
        "hyperopic.above_0_50": ("Above +0.50 D", chosen.above_0_50),
    }
    for path, (title, chance) in numbers.items():
        paths[f"{root}.{path}"] = partial(_law, at, path, title, of_100(chance))
    for name, band in chosen.bands.items():
        title = f"Band, {BANDS[name]}"
        paths[f"{root}.bands.{name}"] = partial(
            _law, at, f"bands.{name}", title, f"{span(*band)} D"
        )
    for column, use in enumerate(at.prediction.optics.uses):
        paths[f"{root}.by_formula.{use.name}"] = partial(_formula, at, column)
    return paths


def placement_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of every place that has a power or a likelihood."""
    found = measured(plan.case.operative_eye)
    paths: dict[str, Explain] = {}
    for rung in plan.rungs:
        if rung.chosen is not None and rung.prediction is not None and found is not None:
            paths |= _of_rung(_At(plan, rung, rung.prediction, rung.chosen, found))
        if rung.likelihood is not None:
            key = f"placements.{rung.place.key}.likelihood"
            paths[key] = partial(_likelihood, plan, rung)
    return paths
