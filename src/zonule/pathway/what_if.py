"""What if: another aim, lens or power asked of a plan for this once, and the plan that answers.

What a person types is taken as it stands or refused, never repaired. While something is refused
the plan stays the one before it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final, TypeVar
from urllib.parse import parse_qsl

from zonule.errors import Problem
from zonule.findings.fields import Field, field
from zonule.findings.records import Case
from zonule.intake.numbers import TRUE_MINUS
from zonule.intake.values import Refused, nearest, read
from zonule.library.placements import places
from zonule.pathway.plan_an_eye import plan_an_eye
from zonule.plan.lens_choice import why_not
from zonule.plan.records import Plan, Rung
from zonule.plan.wish import Wish
from zonule.practice.records import Lens, Practice
from zonule.report.words import signed

PARTS: Final = ("hand", "aim", "rule", "lens", "power")
"""What can be asked for, by the names an address uses."""
LABELS: Final = {
    "hand": "Place in hand",
    "aim": "Aim",
    "rule": "Choice of power",
    "lens": "Lens for the bag",
    "power": "Power in hand",
}
LONGEST_SHOWN: Final = 40
NOT_TAKEN: Final = "Not taken over. The plan below is the one before."

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A plan that was asked for, and what of the asking was refused."""

    plan: Plan
    used: Mapping[str, str]
    """The texts this plan was made from."""
    typed: Mapping[str, str]
    """The texts as they came, refused ones among them."""
    problems: tuple[Problem, ...] = ()

    @property
    def refused(self) -> frozenset[str]:
        """The parts that were refused."""
        return frozenset(problem.field for problem in self.problems)


def read_wish(
    texts: Mapping[str, str], case: Case, practice: Practice
) -> tuple[Wish, tuple[Problem, ...]]:
    """Return what is asked for, read strictly, and a problem for each part that is refused.

    What only says what the files say is nothing asked for.

    Parameters
    ----------
    texts
        By the names of :data:`PARTS`; absent or empty: as the files say.
    case, practice
        What the files say. Whether a place is open and a power there is known once the eye is
        planned: see :func:`what_if`.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Eye, Patient
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), Eye(side="left"))
    >>> store = Practice("", "", "UTC", (), ())
    >>> read_wish({"aim": "−0.50", "rule": "best_chance"}, case, store)
    (Wish(hand='', aim_d=-0.5, aim_rule='', lens='', power_d=None), ())
    >>> wish, problems = read_wish({"aim": "0.50"}, case, store)
    >>> wish.aim_d is None, problems[0].sentence()
    (True, 'Aim 0.50: must carry its sign. Type −0.50 or +0.50.')
    """
    problems: list[Problem] = []

    def part(name: str, reader: Callable[[str], Value], absent: Value) -> Value:
        text = texts.get(name, "")
        if not text:
            return absent
        try:
            return reader(text)
        except Refused as refused:
            problems.append(_problem(name, text, refused))
            return absent

    wish = Wish(
        hand=part("hand", _place, ""),
        aim_d=part("aim", lambda text: _number(field("aim", "spherical_equivalent_d"), text), None),
        aim_rule=part("rule", _rule, ""),
        lens=part("lens", lambda text: _lens(text, practice), ""),
        power_d=part("power", lambda text: _number(field("operation", "lens_power_d"), text), None),
    )
    return _beyond_the_files(wish, case, practice), tuple(problems)


def what_if(case: Case, practice: Practice, asked: Mapping[str, str], *, today: date) -> WhatIf:
    """Return the plan that is asked for; the one before it while something is refused.

    Parameters
    ----------
    case, practice, today
        As for a plan of the files.
    asked
        Texts by the names of :data:`PARTS`, and under ``was`` the query of the plan before.
    """
    texts = {name: asked.get(name, "") for name in PARTS}
    found = _settled(case, practice, texts, today)
    if not found.problems:
        return found
    before = dict(parse_qsl(asked.get("was", "")))
    with_hand = {"power"} if "hand" in found.refused else set()
    stays = {
        name: before.get(name, "") if name in found.refused | with_hand else text
        for name, text in texts.items()
    }
    earlier = _settled(case, practice, stays, today)
    return replace(earlier, typed=texts, problems=found.problems)


def lenses_for_the_bag(practice: Practice) -> tuple[Lens, ...]:
    """Return the lenses of the store that may go to the bag and are there."""
    bag = places()["bag"]
    return tuple(
        lens
        for lens in practice.lenses
        if not why_not(bag, lens) and any(power.quantity for power in lens.stock)
    )


def _beyond_the_files(wish: Wish, case: Case, practice: Practice) -> Wish:
    same_aim = wish.aim_d == case.aim.spherical_equivalent_d
    return replace(
        wish,
        aim_d=None if same_aim else wish.aim_d,
        aim_rule="" if wish.aim_rule == case.aim.rule else wish.aim_rule,
        lens="" if wish.lens == practice.preferred_lens else wish.lens,
    )


