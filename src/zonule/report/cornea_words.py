"""How the endothelium and ultrasound energy are said to a person, in one place."""

from __future__ import annotations

from typing import Final

from zonule.findings.labels import named
from zonule.library.reading import table
from zonule.plan.cornea_parts import After, Band, Cornea, Outlook, Threshold
from zonule.plan.energy_parts import Energy, Measure, OwnLog, Printed
from zonule.report.words import MINUS, between_people, of_100, underscored

UNIT: Final = "cells/mm²"
LONGEST_YEARS: Final = 50
OUTLOOK: Final[dict[Outlook, str]] = {
    "below_now": "below it now",
    "below_expected": "expected below it after surgery",
    "below_possible": "may fall below it with surgery",
    "above_now": "above it now",
    "above": "stays above it in 95 or more of 100 such eyes",
    "not_known": "not known",
}
SERIES_SAY: Final = (
    "The series differ from each other by more than any finding explains: your own loss, once "
    "counted, goes before all of these."
)
PRINTED_SAY: Final = (
    "Context only: other machines, modes, tips and scales. Nothing here is computed from them."
)
CAUTION: Final = "Not validated. The limit is a point at which to stop and ask, not one to reach."
EFFECTS_SAY: Final = (
    "A direction, not a constant: the trials differ widely. Less energy is well supported; fewer "
    "cells lost in dense lenses is likely and not settled."
)
HOW_TO_LOG: Final = (
    "Note the day, LOCS III nuclear colour and the energy at the end of the nucleus, one row for "
    "each case, in a CSV file beside the practice file. Keep one machine, mode and tip together."
)


def count(value: float) -> str:
    """Return a count to the nearest ten, which is as far as a count can be trusted.

    Examples
    --------
    >>> count(1350.9), count(664.0)
    ('1,350', '660')
    """
    return f"{round(value / 10.0) * 10:,}"


def span(ends: tuple[float, float]) -> str:
    """Return a band of counts.

    Examples
    --------
    >>> span((1063.4, 1638.4))
    '1,060 to 1,640'
    """
    return f"{count(ends[0])} to {count(ends[1])}"


def loss(share: float) -> str:
    """Return a share of cells that are lost.

    Examples
    --------
    >>> loss(0.289), loss(0.002)
    ('29 of 100', 'fewer than 1 of 100')
    """
    return of_100(share)


def figure(value: float) -> str:
    """Return an energy as precisely as two figures allow.

    Examples
    --------
    >>> figure(67.51), figure(8.06), figure(0.42)
    ('68', '8.1', '0.42')
    """
    if value >= 10.0:
        return f"{value:.0f}"
    return f"{value:.1f}" if value >= 1.0 else f"{value:.2f}"


def figures(ends: tuple[float, float]) -> str:
    """Return a band of energies.

    Examples
    --------
    >>> figures((23.1, 77.4))
    '23 to 77'
    """
    return f"{figure(ends[0])} to {figure(ends[1])}"


def years(value: float) -> str:
    """Return years, none of them beyond what anyone can foresee.

    Examples
    --------
    >>> years(26.3), years(0.4), years(57.0), years(0.0), years(1.2)
    ('26 years', 'less than a year', 'more than 50 years', 'there already', '1 year')
    """
    if value == 0.0:
        return "there already"
    if value < 1.0:
        return "less than a year"
    if value > LONGEST_YEARS:
        return f"more than {LONGEST_YEARS} years"
    whole = round(value)
    return f"{whole} year{'' if whole == 1 else 's'}"


def now(told: Cornea) -> str:
    """Return the count before surgery, or in which way it is not known."""
    if told.count_per_mm2 is None:
        return f"count {underscored(told.why_unknown)}"
    return f"{told.count_per_mm2:,.0f} now"


def cornea_line(told: Cornea) -> str:
    """Return what is expected of the endothelium, in one line."""
    if told.after is not None:
        band = told.after.count
        return (
            f"{now(told)}, {count(band.middle)} expected after surgery "
            f"(nine in ten {span(band.nine_in_ten)} {UNIT})"
        )
    if told.no_loss_because:
        return f"{now(told)}; nothing is taken off: {told.no_loss_because}"
    lost = between_people(*told.loss_range, 100)
    return (
        f"{now(told)}, so none after surgery is said; waits for {waits_for(told.waits_for)}. "
        f"Eyes lose {lost} cells on average, by the count they begin with"
    )


def waits_for(findings: tuple[str, ...]) -> str:
    """Return findings as a person calls them."""
    return " and ".join(named(name) for name in findings)


def usual(told: Cornea) -> str:
    """Return what is usual for the age; that the age is not known where it is not."""
    if told.usual_per_mm2 is None or told.age_years is None:
        return "Usual for the age: the age on the day of surgery is not known."
    at = f"Usual at {told.age_years:g} years: about {count(told.usual_per_mm2)}."
    if told.count_per_mm2 is None:
        return f"{at} This eye's own count is not taken from it."
    share = 100.0 * told.count_per_mm2 / told.usual_per_mm2
    return f"{at} This eye has {share:.0f} % of that."


def how_after(one: After) -> str:
    """Return by whose loss a count after surgery was reckoned."""
    group = one.group
    return (
        f"Eyes that began with {group.label} lost {loss(group.share)} cells on average, "
        f"standard deviation {100 * group.sd:.0f} ({group.eyes} eyes)"
    )


def one_sd(one: After) -> str:
    """Return the count with a loss one standard deviation either side of the mean."""
    return f"{span(one.one_sd)} with a loss one standard deviation above or below the mean"


