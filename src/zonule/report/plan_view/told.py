"""What is told in sentences: the first eye, the likelihoods, the patient."""

from __future__ import annotations

from zonule.plan.records import Plan
from zonule.practice.first_eye import FirstEye
from zonule.report import part_words, sentences
from zonule.report.plan_view.phrases import phrase
from zonule.report.plan_view.records import Phrase, Shown
from zonule.report.words import dioptres, of_100, signed, span

ELSEWHERE = "After rupture elsewhere: "


def first_eye_heading(plan: Plan) -> str:
    """Return what the first eye taught, as a finding; empty where there is none."""
    if plan.first_eye is None:
        return ""
    moved = _carried_d(plan)
    if moved is None and not plan.first_eye.withheld:
        return "What the first eye taught: carried over nowhere while no power is shown"
    if moved is None or abs(moved) < 0.005:
        return "What the first eye taught: nothing to carry over"
    return f"What the first eye taught: {dioptres(moved)} to carry over"


def _carried_d(plan: Plan) -> float | None:
    """Return what is carried to the place in hand [D]; None where nothing can be."""
    rung = plan.in_hand
    if rung is None or rung.prediction is None or rung.prediction.carried is None:
        return None
    assert rung.chosen is not None
    at = rung.prediction.index_of(rung.chosen.power_d)
    return float(rung.prediction.carried.mean_d[at])


def first_eye_of(plan: Plan) -> tuple[Phrase, ...]:
    """Return everything the first eye taught, each number with its why."""
    told = plan.first_eye
    if told is None:
        return ()
    if told.place is None:
        return tuple((Shown(line),) for line in sentences.first_eye_lines(plan))
    assert told.lens_power_d is not None
    power = (dioptres(told.lens_power_d), "first_eye.lens_power_d")
    lines = (
        phrase(sentences.first_eye_place(told), power),
        phrase(sentences.first_eye_outcome(told), *_outcome(told)),
        phrase(sentences.first_eye_carried(plan), *_carried(plan)),
    )
    said = {sentences.first_eye_place(told), sentences.first_eye_outcome(told)}
    said.add(sentences.first_eye_carried(plan))
    rest = (line for line in sentences.first_eye_lines(plan) if line not in said)
    return (*lines, *((Shown(line),) for line in rest))


def _outcome(told: FirstEye) -> tuple[tuple[str, str], ...]:
    """Return the numbers of the first eye's outcome in the order in which they are said."""
    assert told.achieved_d is not None
    assert told.predicted_d is not None
    assert told.predicted_band_d is not None
    assert told.error_d is not None
    numbers = [(dioptres(told.achieved_d), "first_eye.achieved_d")]
    if told.aim_d is not None:
        numbers.append((dioptres(told.aim_d), "first_eye.aim_d"))
    numbers.append((dioptres(told.predicted_d), "first_eye.predicted_d"))
    numbers.append((span(*told.predicted_band_d), "first_eye.predicted_p90"))
    if told.in_the_bag_d is not None and told.place is not None and told.place.key != "bag":
        numbers.append((dioptres(told.in_the_bag_d), "first_eye.in_the_bag_d"))
        moved = dioptres(told.predicted_d - told.in_the_bag_d)
        numbers.append((moved, "first_eye.in_the_bag_d"))
    return (*numbers, (dioptres(told.error_d), "first_eye.error_d"))


def _carried(plan: Plan) -> tuple[tuple[str, str], ...]:
    moved = None if plan.first_eye is None or plan.first_eye.withheld else _carried_d(plan)
    return () if moved is None else ((dioptres(moved), "first_eye.carried_d"),)


def shares_of(plan: Plan) -> tuple[Phrase, ...]:
    """Return how to read the places, where the likelihoods come from, and the rule of thumb."""
    shares, elsewhere = sentences.shares(plan), sentences.after_rupture_elsewhere()
    numbers = elsewhere.removeprefix(ELSEWHERE).rstrip(".")
    linked = ((numbers, "after_rupture_elsewhere"),) if elsewhere in shares else ()
    thumb = sentences.sulcus_against_rule(plan)
    return (
        (Shown(sentences.BANDS),),
        phrase(shares, *linked),
        *((_rule_of_thumb(plan, thumb),) if thumb else ()),
    )


def _rule_of_thumb(plan: Plan, sentence: str) -> Phrase:
    sulcus, bag = plan.rung("sulcus_three_piece"), plan.rung("bag")
    assert sulcus is not None
    assert bag is not None
    assert sulcus.exact_power_d is not None
    assert bag.exact_power_d is not None
    root = "placements.sulcus_three_piece"
    less = dioptres(sulcus.exact_power_d - bag.exact_power_d)
    moved = f"{signed(sulcus.place.move_mm, decimals=1)} mm"
    by_rule = sentence.partition("takes ")[2].partition(",")[0]
    return phrase(
        sentence,
        (less, f"{root}.exact_power_d"),
        (moved, f"{root}.move_mm"),
        (by_rule, f"{root}.rule_of_thumb"),
    )


def surer_of(plan: Plan) -> Phrase:
    """Return why a backup may look surer than the bag; empty where none does."""
    sentence, rung = sentences.surer_than_the_bag(plan), plan.in_hand
    if not sentence or rung is None:
        return ()
    elsewhere = next(one for one in plan.rungs if one.chosen and one.place.tail != "practice")
    numbers = [
        (of_100(one.prediction.tail_weight), f"placements.{one.place.key}.tail_weight")
        for one in (rung, elsewhere)
        if one.prediction is not None
    ]
    return phrase(sentence, *numbers)


def to_say_of(plan: Plan) -> tuple[Phrase, ...]:
    """Return what the patient is told, numbers with their why."""
    aim = part_words.spoken_of_the_aim(plan)[0]
    quarter = aim.partition(":")[0].removeprefix("Aim ")
    numbers = [(quarter, "eye.aim_d"), *_chances(plan)]
    spoken = part_words.spoken_of_the_aim(plan)
    return (
        *(phrase(sentence, *numbers[at : at + 1]) for at, sentence in enumerate(spoken)),
        *((Shown(one.says),) for one in plan.parts.to_say),
    )


def _chances(plan: Plan) -> list[tuple[str, str]]:
    """Return the chances that are told, in their order: the aim met, then the lens elsewhere."""
    rung = plan.intended
    if rung is None:
        return []
    root, numbers = f"placements.{rung.place.key}", []
    if rung.chosen is not None:
        come = f"{round(100 * rung.chosen.within_0_50)} come"
        numbers.append((come, f"{root}.within_0_50"))
    if rung.likelihood is not None:
        numbers.append((of_100(1.0 - rung.likelihood), f"{root}.likelihood"))
    return numbers
