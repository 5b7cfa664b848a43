"""Rules on the page: by step, before surgery, against each other, and as people settled them."""

from __future__ import annotations

from zonule.library.rules import STRENGTH_WORDS, Rule
from zonule.plan.parts import RuleReading, Step
from zonule.plan.records import Plan
from zonule.report import part_words, sentences
from zonule.report.plan_view.records import Card, ConflictView, Pair, RuleView, Shown, StepView


def rule_view(reading: RuleReading, plan: Plan) -> RuleView:
    """Return one rule as it is shown."""
    rule = reading.rule
    return RuleView(
        id=rule.id,
        title=rule.title,
        stands_out=rule.title in plan.parts.different,
        strength=rule.strength,
        strength_says=STRENGTH_WORDS[rule.strength],
        status=sentences.status_words(rule.status),
        because=", ".join(reading.because),
        do=rule.do,
        avoid=rule.avoid,
        reason=rule.why,
        settled=part_words.settled(reading),
        why=f"rules.{rule.id}",
    )


def steps_of(plan: Plan) -> tuple[StepView, ...]:
    """Return the steps in operating order."""
    return tuple(_step(step, plan) for step in plan.parts.steps)


def _step(step: Step, plan: Plan) -> StepView:
    path = f"steps.{step.key}.clock_hours"
    return StepView(
        order=step.order,
        name=step.name,
        says="" if step.rules and not step.asks else step.says,
        hours=Shown(part_words.hours(step), path) if step.clock_hours else None,
        rules=tuple(rule_view(one, plan) for one in step.rules),
    )


def steps_heading(plan: Plan, *, plain: bool) -> str:
    """Return the heading of the steps: how many, and whether any is out of the ordinary."""
    ordinary = ", nothing out of the ordinary" if plain else ""
    return f"Steps, in operating order: {len(plan.parts.steps)}{ordinary}"


def steps_note(plan: Plan) -> str:
    """Return what the bold lines are, and how many rules wait for what is not known."""
    waiting = len(plan.parts.waiting())
    bold = "Bold: not to be forgotten in this eye." if plan.parts.different else ""
    rules = "1 rule waits" if waiting == 1 else f"{waiting} rules wait"
    waits = f"{rules} for what is outstanding." if waiting else ""
    return " ".join(part for part in (bold, waits) if part)


def before_of(plan: Plan) -> tuple[RuleView, ...]:
    """Return what the rules ask for before the operation."""
    return tuple(rule_view(one, plan) for one in plan.parts.firing() if not one.rule.step)


def before_heading(plan: Plan) -> str:
    """Return the heading of what is to be done before the operation."""
    count = sum(not one.rule.step for one in plan.parts.firing())
    return f"Before surgery: {count} to do" if count else ""


def conflicts_of(plan: Plan) -> tuple[ConflictView, ...]:
    """Return the rules that pull apart, and how that is settled."""
    return tuple(
        ConflictView(
            question=one.conflict.question,
            settled=one.conflict.settled,
            meanwhile=part_words.gives_way(one.conflict),
            rules=(_named(one.first), _named(one.second)),
        )
        for one in plan.parts.conflicts
    )


def _named(rule: Rule) -> Shown:
    return Shown(f"{rule.title} ({rule.id})", f"rules.{rule.id}")


def conflicts_heading(plan: Plan) -> str:
    """Return the heading of the rules that pull apart."""
    return f"Rules that pull apart: {len(plan.parts.conflicts)}, and how that is settled"


def settled_of(plan: Plan) -> Card:
    """Return what people set aside, switched off, changed or accepted: who, when, why."""
    aside = [one for one in plan.parts.rules if one.set_aside]
    kept = [one for one in plan.parts.firing() if one.decision is not None]
    changed = [one for one in kept if one.decision and one.decision.decision == "changed"]
    told = [f"{len(aside)} set aside"] if aside else []
    told += [f"{len(changed)} changed"] if changed else []
    told += [f"{len(kept) - len(changed)} accepted"] if len(kept) > len(changed) else []
    return Card(
        f"Rules as settled here: {', '.join(told)}",
        tuple(_of_people(one) for one in (*aside, *kept)),
    )


def _of_people(one: RuleReading) -> Pair:
    return Pair(_named(one.rule), " ".join(part_words.settled(one)))
