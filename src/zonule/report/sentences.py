"""What the program says in whole sentences about a plan, each in one place."""

from __future__ import annotations

from typing import Final

import numpy as np

from zonule.assessment.carry import Carried
from zonule.library.placements import places, rule_of_thumb_d
from zonule.library.reading import STATUS_WORDS, status, table
from zonule.plan.records import Plan, Rung
from zonule.practice.first_eye import FirstEye
from zonule.report.words import between_people, dioptres, of_100, signed, span

CAUTION: Final = (
    "An aid to planning, not validated on patients and not reviewed by a surgeon. It does not "
    "replace the judgement of a licensed surgeon; local protocol comes first. Read every power "
    "against the source print before a lens is opened. Risks are those of published series, not "
    "validated here."
)
BANDS: Final = (
    "Backups in order. Thick: half of such eyes; thin: nine in ten; dashed: spread assumed; "
    "upright: the aim."
)

WIDE_RANGE: Final = 0.25
"""A likelihood whose range is wider is never shown without it."""
NO_POWER_HERE: Final = "no power is shown, for the reason above"
STARTING_VALUE: Final = "A starting value is in use: not to be signed."


def first_eye_place(told: FirstEye) -> str:
    """Return where the first eye's lens lies, and how that is known."""
    assert told.place is not None
    assert told.lens_power_d is not None
    label = _within(told.place.label)
    return (
        f"{told.side.capitalize()} eye: {told.lens_name} {dioptres(told.lens_power_d)}, "
        f"{label} ({told.known_by})."
    )


def first_eye_outcome(told: FirstEye) -> str:
    """Return how the first eye came out, against the prediction for the place its lens has."""
    assert told.achieved_d is not None
    assert told.predicted_d is not None
    assert told.predicted_band_d is not None
    assert told.error_d is not None
    aim = f"; the aim was {dioptres(told.aim_d)}" if told.aim_d is not None else ""
    said = (
        f"It came out at {dioptres(told.achieved_d)}{aim}. Predicted for that place: "
        f"{dioptres(told.predicted_d)} (nine in ten {span(*told.predicted_band_d)})"
    )
    if told.in_the_bag_d is not None and told.place is not None and told.place.key != "bag":
        moved = told.predicted_d - told.in_the_bag_d
        said += (
            f"; in the bag it would have been {dioptres(told.in_the_bag_d)}, so the place "
            f"explains {dioptres(moved)}"
        )
    return f"{said}. {dioptres(told.error_d)} remains."


def first_eye_carried(plan: Plan) -> str:
    """Return what is carried over to the place in hand, and why no more."""
    told, rung = plan.first_eye, plan.in_hand
    assert told is not None
    if told.withheld:
        return f"Nothing is carried over: {told.withheld}."
    if rung is None or rung.prediction is None or rung.prediction.carried is None:
        return "Nothing is carried over: no power is shown."
    assert rung.chosen is not None
    assert told.place is not None
    at = rung.prediction.index_of(rung.chosen.power_d)
    carried = rung.prediction.carried
    share, moved = float(carried.share[at]), float(carried.mean_d[at])
    where = "intended place" if rung.order == 0 else "place in hand"
    return (
        f"Carried over to the {where}: {dioptres(moved)}, a share of {share:.2f} of what "
        f"remains. {_why_this_share(told, carried)}"
    )


def _why_this_share(told: FirstEye, carried: Carried) -> str:
    assert told.place is not None
    anatomy = float(table("fellow_eye")["places"][told.place.key]["anatomy"])
    if anatomy == 0.0:
        where = told.place.placement.partition("_")[0]
        return (
            f"A lens in that place ({where}) settles by its own scatter, which tells little about "
            "the patient. Its measured position would tell more; this version does not read one."
        )
    if anatomy < 1.0:
        return "A captured or anchored lens shows part of where this patient's bag lies."
    half = "About half is what published pairs of bag lenses did best with."
    gross = 1.0 - carried.core_probability
    if gross > 0.15:
        half += (
            " The larger a first error, the likelier it is that eye's alone "
            f"({of_100(gross)} here), and the less is carried."
        )
    if carried.apart:
        half += f" Less is shared, because the eyes differ in {' and '.join(carried.apart)}."
    return half


def less_alike(told: FirstEye) -> str:
    """Return in what the eyes differ more than those of the published pairs."""
    if not told.less_alike:
        return ""
    return (
        f"The eyes differ in {', '.join(told.less_alike)}: more than those of the published pairs."
    )


def sulcus_against_rule(plan: Plan) -> str:
    """Return the theatre's rule of thumb beside the computed sulcus power, and why they differ."""
    sulcus, bag = plan.rung("sulcus_three_piece"), plan.rung("bag")
    if sulcus is None or bag is None or sulcus.lens != bag.lens:
        return ""
    if sulcus.exact_power_d is None or bag.exact_power_d is None or sulcus.prediction is None:
        return ""
    taken = bag.exact_power_d - sulcus.exact_power_d
    rule = rule_of_thumb_d(bag.exact_power_d)
    by_rule = bag.exact_power_d - rule
    left_over = rule_leaves_d(sulcus, by_rule) - plan.case.aim.spherical_equivalent_d
    moved = table("placements")["rule_of_thumb"]["matches_move_mm"]
    return (
        f"Sulcus, not captured: {dioptres(-taken)} on the bag power by this eye's optics, lens "
        f"plane moved {signed(sulcus.place.move_mm, decimals=1)} mm. The theatre's rule of thumb "
        f"takes {signed(-rule, decimals=1)} D, which fits a move of {signed(moved, decimals=1)} "
        f"mm; by it this eye would be expected {dioptres(left_over)} from the aim."
    )