def _settled(case: Case, practice: Practice, texts: Mapping[str, str], today: date) -> WhatIf:
    """Return the plan of all that can be had, with a problem for the rest."""
    wish, unread = read_wish(texts, case, practice)
    if any(problem.field == "hand" for problem in unread):
        wish = replace(wish, power_d=None)
    plain = replace(wish, hand="", power_d=None)
    plan = plan_an_eye(case, practice, today=today, wish=plain)
    wish, not_there = _that_this_plan_has(plan, wish, texts)
    if wish != plain:
        plan = plan_an_eye(case, practice, today=today, wish=wish)
    return WhatIf(plan, _used(wish), texts, (*unread, *not_there))


def _used(wish: Wish) -> dict[str, str]:
    """Return a wish as the texts that ask for it; read again they give the same wish."""
    numbers = {"aim": wish.aim_d, "power": wish.power_d}
    texts = {"hand": wish.hand, "rule": wish.aim_rule, "lens": wish.lens}
    asked = {name: f"{value:+.10g}" for name, value in numbers.items() if value is not None}
    return asked | {name: text for name, text in texts.items() if text}


def _that_this_plan_has(
    plan: Plan, wish: Wish, texts: Mapping[str, str]
) -> tuple[Wish, tuple[Problem, ...]]:
    """Return the wish without a place that is not open or a power that is not in the store."""
    try:
        rung = _open_place(plan, wish.hand) if wish.hand else plan.intended
    except Refused as refused:
        closed = _problem("hand", texts["hand"], refused)
        return replace(wish, hand="", power_d=None), (closed,)
    try:
        if wish.power_d is not None:
            _power_in_store(rung, wish.power_d)
    except Refused as refused:
        return replace(wish, power_d=None), (_problem("power", texts["power"], refused),)
    return wish, ()


def _open_place(plan: Plan, key: str) -> Rung:
    rung = plan.rung(key)
    if rung is not None and rung.offered:
        return rung
    offered = "; ".join(one.place.label for one in plan.rungs if one.offered)
    reason = f" ({rung.refused_because or rung.waits_for})" if rung is not None else ""
    raise Refused(f"is not open in this plan{reason}", f"Choose one of: {offered}.")


def _power_in_store(rung: Rung | None, power_d: float) -> None:
    if rung is None or rung.prediction is None or rung.chosen is None:
        raise Refused("no power is shown for this place", "Leave it empty.")
    powers = [float(power) for power in rung.prediction.powers_d]
    if power_d in powers:
        return
    near = sorted(sorted(powers, key=lambda power: abs(power - power_d))[:2])
    raise Refused(
        f"the store has no {rung.prediction.lens.name} of that power",
        f"Nearest: {' and '.join(signed(power) for power in near)} D.",
    )


def _number(asked: Field, text: str) -> float:
    """Return a number that carries its sign; a lost minus is as likely as a spared plus."""
    if text != text.strip():
        raise Refused("must have no space before or after it", "Type sign and digits only.")
    if any(sign.isalpha() for sign in text):
        raise Refused("a number stands alone", "Leave the letters out; D stands beside the field.")
    value = read(asked, text)
    assert isinstance(value, float)
    if value and text[0] not in ("+", "-", TRUE_MINUS):
        raise Refused("must carry its sign", f"Type {TRUE_MINUS}{text} or +{text}.")
    return value


def _place(text: str) -> str:
    known = {key: place.label for key, place in places().items() if not place.property_of}
    if text in known:
        return text
    raise Refused("is no place a lens may end up", nearest(text, tuple(known)))


def _rule(text: str) -> str:
    rule = read(field("aim", "rule"), text)
    assert isinstance(rule, str)
    return rule


def _lens(text: str, practice: Practice) -> str:
    names = tuple(lens.name for lens in lenses_for_the_bag(practice))
    if text in names:
        return text
    lens = next((one for one in practice.lenses if one.name == text), None)
    if lens is None:
        limit = "the store has no lens of that name"
    else:
        limit = why_not(places()["bag"], lens) or "the store has none of it"
    raise Refused(limit, f"Choose one of: {'; '.join(names)}.")


def _problem(name: str, text: str, refused: Refused) -> Problem:
    seen = "".join(sign if sign.isprintable() else "\ufffd" for sign in text)
    return Problem(
        check=refused.check,
        field=name,
        label=LABELS[name],
        value=seen if len(seen) <= LONGEST_SHOWN else f"{seen[: LONGEST_SHOWN - 1]}…",
        limit=refused.limit,
        remedy=refused.remedy,
    )
