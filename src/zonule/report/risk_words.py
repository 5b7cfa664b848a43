"""The sentences about risk, shared by page, terminal, sheet and every "why"."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.factors import FactorReading
from zonule.assessment.risk.outcomes import Outcome
from zonule.assessment.risk.second_eye import SecondEye, SharedCause
from zonule.findings.labels import named
from zonule.library.reading import table
from zonule.plan.records import Plan
from zonule.plan.risks import Risks
from zonule.practice.risk import OwnBaseline
from zonule.report.words import between_people, of_100, of_people, sentence_case, within

NO_RISKS: Final = (
    "No risks are shown: the published models are those of eyes that start with their own lens."
)
CAUTION: Final = (
    "Not validated on this practice's patients. Models tell apart eyes modestly at best; local "
    "protocol and the operating surgeon decide."
)
GROUPS_NOTE: Final = (
    "What groups had in that series, never what one surgeon has. A group that did better than the "
    "reference grade took easier cases on; it is shown at the reference grade."
)
PLACES_NOTE: Final = (
    "Each place is where the lens goes in a set of capsule states, in this eye, operated as "
    "planned. They exclude each other and sum to 100 before rounding."
)
MOST_ROWS: Final = 5
HARDER: Final = (
    " Expected at the national rate: if those eyes were harder than most, the figure is too high "
    "until own_expected_ruptures is given."
)


def heading(risks: Risks) -> str:
    """Return the risk of rupture as a finding."""
    return f"Posterior capsule rupture: {of_100(risks.rupture.value)} eyes like this"


def between(chance: Chance, of: int = 100) -> str:
    """Return the range of a chance as people."""
    return between_people(chance.low, chance.high, of)


def rupture_range(risks: Risks) -> str:
    """Return the range of the risk of rupture, and what it comes from."""
    one = risks.rupture
    said = between_people(*one.band, 100)
    from_surgeon = "what is not known of this surgeon" if one.own.counted else "how surgeons differ"
    if not one.waits_for:
        return f"Nine in ten: {said}, from {from_surgeon}; the model's own error is not in it."
    wide = between_people(one.low, one.high, 100)
    return (
        f"{wide} over every way the unknown findings may turn out, and {from_surgeon}; {said} at "
        "their usual shares."
    )


def waits(names: Iterable[str]) -> str:
    """Return that findings would narrow a range; empty where nothing is open."""
    said = ", ".join(named(name) for name in names)
    return f"Not known, and would narrow it: {said}." if said else ""


def not_in_figure(risks: Risks) -> str:
    """Return what is recorded of this eye and stands in no factor; empty where there is nothing."""
    told = risks.rupture.not_in_figure
    return (
        f"Recorded here and NOT in the figure, each may raise it: {'; '.join(told)}."
        if told
        else ""
    )


def as_a_group(plan: Plan) -> str:
    """Return what the surgeon's grade had as a group; empty for the reference grade or counted."""
    assert plan.risks is not None
    one = plan.risks.rupture
    mine = [each for each in one.comparisons if plan.practice.grade in each.level.grades]
    if one.own.counted or not mine:
        return ""
    low, high = (of(each.value for each in mine) for of in (min, max))
    return (
        f"The figure is that of a consultant; as a group {plan.practice.grade} surgeons had "
        f"{between_people(low, high, 100)}."
    )


def yardstick(risks: Risks) -> str:
    """Return which model, brought to which rate, and what counts as rupture."""
    one = risks.rupture
    return (
        f"{one.of_model.model.name}; brought to the rate of {one.years.label}. "
        f"Counted there: {one.years.definition}."
    )


def own(baseline: OwnBaseline) -> tuple[str, ...]:
    """Return what the surgeon's own cases say."""
    if not baseline.counted:
        return (
            *rows_set_aside(baseline),
            "No own cases are counted: the figure is that of the average surgeon of the series, "
            "the range that of surgeons in general (spread assumed).",
            "Put own_cases and own_ruptures, or a file of own cases, under [risk] of the practice "
            "file.",
        )
    told = (
        f"{baseline.ruptures} ruptured in {baseline.cases:,} own cases; "
        f"{baseline.expected_ruptures:.1f} were expected. Drawn to the model, the odds are "
        f"{_times(baseline.mean)} those of the model (own cases count "
        f"{of_100(baseline.weight_of_own_data)} parts, the model the rest)."
        + (HARDER if baseline.counted_from == "counts at the national rate" else ""),
        "True on average over surgeons; one who stands far off is drawn too close to the model "
        "while the cases are few.",
    )
    return (*told, *rows_set_aside(baseline))


