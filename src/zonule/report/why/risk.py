"""Why a risk is what it is: the model, this eye's factors, the surgeon, what follows."""

from __future__ import annotations

from functools import partial

from zonule.assessment.risk.factors import FactorReading
from zonule.assessment.risk.outcomes import Outcome
from zonule.library.reading import table
from zonule.plan.records import Plan
from zonule.plan.risks import Risks
from zonule.plan.roots.records import Root
from zonule.report import risk_words
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import between_people, of_100


def risk_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of every risk of a plan."""
    risks = plan.risks
    if risks is None:
        return {}
    paths: dict[str, Explain] = {
        "risks.rupture": partial(_rupture, risks),
        "risks.yardsticks": partial(_yardsticks, risks),
        "risks.groups": partial(_groups, risks),
    }
    if risks.mixed is not None:
        paths["risks.mixed"] = partial(_mixed, risks, risks.mixed)
    if risks.second_eye is not None and risks.second_eye.what_if:
        paths["risks.second_eye"] = partial(_second_eye, risks)
    paths |= {f"risks.roots.{one.key}": partial(_root, one) for one in risks.roots.roots}
    paths |= {f"risks.outcomes.{one.id}": partial(_outcome, one, risks) for one in risks.outcomes}
    return paths


def _factor(one: FactorReading) -> Input:
    ratios = dict.fromkeys(f"{level.ratio:.2f}" for level in one.possible if level.ratio)
    said = f"{risk_words.here(one)}, × {' or '.join(ratios)}" if ratios else risk_words.here(one)
    first = one.possible[0] if one.possible else one.factor.levels[0]
    return Input(one.factor.label, said, first.source, first.status)


def _made_from(risks: Risks) -> tuple[Input, ...]:
    """Return model, baseline, years, every factor, and the surgeon's own results."""
    one = risks.rupture
    model, own, years = one.of_model.model, one.own, one.years
    base = model.baseline
    assert one.of_model.value is not None
    return (
        Input("Model", model.name, model.source, model.status),
        Input("Baseline odds", f"{base.value:.5f}", base.source, base.status),
        Input(
            "Brought to",
            f"{years.label}, {years.rate.value:.4f}",
            years.rate.source,
            years.rate.status,
        ),
        *(_factor(factor) for factor in one.of_model.factors),
        Input("By the model alone", of_100(one.of_model.value), "", "derived"),
        Input(
            "Own results",
            f"{own.ruptures} of {own.cases:,}" if own.counted else "none counted",
            "",
            "derived" if own.counted else "assumption",
        ),
        Input("Spread between surgeons", f"{own.spread:.2f} log odds", "", "assumption"),
    )


def _rupture(risks: Risks) -> Explanation:
    one = risks.rupture
    model, own = one.of_model.model, one.own
    base, years = model.baseline, one.years
    return Explanation(
        path="risks.rupture",
        title="Posterior capsule rupture",
        value=f"{of_100(one.value)} ({between_people(one.low, one.high, 100)})",
        how="Baseline odds times the odds ratio of every factor, the baseline moved to the rate of "
        "the years chosen; then moved by this surgeon's own results where cases were counted.",
        inputs=_made_from(risks),
        sources=(model.source, years.rate.source, "own_assumption"),
        status=base.status,
        status_of="its baseline",
        held_by=held_by.RISK,
        caveats=(
            risk_words.CAUTION,
            *risk_words.rows_set_aside(own),
            *((text,) if (text := risk_words.not_in_figure(risks)) else ()),
            base.note,
            *((text,) if (text := risk_words.waits(one.waits_for)) else ()),
            *(
                f"{factor.factor.label}: {factor.factor.read_as}"
                for factor in one.of_model.factors
                if factor.factor.read_as
            ),
        ),
    )


