"""Puts the page of risks together from a plan."""

from __future__ import annotations

from zonule import __version__
from zonule.assessment.risk.rupture import Comparison
from zonule.library.reading import table
from zonule.plan.records import Plan
from zonule.plan.risks import Risks
from zonule.report import risk_words
from zonule.report.figures.dots import dots
from zonule.report.identity import as_shown, plan_identity
from zonule.report.plan_view.header import header_of
from zonule.report.plan_view.records import Phrase, Shown
from zonule.report.risk_view import outcomes, places, tables
from zonule.report.risk_view.records import Line, RiskView
from zonule.report.words import between_people, of_100


def risk_view(plan: Plan) -> RiskView:
    """Return everything the page of risks says."""
    risks = plan.risks
    if risks is None:
        return RiskView(header=header_of(plan), heading="Risks", withheld=risk_words.NO_RISKS)
    return RiskView(
        header=header_of(plan),
        heading=risk_words.heading(risks),
        withheld="",
        figure=_rupture_dots(risks),
        lead=_lead(plan, risks),
        table_names=tables.table_names(risks),
        factors=tables.factor_rows(plan, risks),
        factors_left_out=table("risk/choices")["beside"]["says"],
        yardsticks=_yardsticks(risks),
        own_heading=_own_heading(risks),
        own=tuple((Shown(line),) for line in risk_words.own(risks.rupture.own)),
        groups=tuple(_group(one) for one in risks.rupture.comparisons),
        groups_note=risk_words.GROUPS_NOTE,
        used=_used(plan),
        second_eye_heading=_second_eye_heading(risks),
        second_eye=_second_eye(risks),
        second_eye_lines=_what_ifs(risks),
        shared=_shared(risks),
        roots=places.root_rows(risks),
        places=places.view(plan, risks),
        outcomes=outcomes.rows(risks),
        outcome_dots=outcomes.pictures(risks),
        outcomes_note=outcomes.note(),
        caution=risk_words.CAUTION,
        identity=as_shown(plan_identity(plan)),
        versions=f"Zonule {__version__}",
    )


def _rupture_dots(risks: Risks) -> str:
    one = risks.rupture
    return dots(
        one.value,
        of=100,
        title=risk_words.heading(risks),
        described=f"{of_100(one.value)} filled; {between_people(one.low, one.high, 100)} is the "
        "range.",
        reaches=one.high,
    )


def _lead(plan: Plan, risks: Risks) -> tuple[Phrase, ...]:
    lines = (
        (Shown(risk_words.rupture_range(risks), "risks.rupture"),),
        (Shown(risk_words.yardstick(risks)),),
    )
    more = (
        risk_words.not_in_figure(risks),
        risk_words.as_a_group(plan),
        risk_words.waits(risks.rupture.waits_for),
    )
    return (*lines, *((Shown(line),) for line in more if line))


def _yardsticks(risks: Risks) -> tuple[Line, ...]:
    """Return the same eye by other yardsticks; none of them feeds anything."""
    from_rates = tuple(
        Line(label, Shown(of_100(value), "risks.yardsticks"))
        for label, value in places.by_years(risks)
    )
    mixed = (
        (
            Line(
                "Two fits mixed",
                Shown(of_100(risks.mixed), "risks.mixed"),
                table("risk/choices")["mixed_line"]["says"],
            ),
        )
        if risks.mixed is not None
        else ()
    )
    waiting = tuple(
        Line(one.name, Shown("waiting"), f"for {_rows(one.missing)}")
        for one in tables.other_models()
        if one.baseline.value is None
    )
    return (*from_rates, *mixed, *waiting)


def _rows(missing: tuple[str, ...]) -> str:
    """Return the first rows that nobody has typed in, and how many more."""
    few, more = missing[:2], len(missing) - 2
    return ", ".join(few).lower() + (f" and {more} rows more" if more > 0 else "")


def _own_heading(risks: Risks) -> str:
    return "In your hands" if risks.rupture.own.counted else "In your hands: nothing counted yet"


def _group(one: Comparison) -> Line:
    says = (
        "better than the reference grade in that series; held at it"
        if one.held_at_reference
        else ""
    )
    return Line(one.level.label.capitalize(), Shown(of_100(one.value), "risks.groups"), says)


def _used(plan: Plan) -> tuple[str, ...]:
    """Return what is used for this eye and has no figure for what it changes."""
    known = set(table("risk/choices")["used"]["items"])
    items = [
        one.label for one in plan.parts.tray if one.key in known and one.rules and not one.waits_for
    ]
    gentle = ["Low-flow settings"] if plan.parts.machine_profile == "low_flow" else []
    return tuple(dict.fromkeys(items + gentle))


def _second_eye_heading(risks: Risks) -> str:
    return "What the first eye says of this one" if risks.second_eye is not None else ""


def _second_eye(risks: Risks) -> tuple[Phrase, ...]:
    if risks.second_eye is None:
        return ()
    return tuple((Shown(line),) for line in risk_words.second_eye(risks.second_eye))


def _what_ifs(risks: Risks) -> tuple[Line, ...]:
    if risks.second_eye is None:
        return ()
    return tuple(
        Line(risk_words.what_if(one.spread), Shown(of_100(one.value), "risks.second_eye"))
        for one in risks.second_eye.what_if
    )


def _shared(risks: Risks) -> tuple[str, ...]:
    if risks.second_eye is None:
        return ()
    return tuple(risk_words.shared_cause(one) for one in risks.second_eye.shared)