def rows_set_aside(baseline: OwnBaseline) -> tuple[str, ...]:
    """Return the rows of the file of own cases that could not be used, the first few in words."""
    aside = baseline.set_aside
    if not aside:
        return ()
    more = len(aside) - MOST_ROWS
    said = "; ".join(aside[:MOST_ROWS]) + (f"; and {more} more" if more > 0 else "")
    return (f"Rows of {baseline.counted_from or 'the file'} set aside: {len(aside)}. {said}.",)


def _times(shift: float) -> str:
    """Return a shift of the log odds as a factor.

    Examples
    --------
    >>> _times(0.0), _times(0.457)
    ('× 1.00', '× 1.58')
    """
    return f"× {2.718281828459045**shift:.2f}"


def here(one: FactorReading) -> str:
    """Return what an eye has of a factor; all that it may have where that is open."""
    if not one.possible:
        return "not known"
    said = " or ".join(level.label for level in one.possible)
    if one.not_in_record:
        return f"not in the record, taken as {said}"
    return said if one.known else f"not known: {said}"


def second_eye(one: SecondEye) -> tuple[str, ...]:
    """Return what a rupture in the first eye means; nothing of it is in the risk."""
    fact = table("risk/choices")["second_eye"]["fact"]
    pairs = f"{fact['patients_with_both_eyes']:,} patients with both eyes done"
    if one.ruptured is None:
        return ("Whether the first eye's capsule tore is not known: read its operation note.",)
    if not one.ruptured:
        return ("The first eye's capsule held.",)
    causes = {
        "technique": "By the surgeon's word it was technique: nothing is carried to this eye.",
        "chance": "By the surgeon's word it was chance: nothing is carried to this eye.",
        "shared": "By the surgeon's word its cause is one that both eyes share.",
    }
    return (
        f"The first eye's capsule tore. {fact['says']} ({pairs}.) The risk above is not "
        "multiplied for it.",
        causes.get(one.cause, "Nobody has said what caused it: shared, technique or chance."),
    )


def what_if(spread: float) -> str:
    """Return what a what-if of the second eye supposes."""
    if spread == 0.0:
        return "What if: nothing shared"
    return f"What if both eyes share an effect of spread {spread:.1f} (assumed)"


def shared_cause(one: SharedCause) -> str:
    """Return a cause found at the first eye, and what is known of it here."""
    told = {
        "here_too": "found in this eye too; counted above where the model has it",
        "absent_here": "looked for in this eye and absent",
        "look": f"not known in this eye: {named(one.finding)} is to be looked for",
    }
    return f"{one.label}: {told[one.found]}"


def outcome_here(one: Outcome, of: int) -> str:
    """Return the chance of an outcome in this eye, or what it waits for."""
    if one.here is not None:
        return of_people(one.here.value, of)
    if one.waits_for:
        return f"waits for {', '.join(named(name) for name in one.waits_for)}"
    return f"waiting for {', '.join(_row(row) for row in one.waits_for_rows)}"


def _row(name: str) -> str:
    """Return a row of a table as it is waited for."""
    return "the rate without it" if name == "baseline" else within(name)


def outcome_says(one: Outcome, of: int) -> str:
    """Return the range of an outcome in this eye, how it was made, and what it leaves out."""
    told = [f"{between(one.here, of)}."] if one.here is not None else []
    told.append(one.how)
    if one.here is not None and one.waits_for:
        told.append(waits(one.waits_for))
    if one.cut_at_one:
        told.append("Its factors multiply beyond 1 at the upper end, which is cut there.")
    if one.not_in_record:
        told.append(
            f"Not in the record, taken as absent: {', '.join(map(within, one.not_in_record))}."
        )
    return " ".join(told)


def in_short(plan: Plan) -> tuple[str, ...]:
    """Return the risk in a few lines: range, the other roots, the first eye, what is open."""
    risks = plan.risks
    assert risks is not None
    roots = "; ".join(
        f"{within(one.label)} {of_100(one.chance.value)}"
        for one in risks.roots.roots
        if one.key != "capsule"
    )
    told = risks.second_eye
    first_eye = second_eye(told)[0] if told is not None and told.ruptured else ""
    lines = (
        rupture_range(risks),
        not_in_figure(risks),
        as_a_group(plan),
        f"{sentence_case(roots)}.",
        first_eye,
        waits(risks.rupture.waits_for),
        "Outcomes over the years stand on the page of risks, and in zonule plan --json.",
    )
    return tuple(line for line in lines if line)