def _yardsticks(risks: Risks) -> Explanation:
    model = risks.rupture.of_model.model
    return Explanation(
        path="risks.yardsticks",
        title="The same eye at other national rates",
        value=model.name,
        how="Only the odds of the whole move, by logit of the new rate less logit of the old. "
        "Exact only if the mix of eyes has stayed the same.",
        sources=(model.source, risks.rupture.years.rate.source),
        status="derived",
        held_by=held_by.RISK,
    )


def _groups(risks: Risks) -> Explanation:
    model = risks.rupture.of_model.model
    return Explanation(
        path="risks.groups",
        title="The same eye in the hands of other groups",
        value=model.name,
        how=risk_words.GROUPS_NOTE,
        inputs=tuple(
            Input(one.level.label, f"× {one.level.ratio:.2f}", one.level.source, one.level.status)
            for one in risks.rupture.comparisons
        ),
        sources=(model.source,),
        status=model.status,
        held_by=held_by.RISK,
    )


def _mixed(risks: Risks, value: float) -> Explanation:
    row = table("risk/choices")["mixed_line"]
    return Explanation(
        path="risks.mixed",
        title="Two fits mixed",
        value=of_100(value),
        how=row["says"],
        inputs=tuple(
            Input(name.replace("_", " "), f"× {ratio:.2f}", row["source"], row["status"])
            for name, ratio in row["replaces"].items()
        ),
        sources=(row["source"], risks.rupture.of_model.model.source),
        status="derived",
        held_by=held_by.RISK,
    )


def _second_eye(risks: Risks) -> Explanation:
    assert risks.second_eye is not None
    row = table("risk/choices")["second_eye"]
    return Explanation(
        path="risks.second_eye",
        title="What if both eyes share an effect",
        value="; ".join(
            f"spread {one.spread:.1f}: {of_100(one.value)}" for one in risks.second_eye.what_if
        ),
        how="The two eyes of a patient share one effect on the log odds, normally distributed; the "
        "risk of the second eye is averaged over what the first eye's rupture says of it. Nothing "
        "of this is in the risk that is shown.",
        inputs=(Input("This eye by its own findings", of_100(risks.rupture.value), "", "derived"),),
        sources=(row["fact"]["source"], row["source"]),
        status=row["status"],
        status_of="the spread",
        held_by=held_by.RISK,
    )


def _root(one: Root) -> Explanation:
    return Explanation(
        path=f"risks.roots.{one.key}",
        title=one.label,
        value=f"{of_100(one.chance.value)} ({risk_words.between(one.chance)})",
        how=f"{one.how[:1].upper()}{one.how[1:]}.",
        sources=tuple(dict.fromkeys(one.sources)),
        status=one.status,
        held_by=held_by.RISK,
        caveats=tuple(text for text in (risk_words.waits(one.waits_for),) if text),
    )


def _happens(one: Outcome, risks: Risks) -> tuple[Input, ...]:
    """Return how often the branch happens in this eye."""
    if one.branch == "none":
        return ()
    row = table("risk/outcomes")["vitreous_in_rupture"]
    rupture = Input("Rupture in this eye", f"{risks.rupture.value:.4f}", "", "derived")
    lost = Input("Vitreous lost in ruptures", f"{row['share']:.2f}", row["source"], row["status"])
    return (rupture, lost) if one.branch == "vitreous" else (rupture,)


def _outcome(one: Outcome, risks: Risks) -> Explanation:
    after = {"vitreous": "After rupture with vitreous lost"}.get(one.branch, "After rupture")
    branches = (("Without rupture", one.without), (after, one.after))
    return Explanation(
        path=f"risks.outcomes.{one.id}",
        title=f"{one.label}, {one.window}",
        value=risk_words.outcome_here(one, 1000),
        how=one.how,
        inputs=(
            *(
                Input(label, f"{chance.value:.5f} ({chance.low:.5f} to {chance.high:.5f})")
                for label, chance in branches
                if chance is not None
            ),
            *_happens(one, risks),
        ),
        sources=one.sources,
        status=one.status,
        held_by=held_by.RISK,
        caveats=tuple(text for text in (risk_words.waits(one.waits_for),) if text),
    )
