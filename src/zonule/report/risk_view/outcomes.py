"""What follows over the years, as the page shows it: a table, and people of one denominator."""

from __future__ import annotations

from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.outcomes import Outcome
from zonule.library.reading import table
from zonule.plan.risks import Risks
from zonule.report import risk_words
from zonule.report.figures.dots import RARE_BELOW, Of, dots
from zonule.report.plan_view.records import Shown
from zonule.report.risk_view.records import OutcomeDots, OutcomePicture, OutcomeRow
from zonule.report.words import of_people


def _branch(chance: Chance | None, of: Of) -> str:
    return "–" if chance is None else of_people(chance.value, of)


def rows(risks: Risks) -> tuple[OutcomeRow, ...]:
    """Return each outcome: without rupture, after it, and in this eye."""
    return tuple(
        OutcomeRow(
            label=one.label,
            window=one.window,
            without=_branch(one.without, 1000),
            after=_after(one),
            here=Shown(risk_words.outcome_here(one, 1000), f"risks.outcomes.{one.id}"),
            says=risk_words.outcome_says(one, 1000),
        )
        for one in risks.outcomes
    )


def _after(one: Outcome) -> str:
    if one.branch == "none":
        return ""
    said = _branch(one.after, 1000)
    return f"{said}, with vitreous lost" if one.branch == "vitreous" else said


def pictures(risks: Risks) -> tuple[OutcomePicture, ...]:
    """Return the outcomes of this eye as people: those seen in a hundred, then the rare ones."""
    known = [one for one in risks.outcomes if one.here is not None]
    common = [one for one in known if one.here is not None and one.here.value >= RARE_BELOW]
    rare = [one for one in known if one not in common]
    told: tuple[tuple[str, list[Outcome], Of], ...] = (
        ("Of 100 eyes like this", common, 100),
        ("Rarer: of 1,000 eyes like this", rare, 1000),
    )
    return tuple(
        OutcomePicture(heading, tuple(_dots(one, of) for one in group))
        for heading, group, of in told
        if group
    )


def _dots(one: Outcome, of: Of) -> OutcomeDots:
    assert one.here is not None
    said = of_people(one.here.value, of)
    return OutcomeDots(
        label=f"{one.label}, {one.window}",
        says=said,
        figure=dots(
            one.here.value,
            of=of,
            title=f"{one.label}: {said}",
            described=f"{one.window}; {risk_words.between(one.here, of)} is the range.",
        ),
    )


def note() -> str:
    """Return what the table counts."""
    lost = of_people(table("risk/outcomes")["vitreous_in_rupture"]["share"], 100)
    return (
        f"This eye: both branches together, at the risk of rupture above; vitreous is lost in "
        f"{lost} ruptures. Series differ in what they count and how long they look; the why of "
        "each line names them."
    )
