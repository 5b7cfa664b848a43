"""What may go wrong in this eye and what remains: rupture, roots, places, outcomes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from zonule.assessment.risk.chance import Chance
from zonule.assessment.risk.outcomes import Outcome, outcomes_of
from zonule.assessment.risk.rupture import RuptureRisk, mixed_line, national_rate, rupture_risk
from zonule.assessment.risk.second_eye import SecondEye, second_eye
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.plan.roots.of_an_eye import roots_of
from zonule.plan.roots.records import Roots
from zonule.practice.records import Practice
from zonule.practice.risk import OwnBaseline


@dataclass(frozen=True, slots=True)
class Risks:
    """The risks of one eye, operated as planned."""

    rupture: RuptureRisk
    mixed: float | None
    """Two fits mixed; one labelled line that feeds nothing. None where it would say no more."""
    second_eye: SecondEye | None
    """None where the other eye has not been operated."""
    roots: Roots
    outcomes: tuple[Outcome, ...]

    @property
    def waits_for(self) -> tuple[str, ...]:
        """Findings that would narrow a risk of this eye."""
        names = (
            *self.rupture.waits_for,
            *(name for root in self.roots.roots for name in root.waits_for),
            *(name for one in self.outcomes for name in one.waits_for),
        )
        return tuple(dict.fromkeys(names))


def risks_of(
    case: Case,
    practice: Practice,
    own: OwnBaseline,
    lookup: Lookup,
    offered: Sequence[tuple[str, str]],
) -> Risks | None:
    """Return the risks of the eye to do; None for an eye without its own lens.

    The published models are those of eyes that start with their own lens.

    Parameters
    ----------
    case, practice
        As read.
    own
        The surgeon's own baseline.
    lookup
        Every finding of the eye to do, by the name that rules use.
    offered
        The rungs of this plan in order: key, and the placement that the key is of.
    """
    if case.operative_eye.lens_status != "phakic" or not offered:
        return None
    years = practice.risk.rebased_to
    rupture = rupture_risk(lookup, own, rebased_to=years)
    return Risks(
        rupture=rupture,
        mixed=mixed_line(lookup, rebased_to=years),
        second_eye=second_eye(case, rupture.value),
        roots=roots_of(rupture, lookup, offered),
        outcomes=outcomes_of(
            lookup,
            Chance(rupture.value, rupture.low, rupture.high),
            national_rate=national_rate(years),
        ),
    )
