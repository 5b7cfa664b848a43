"""Reads every rule against one eye: it fires, it is silent, or it waits, and for what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from zonule.findings.allergies import is_allergic_to
from zonule.findings.answers import Answer
from zonule.findings.conditions import Condition, Lookup, parse
from zonule.findings.fields import sections
from zonule.findings.labels import said
from zonule.findings.records import Case, Overruling
from zonule.library.reading import table
from zonule.library.rules import Conflict, Rule, conflicts, rules
from zonule.plan.parts import ConflictReading, RuleReading, RuleState
from zonule.practice.department import RuleDecision

OF_AN_OWN_LENS = ("acd_mm",)
"""Worked out from the eye's own lens: without one there is nothing to find out."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What a condition list says, and on which findings it hangs."""

    holds: bool | None
    waits_for: tuple[str, ...] = ()
    because: tuple[Condition, ...] = ()


def seen_only_in_theatre() -> frozenset[str]:
    """Return the findings that nobody can have before the operation.

    Examples
    --------
    >>> "rhexis_state" in seen_only_in_theatre(), "pxf" in seen_only_in_theatre()
    (True, False)
    """
    return frozenset(table("theatre_findings")["finding"])


def _moot(case: Case) -> Callable[[str], bool]:
    """Return whether a finding can be said of this eye at all; without a lens many cannot."""
    eye, fellow = case.operative_eye, case.fellow_eye
    gone = eye.lens_status in ("aphakic", "pseudophakic")
    other_gone = fellow.lens_status in ("aphakic", "pseudophakic")
    own = {key for key, field in sections("case")["eye"].items() if field.phakic_only}

    def moot(name: str) -> bool:
        if name == "acd_asymmetry_mm":
            return gone or other_gone
        if name == "lens_decentration_mm":
            return eye.lens_status == "aphakic"
        return gone and (name in own or name in OF_AN_OWN_LENS)

    return moot


def heard(
    when_all: Iterable[str], when_any: Iterable[str], lookup: Lookup, moot: Callable[[str], bool]
) -> Heard:
    """Return what conditions say together: all of the one list and one of the other.

    Unknown stays unknown (Kleene): a list hangs only on findings that could still turn it.

    Examples
    --------
    >>> from zonule.findings.answers import Unknown
    >>> known = {"pxf": True, "acd_mm": Unknown.NOT_RECORDED}
    >>> heard(["pxf == true", "acd_mm < 2.5"], [], known.__getitem__, lambda name: False).waits_for
    ('acd_mm',)
    """
    every = [(parse(text), _holds(parse(text), lookup, moot)) for text in when_all]
    some = [(parse(text), _holds(parse(text), lookup, moot)) for text in when_any]
    whole = _all([value for _, value in every], [value for _, value in some])
    if whole is None:
        loose = [one for one, value in every if value is None]
        if not any(value for _, value in some):
            loose += [one for one, value in some if value is None]
        return Heard(None, tuple(dict.fromkeys(one.finding for one in loose)))
    if not whole:
        return Heard(False)
    return Heard(True, because=tuple(one for one, value in every + some if value))


def _holds(condition: Condition, lookup: Lookup, moot: Callable[[str], bool]) -> bool | None:
    if moot(condition.finding):
        return False
    if condition.finding == "allergies":
        return is_allergic_to(condition.value, lookup("allergies"))
    return condition.holds(lookup)


def _all(every: list[bool | None], some: list[bool | None]) -> bool | None:
    """Return the three-valued AND of a list with the three-valued OR of another."""
    either: bool | None = True
    if some:
        either = True if any(some) else (None if None in some else False)
    parts = [*every, either]
    if False in parts:
        return False
    return None if None in parts else True


def _state(rule: Rule, case: Case, lookup: Lookup) -> tuple[RuleState, Heard]:
    if _without_a_lens(rule, case):
        return "silent", Heard(False)
    found = heard(rule.when_all, rule.when_any, lookup, _moot(case))
    if found.holds is None:
        before = tuple(name for name in found.waits_for if name not in seen_only_in_theatre())
        if not before:
            return "in_theatre", found
        return "waits", Heard(None, before)
    return ("fires" if found.holds else "silent"), found


def _without_a_lens(rule: Rule, case: Case) -> bool:
    """Tell whether a rule is about a lens this eye no longer has."""
    status = case.operative_eye.lens_status
    step = table("steps")["step"].get(rule.step, {})
    return bool(step.get("own_lens", False)) and status in ("aphakic", "pseudophakic")


def _as_settled(rule: Rule, decision: RuleDecision | None) -> Rule:
    """Return a rule in the department's wording, where it was changed."""
    if decision is None or decision.decision != "changed":
        return rule
    return replace(rule, title=decision.title or rule.title, do=decision.do or rule.do)


def read_rule(
    rule: Rule,
    case: Case,
    lookup: Lookup,
    *,
    decision: RuleDecision | None = None,
    overruling: Overruling | None = None,
) -> RuleReading:
    """Return what one rule says of the eye to be done.

    Parameters
    ----------
    rule
        The rule.
    case, lookup
        The case, and every finding of the eye by the name that rules use.
    decision
        The department's last decision about the rule.
    overruling
        The surgeon's word for this eye.
    """
    state, found = _state(rule, case, lookup)
    reading = RuleReading(
        rule=_as_settled(rule, decision),
        state=state,
        waits_for=found.waits_for,
        because=tuple(dict.fromkeys(said(one, lookup(one.finding)) for one in found.because)),
        decision=decision,
        overruling=overruling,
    )
    if state == "silent":
        return reading
    if decision is not None and decision.decision == "switched_off":
        return replace(reading, state="switched_off", would_be=state)
    if overruling is not None:
        return replace(reading, state="overruled", would_be=state)
    return reading


def read_rules(
    case: Case, lookup: Lookup, decisions: Iterable[RuleDecision]
) -> tuple[RuleReading, ...]:
    """Return what every rule says of the eye to be done; duties of the program stay out."""
    settled = {one.rule: one for one in decisions}
    overruled = {one.rule: one for one in case.operative_eye.overrulings}
    return tuple(
        read_rule(
            rule,
            case,
            lookup,
            decision=settled.get(rule.id),
            overruling=overruled.get(rule.id),
        )
        for rule in rules().values()
        if rule.scope == "eye"
    )


def read_conflicts(
    readings: Iterable[RuleReading], case: Case, lookup: Lookup
) -> tuple[ConflictReading, ...]:
    """Return the rules of this plan that pull apart."""
    firing = {one.rule.id: one.rule for one in readings if one.state == "fires"}
    return tuple(
        ConflictReading(conflict, *(firing[key] for key in conflict.rules))
        for conflict in conflicts()
        if all(key in firing for key in conflict.rules) and _stands(conflict, case, lookup)
    )


def _stands(conflict: Conflict, case: Case, lookup: Lookup) -> bool:
    """Tell whether a conflict stands; where a finding is not known it is shown all the same."""
    return heard(conflict.when_all, conflict.when_any, lookup, _moot(case)).holds is not False


def with_plan_facts(lookup: Lookup, facts: Mapping[str, bool]) -> Lookup:
    """Return a lookup that also knows what only the plan itself can say."""

    def found(name: str) -> Answer:
        return facts[name] if name in facts else lookup(name)

    return found
