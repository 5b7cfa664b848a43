"""How rules, devices, hours and settings are said to a person, in one place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from zonule.findings.labels import named
from zonule.library.rules import Conflict
from zonule.plan.clock_map import Mark
from zonule.plan.parts import Anaesthesia, RuleReading, Step, TrayItem
from zonule.plan.records import Plan
from zonule.report.words import clock_hour, day, dioptres, kept, of_100

MACHINE_CAUTION: Final = (
    "Ranges for orientation, not a prescription: your own settings and your machine's limits come "
    "first. Not validated."
)
TOO_FEW: Final = "too few in the store"
NOT_YOUR_WAY: Final = "Not among your ways in the practice file."

_STATE: Final = {
    "fires": "holds in this eye",
    "silent": "does not concern this eye",
    "waits": "waits for what is not known",
    "in_theatre": "only theatre can tell",
    "switched_off": "switched off by the department",
    "overruled": "set aside by the surgeon for this eye",
}
_DECISION: Final = {
    "accepted": "Accepted",
    "changed": "Changed",
    "switched_off": "Switched off",
}


def state(reading: RuleReading) -> str:
    """Return what a rule says of this eye, in a few words."""
    said = _STATE[reading.state]
    if reading.state == "waits":
        return f"waits for {', '.join(named(name) for name in reading.waits_for)}"
    return said


def settled(reading: RuleReading) -> tuple[str, ...]:
    """Return who accepted, changed, switched off or overruled a rule, when and why."""
    told = []
    if reading.decision is not None:
        one = reading.decision
        told.append(
            f"{_DECISION[one.decision]} by the department: {one.decided_by}, "
            f"{day(one.decided_on)}: {one.reason}"
        )
    if reading.overruling is not None:
        his = reading.overruling
        told.append(f"Set aside for this eye: {his.by}, {day(his.on)}: {his.reason}")
    return tuple(told)


def gives_way(conflict: Conflict) -> str:
    """Return which of two rules does not stand among the steps; empty where both do."""
    rule = conflict.gives_way
    return (
        f"Unless the surgeon says otherwise, {rule} does not stand among the steps." if rule else ""
    )


def profile(name: str) -> str:
    """Return a machine profile as a person says it.

    Examples
    --------
    >>> profile("low_flow")
    'low-flow'
    """
    return name.replace("_", "-")


def how_many(one: TrayItem) -> str:
    """Return how many of an item are wanted, and whether there are too few."""
    power = f"{one.power_d:+.2f} D, ".replace("-", "−") if one.power_d is not None else ""
    short = f", {TOO_FEW}" if one.short else ""
    return f"{power}{one.count}{short}"


def where_kept(one: TrayItem) -> str:
    """Return where an item is kept, and where its strength comes from."""
    if one.kept == "not_recorded":
        where = "Where it is kept is not in the practice file"
    else:
        where = kept(one.kept)
        where = where[:1].upper() + where[1:]
        where = where if one.kind == "lens" else where.replace(", sealed", "")
        where = f"{where}: {one.shelf}" if one.shelf else where
    return f"{where}. {strength(one)}".strip()


def strength(one: TrayItem) -> str:
    """Return the strength of a drug or dye as its card has it, or that there is no card."""
    if one.card:
        return f"Strength by recipe card {one.card}: {one.strength}."
    return (
        "Strength: no recipe card of the department; none is stated here." if one.needs_card else ""
    )


def strength_short(one: TrayItem) -> str:
    """Return the strength of a drug or dye in a few words; empty where none is needed."""
    if one.card:
        return f"recipe card {one.card}: {one.strength}"
    return "strength: no recipe card" if one.needs_card else ""


def places_by_order(orders: Sequence[int]) -> str:
    """Return places of a plan by their order.

    Examples
    --------
    >>> places_by_order([0, 1, 2]), places_by_order([5]), places_by_order([0])
    ('intended, backups 1 and 2', 'backup 5', 'intended')
    """
    backups = [str(order) for order in sorted(orders) if order > 0]
    many = f"backups {', '.join(backups[:-1])} and {backups[-1]}" if len(backups) > 1 else ""
    said = many or "".join(f"backup {one}" for one in backups)
    return ", ".join(part for part in ("intended" if 0 in orders else "", said) if part)


def at_hour(one: Mark) -> str:
    """Return where a mark lies on the clock face, and why there."""
    return f"{clock_hour(one.hour)} o'clock. {one.says}"


def hours(step: Step) -> str:
    """Return what goes in at which hours.

    Examples
    --------
    >>> from zonule.plan.parts import Step
    >>> hours(Step("pupil", 1, "Pupil", "", (), (("Iris hooks", 3.0), ("Iris hooks", 6.0))))
    "Iris hooks at 3, 6 o'clock"
    """
    by_label: dict[str, list[str]] = {}
    for label, value in step.clock_hours:
        by_label.setdefault(label, []).append(clock_hour(value))
    return "; ".join(f"{label} at {', '.join(told)} o'clock" for label, told in by_label.items())


def needle(told: Anaesthesia) -> str:
    """Return whether a sharp needle is allowed, in a word."""
    if told.needle_allowed is None:
        return "not settled"
    return "nothing speaks against it" if told.needle_allowed else "no sharp needle"


def machine_heading(plan: Plan) -> str:
    """Return the heading of the machine settings: which profile, and why."""
    parts = plan.parts
    return f"Machine, {profile(parts.machine_profile)}: {parts.machine_because}"


def no_recipe_card(labels: Sequence[str]) -> str:
    """Return for which drugs and dyes the department has no recipe card.

    Examples
    --------
    >>> no_recipe_card(["Miotic"])
    'No recipe card of the department, so no strength: Miotic'
    """
    return f"No recipe card of the department, so no strength: {', '.join(labels)}"


def _where_sharp(refraction_d: float) -> str:
    """Return at which distance an eye of that refraction sees sharpest: one over dioptres."""
    if refraction_d > -0.50:
        return "far away"
    return f"at about {round(-100.0 / refraction_d):d} cm, glasses for what is farther"


def spoken_of_the_aim(plan: Plan) -> tuple[str, ...]:
    """Return the aim and the share of backups as they are said to a patient.

    Refraction to the nearest quarter, chances as patients of a hundred.
    """
    aim_d = plan.case.aim.spherical_equivalent_d
    quarter = round(aim_d * 4.0) / 4.0
    told = [f"Aim {dioptres(quarter)}: sharpest {_where_sharp(quarter)}"]
    rung = plan.intended
    if rung is not None and rung.chosen is not None:
        told.append(
            f"Of 100 eyes measured like this {round(100 * rung.chosen.within_0_50)} come within "
            "half a dioptre of the aim if all goes well"
        )
    if rung is not None and rung.likelihood is not None:
        told.append(
            f"In {of_100(1.0 - rung.likelihood)} eyes like this the lens lies elsewhere than meant"
        )
    return tuple(told)