def large_loss(one: After) -> str:
    """Return how often such eyes lose so much that sight was found to suffer."""
    row = table("endothelium")["large_loss"]
    return (
        f"{of_100(one.chance_of_large_loss)} such eyes lose {loss(row['share'])} cells or more. "
        f"{row['says']}"
    )


def beside(told: Cornea) -> str:
    """Return what the group beside would say; empty where the count is far from its edge."""
    one = told.beside
    if one is None:
        return ""
    return (
        "The count lies near the edge of its group, and a count is repeatable to about a tenth: "
        f"by the group beside, {one.group.label}, it would be {count(one.count.middle)} "
        f"(nine in ten {span(one.count.nine_in_ten)})."
    )


def threshold(one: Threshold) -> str:
    """Return a threshold by its name and count."""
    return f"{one.label.capitalize()}: below {one.below_per_mm2:,.0f}"


def years_to(one: Threshold) -> str:
    """Return when a count falls below a threshold; empty where it is not asked."""
    if one.years is None or one.years_middle is None:
        return ""
    return f"{years(one.years_middle)} (nine in ten {_between_years(*one.years)})"


def _between_years(low: float, high: float) -> str:
    first, last = years(low), years(high)
    if first == last:
        return first
    plain = first.removesuffix(" years").removesuffix(" year")
    return f"{plain} to {last}" if last.endswith("years") else f"{first} to {last}"


def series_line(told: Cornea) -> str:
    """Return the bounds that other series set; empty where there are none."""
    if not told.series:
        return ""
    first, last = told.series[0], told.series[-1]
    few = round(100 * last.share) <= 1
    share = "about 1 of 100" if few else between_people(first.share, last.share, 100)
    lost = f"Other series lost {share} cells on average"
    if first.count_per_mm2 is None or last.count_per_mm2 is None:
        return lost
    ends = (last.count_per_mm2, first.count_per_mm2)
    remain = count(ends[0]) if count(ends[0]) == count(ends[1]) else span(ends)
    return f"{lost}: {remain} would remain"


def energy_line(told: Energy) -> str:
    """Return expected energy and limit in one line, or why there is none."""
    if told.limit is None or told.expected is None or told.measure is None:
        return f"no limit, {no_limit(told)}"
    ends = figures(told.expected.nine_in_ten)
    expected = f"{figure(told.expected.middle)} {told.measure.unit} expected (nine in ten {ends})"
    return f"{expected}, stop and ask at {figure(told.limit)}"


def no_limit(told: Energy) -> str:
    """Return why there is no limit."""
    if told.waits_for and told.log is not None and told.log.line:
        return f"waits for {waits_for(told.waits_for)}"
    return told.why_none


def measure(one: Measure) -> str:
    """Return what number stands for energy, and what it sums up."""
    terms = " + ".join(
        f"seconds × mean {term.mode} power{'' if term.factor == 1.0 else f' × {term.factor:g}'}"
        for term in one.terms
    )
    note = f" {one.note}" if one.note else ""
    return f"{one.label.capitalize()}, {one.unit}: {terms}; power from 0 to 1.{note}"


def made_on(one: Measure) -> str:
    """Return machine, mode and tip of the own figures."""
    parts = [one.machine, one.mode, f"tip {one.tip}", one.technique]
    return ", ".join(part for part in parts if part)


def own_log(log: OwnLog) -> str:
    """Return what the own log holds."""
    aside = f"; {len(log.set_aside)} rows set aside" if log.set_aside else ""
    if log.lowest_colour is None or log.highest_colour is None:
        return f"{log.file}: no case of this machine, mode and tip{aside}"
    return (
        f"{log.file}: {len(log.cases)} own cases, colour {log.lowest_colour:g} to "
        f"{log.highest_colour:g}{aside}"
    )


def how_limit(told: Energy) -> str:
    """Return how the limit is made; empty where there is none."""
    if told.limit is None or told.nuclear_colour is None:
        return ""
    return (
        f"{of_100(told.limit_share)} of the next own eyes of colour {told.nuclear_colour:g} are "
        f"expected to stay under it, so about {of_100(1.0 - told.limit_share)} will pass it though "
        "nothing is wrong. It follows from the own log alone: a straight line through the "
        "logarithm of energy over nuclear colour, its own uncertainty counted in."
    )


def not_firm(log: OwnLog) -> str:
    """Return that there are too few cases for the scatter to be known well; empty where not."""
    if log.firm or not log.line:
        return ""
    needs = table("energy")["own_log"]["firm_from_cases"]
    return f"From {needs} cases on the scatter is known well; until then the limit lies wide."


def effects() -> tuple[str, ...]:
    """Return what pooled trials found of ways to divide the nucleus: a direction, not a constant.

    Examples
    --------
    >>> effects()[0]
    'Chop against divide-and-conquer, weighted ultrasound seconds: −8.68 (−12.76 to −4.6).'
    """
    rows = table("energy")["effect"]
    return tuple(
        f"{row['label'].capitalize()}, {row['quantity']}: {_minus(row['difference'])} "
        f"({_minus(row['low'])} to {_minus(row['high'])})."
        for row in rows
    )


def _minus(value: float) -> str:
    return f"{value:g}".replace("-", MINUS)


def printed(one: Printed) -> str:
    """Return a printed mean with its spread or its ends."""
    spread = f" (SD {one.sd:g})" if one.sd is not None else ""
    ends = f" ({one.span[0]:g} to {one.span[1]:g})" if one.span is not None else ""
    return f"{one.mean:g}{spread}{ends}"


def band(one: Band) -> str:
    """Return a middle with its band of energies.

    Examples
    --------
    >>> band(Band(42.3, (33.1, 54.0), (23.1, 77.4)))
    '42 (nine in ten 23 to 77)'
    """
    return f"{figure(one.middle)} (nine in ten {figures(one.nine_in_ten)})"