def rule_leaves_d(sulcus: Rung, power_d: float) -> float:
    """Return the refraction a power would leave in the sulcus [D]."""
    assert sulcus.prediction is not None
    optics = sulcus.prediction.optics
    learnt = 0.0
    if sulcus.prediction.carried is not None and sulcus.chosen is not None:
        at = sulcus.prediction.index_of(sulcus.chosen.power_d)
        learnt = float(sulcus.prediction.carried.mean_d[at])
    return float(optics.refraction_d(np.array([power_d])).mean()) + learnt


def assumed(rung: Rung) -> tuple[str, ...]:
    """Return what of a place is assumed or unverified, in a few words."""
    words = {"assumption": "assumed", "memory": "unverified"}
    place = rung.place.move_status, rung.place.spread_status
    if place == ("assumption", "assumption"):
        return ("place and spread assumed",)
    return tuple(
        f"{what} {words[status]}"
        for what, status in zip(("place", "spread"), place, strict=True)
        if status in words
    )


def bounds(rung: Rung) -> str:
    """Return the refraction at both bounds of an uncertain place."""
    if rung.low_move_d is None or rung.high_move_d is None:
        return ""
    if abs(rung.low_move_d - rung.high_move_d) < 0.005:
        return ""
    low, high = sorted((rung.low_move_d, rung.high_move_d))
    return f"{span(low, high)} D at the bounds of the place"


def surer_than_the_bag(plan: Plan) -> str:
    """Return why a backup may look surer than the bag, where one does; empty where none does."""
    rung = plan.in_hand
    if rung is None or rung.chosen is None or rung.place.tail != "practice":
        return ""
    surer = any(
        one.chosen is not None and one.chosen.within_0_50 > rung.chosen.within_0_50
        for one in plan.rungs
        if one.place.tail != "practice"
    )
    if not surer:
        return ""
    tail = table("prediction")["tail"]
    return (
        "A backup here looks surer than the bag. It is not: gross errors are counted for "
        f"{of_100(tail['practice']['weight'])} eyes in the bag and for "
        f"{of_100(tail['inside']['weight'])} elsewhere, where the assumed spread should hold them."
    )


def status_words(word: str) -> str:
    """Return a status as it is said to a person."""
    return STATUS_WORDS[status(word)]


def whose_shares(plan: Plan) -> str:
    """Return whose the likelihoods are, in a few words; empty where none is shown."""
    if plan.risks is None or all(rung.likelihood is None for rung in plan.rungs):
        return ""
    own = "own results in it" if plan.risks.rupture.own.counted else "no own results"
    return f"of eyes like this; {own}"


def likely(rung: Rung) -> str:
    """Return how likely a place is; with its range where that is too wide for one figure."""
    if rung.likelihood is None or rung.likely_between is None:
        return ""
    said, between = of_100(rung.likelihood), rung.likely_between
    if not likely_is_wide(rung):
        return said
    return f"{said} ({between_people(between.low, between.high, 100)})"


def likely_is_wide(rung: Rung) -> bool:
    """Tell whether the range of a likelihood is too wide for it to stand alone."""
    between = rung.likely_between
    return between is not None and between.high - between.low > WIDE_RANGE


def after_rupture_elsewhere() -> str:
    """Return what others did with the lens after rupture: context, no likelihood."""
    others = table("placements")["after_rupture_elsewhere"]["of_100"]
    return (
        f"After rupture elsewhere: sulcus {others['sulcus_three_piece']}, captured "
        f"{others['sulcus_capture']}, bag {others['bag']}, none {others['later']}, chamber "
        f"{others['anterior_chamber']} of 100."
    )


def shares(plan: Plan) -> str:
    """Return where the likelihoods come from."""
    context = after_rupture_elsewhere()
    if plan.risks is None:
        return "No likelihoods: the risk models are those of eyes that start with their own lens."
    return (
        "Likelihoods: the chance of the capsule states in which the lens goes there, from the "
        "rupture model, counts of zonular and rim events, and assumed shares of states. They "
        f"exclude each other and sum to 100 before rounding. {own_shares(plan)}{context}"
    )


def own_shares(plan: Plan) -> str:
    """Return the surgeon's own entry of where cases ended: context; empty where there is none."""
    entered = {key: share for key, share in plan.practice.shares.items() if share > 0.0}
    if not entered:
        return ""
    known = places()
    told = ", ".join(
        f"{_within(known[key].label)} {100.0 * share:g}"
        for key, share in sorted(entered.items(), key=lambda one: -one[1])[:3]
        if key in known
    )
    return f"Your own entry, all your cases, of 100: {told}. "


def first_eye_lines(plan: Plan) -> tuple[str, ...]:
    """Return everything the first eye taught, sentence by sentence."""
    told = plan.first_eye
    if told is None:
        return ()
    if told.place is None:
        return (f"{told.side.capitalize()} eye: nothing is carried over: {told.withheld}.",)
    lines = (
        first_eye_place(told),
        first_eye_outcome(told),
        first_eye_carried(plan),
        less_alike(told),
        f"Look after that eye: {told.warns}." if told.warns else "",
    )
    return tuple(line for line in lines if line)


def read_back(plan: Plan) -> tuple[str, ...]:
    """Return the power in hand as a sentence to be read aloud; empty while no power is shown."""
    rung = plan.in_hand
    if rung is None or rung.chosen is None or rung.lens is None:
        return ()
    side, aim = plan.case.eye_to_do, plan.case.aim.spherical_equivalent_d
    first = (
        f"Read back: {side} eye, {_within(rung.place.label)}, {rung.lens.name}, "
        f"{dioptres(rung.chosen.power_d)}, aim {dioptres(aim)}."
    )
    return (first,)


def _within(label: str) -> str:
    """Return a place within a sentence."""
    return label[:1].lower() + label[1:]
