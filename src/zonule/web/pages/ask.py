"""The form that asks for another aim, lens or power: what it holds and what was refused in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from zonule.errors import Problem
from zonule.pathway.what_if import NOT_TAKEN, WhatIf, lenses_for_the_bag
from zonule.plan.records import Plan

AIM_STEP_D: Final = 0.25
RULES: Final = {
    "best_chance": "best chance",
    "nearest": "nearest to the aim",
    "asymmetric": "hyperopia counts more",
}


@dataclass(frozen=True, slots=True)
class Option:
    """One of several that can be chosen."""

    key: str
    label: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class AimStep:
    """The aim one step away."""

    aim_d: float
    says: str


@dataclass(frozen=True, slots=True)
class AskForm:
    """What the form shows."""

    hand: str
    was: str
    """The query of the plan that is shown: what stays while something is refused."""
    aim: str
    aim_less: AimStep
    aim_more: AimStep
    rules: tuple[Option, ...]
    lenses: tuple[Option, ...]
    power: str
    power_by_rule: str
    """Power in hand while none is asked for."""
    changed: bool
    """Whether anything differs from the files."""
    problems: tuple[Problem, ...]
    refused: frozenset[str]
    says: str = NOT_TAKEN


def ask_form(asked: WhatIf, *, query: str) -> AskForm:
    """Return the form of a plan that was asked for.

    Parameters
    ----------
    asked
        The plan, what was typed and what of it was refused.
    query
        The query of the plan that is shown.
    """
    plan, refused = asked.plan, asked.refused
    aim_d = plan.case.aim.spherical_equivalent_d
    power = asked.typed["power"] if "power" in refused else asked.used.get("power", "")
    return AskForm(
        hand=asked.used.get("hand", ""),
        was=query,
        aim=asked.typed["aim"] if "aim" in refused else _signed(aim_d),
        aim_less=_step(aim_d - AIM_STEP_D),
        aim_more=_step(aim_d + AIM_STEP_D),
        rules=_options(tuple(RULES.items()), plan.case.aim.rule),
        lenses=_lenses(plan),
        power=power.replace("-", "−"),
        power_by_rule=_power_in_hand(plan),
        changed=bool(asked.used.keys() - {"hand"}) or bool(refused),
        problems=asked.problems,
        refused=refused,
    )


def _step(aim_d: float) -> AimStep:
    return AimStep(aim_d, f"Aim {_signed(aim_d)} D")


def _signed(value_d: float) -> str:
    return f"{value_d + 0.0:+.2f}".replace("-", "−")


def _power_in_hand(plan: Plan) -> str:
    if plan.in_hand is None or plan.in_hand.chosen is None:
        return ""
    return _signed(plan.in_hand.chosen.power_d)


def _options(known: Sequence[tuple[str, str]], chosen: str) -> tuple[Option, ...]:
    return tuple(Option(key, label, key == chosen) for key, label in known)


def _lenses(plan: Plan) -> tuple[Option, ...]:
    """Return the lenses that may go to the bag; the first stands for none where none is meant."""
    bag = plan.rung("bag")
    chosen = bag.lens.name if bag is not None and bag.lens else plan.practice.preferred_lens
    names = [(lens.name, lens.name) for lens in lenses_for_the_bag(plan.practice)]
    if (chosen, chosen) not in names:
        names.insert(0, ("", "as in the practice file"))
        chosen = ""
    return _options(names, chosen)
