"""Why the first eye teaches what it teaches."""

from __future__ import annotations

from functools import partial

from zonule.library.reading import table
from zonule.plan.records import Plan, Rung
from zonule.practice.first_eye import FirstEye
from zonule.report import sentences
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import dioptres, span


def _predicted(told: FirstEye) -> Explanation:
    assert told.place is not None
    assert told.predicted_d is not None
    assert told.predicted_band_d is not None
    assert told.lens_power_d is not None
    return Explanation(
        path="first_eye.predicted_d",
        title=f"First eye ({told.side}), predicted for the place its lens has",
        value=f"{dioptres(told.predicted_d)}, nine in ten {span(*told.predicted_band_d)}",
        how=f"The implanted lens in its own place ({told.place.label.lower()}), by "
        f"{', '.join(told.formulas)} with equal weights; never against the bag.",
        inputs=(
            Input("Lens", f"{told.lens_name} {dioptres(told.lens_power_d)}"),
            Input("Place known by", told.known_by),
            Input(
                "Move of the lens plane",
                f"{told.place.move_mm:+.2f} mm".replace("-", "−"),
                told.place.source,
                told.place.move_status,
            ),
        ),
        sources=(told.place.source,),
        status=told.place.move_status,
        held_by=held_by.FELLOW,
    )


def _error(told: FirstEye) -> Explanation:
    assert told.error_d is not None
    assert told.achieved_d is not None
    assert told.predicted_d is not None
    return Explanation(
        path="first_eye.error_d",
        title=f"First eye ({told.side}), what remains",
        value=dioptres(told.error_d),
        how="Achieved minus predicted for the place its lens has; negative is myopic.",
        inputs=(
            Input("Achieved, settled", dioptres(told.achieved_d)),
            Input("Predicted for its place", dioptres(told.predicted_d)),
        ),
        status="derived",
        held_by=held_by.FELLOW,
    )


def _carried(plan: Plan) -> Explanation:
    shared = table("fellow_eye")["shared"]
    split = (
        ("cornea", f"{shared['cornea_sd_d']:.2f} D"),
        ("length", f"{shared['length_sd_mm']:.3f} mm"),
        ("refraction", f"{shared['refraction_sd_d']:.2f} D"),
        ("position in the bag", f"{shared['position_sd_mm']:.2f} mm"),
    )
    rung = plan.in_hand
    assert rung is not None
    assert rung.prediction is not None
    assert rung.prediction.carried is not None
    assert rung.chosen is not None
    at = rung.prediction.index_of(rung.chosen.power_d)
    carried = rung.prediction.carried
    return Explanation(
        path="first_eye.carried_d",
        title="Carried over to the place in hand",
        value=f"{dioptres(float(carried.mean_d[at]))}, a share of {float(carried.share[at]):.2f}",
        how="Share = what both eyes share divided by all that moves the first eye in its place, "
        "bent down by the chance that the first error holds a gross one "
        f"(here {1 - carried.core_probability:.2f}). {sentences.first_eye_carried(plan)}",
        inputs=tuple(
            Input(
                f"Shared between the eyes: {name}", f"±{value}", shared["source"], shared["status"]
            )
            for name, value in split
        ),
        sources=(shared["source"], table("fellow_eye")["published"]["source"]),
        status=shared["status"],
        held_by=held_by.FELLOW,
        caveats=(shared["note"],),
    )


def _entered(told: FirstEye, key: str, title: str, value: float) -> Explanation:
    return Explanation(
        path=f"first_eye.{key}",
        title=f"First eye ({told.side}), {title}",
        value=dioptres(value),
        how="As entered in the case file under its operation.",
        inputs=(Input("Lens", told.lens_name), Input("Place known by", told.known_by)),
        status="practice",
        held_by=held_by.CHECKS,
    )


def _in_the_bag(told: FirstEye) -> Explanation:
    assert told.in_the_bag_d is not None
    assert told.predicted_d is not None
    assert told.place is not None
    moved = dioptres(told.predicted_d - told.in_the_bag_d)
    return Explanation(
        path="first_eye.in_the_bag_d",
        title=f"First eye ({told.side}), the outcome of the same lens in the bag",
        value=dioptres(told.in_the_bag_d),
        how=f"The same eye and lens, with the lens in the bag; the place explains {moved}.",
        inputs=(Input("Predicted for its place", dioptres(told.predicted_d), told.place.source),),
        sources=(told.place.source,),
        status=told.place.move_status,
        held_by=held_by.FELLOW,
    )


def _carried_to(rung: Rung, told: FirstEye, key: str) -> Explanation:
    assert rung.prediction is not None
    assert rung.prediction.carried is not None
    assert rung.chosen is not None
    at = rung.prediction.index_of(rung.chosen.power_d)
    share = float(rung.prediction.carried.share[at])
    moved = float(rung.prediction.carried.mean_d[at])
    shared = table("fellow_eye")["shared"]
    return Explanation(
        path=f"first_eye.carried.{rung.place.key}.{key}",
        title=f"Carried over from the first eye · {rung.place.label}",
        value=f"{dioptres(moved)}, a share of {share:.2f}",
        how="What both eyes share divided by all that moves the first eye in its place, for the "
        "power chosen here.",
        inputs=(Input("What remains of the first eye", dioptres(told.error_d or 0.0)),),
        sources=(shared["source"], table("fellow_eye")["published"]["source"]),
        status=shared["status"],
        held_by=held_by.FELLOW,
        caveats=(shared["note"],),
    )


def _entered_paths(told: FirstEye) -> dict[str, Explain]:
    entered = (
        ("lens_power_d", "power of its lens", told.lens_power_d),
        ("aim_d", "aim", told.aim_d),
        ("achieved_d", "settled refraction", told.achieved_d),
    )
    return {
        f"first_eye.{key}": partial(_entered, told, key, title, value)
        for key, title, value in entered
        if value is not None
    }


def first_eye_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of what the first eye taught."""
    told = plan.first_eye
    if told is None or told.place is None:
        return {}
    paths = _entered_paths(told) | {
        "first_eye.predicted_d": partial(_predicted, told),
        "first_eye.predicted_p90": partial(_predicted, told),
        "first_eye.error_d": partial(_error, told),
    }
    if told.in_the_bag_d is not None:
        paths["first_eye.in_the_bag_d"] = partial(_in_the_bag, told)
    for rung in plan.rungs:
        if rung.prediction is None or rung.prediction.carried is None or rung.chosen is None:
            continue
        if rung is plan.in_hand:
            paths["first_eye.carried_d"] = partial(_carried, plan)
        for key in ("share", "carried_d"):
            path = f"first_eye.carried.{rung.place.key}.{key}"
            paths[path] = partial(_carried_to, rung, told, key)
    return paths
