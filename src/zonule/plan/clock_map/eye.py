"""Everything a proposal needs to know of the eye to be done."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.errors import Side
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.library.reading import table
from zonule.plan.clock_map.fixed import Found, what_is_there
from zonule.plan.clock_map.positions import from_hour
from zonule.plan.clock_map.spots import Spot
from zonule.plan.clock_map.wanted import Wanted, anchored_at, wound_half_degrees
from zonule.plan.main_wound import MainWound, hour_of, main_wound
from zonule.practice.records import Practice


@dataclass(frozen=True, slots=True)
class AtTheLimbus:
    """One eye: what is there, what is wanted, and where this surgeon begins."""

    side: Side
    site: str
    """Where this surgeon usually makes the main wound."""
    first: MainWound
    """The site that a dialysis leaves open."""
    there: Found
    wanted: Wanted
    firing: frozenset[str]

    @property
    def fixed(self) -> tuple[Spot, ...]:
        """What is there, and what can go nowhere else."""
        segment = self.wanted.segment
        return (*self.there.spots, *((segment,) if segment else ()))

    @property
    def usual_wound(self) -> Spot:
        """The main wound at the usual site."""
        at = from_hour(hour_of(self.site, self.side), self.side)
        return Spot("main_wound", "main_wound", at, self.wanted.wound_half_degrees)

    @property
    def start(self) -> int:
        """Quarters of an hour at which the search for the main wound begins."""
        if self.first.hour is None:
            return round(self.usual_wound.quarters)
        return round(from_hour(self.first.hour, self.side))

    def asked(self, kind: str) -> bool:
        """Tell whether a rule that fires wants this kind of thing."""
        return asked(kind, self.firing)


def asked(kind: str, firing: frozenset[str]) -> bool:
    """Tell whether a rule that fires wants a kind of thing.

    Examples
    --------
    >>> asked("iris_hook", frozenset({"D-05"})), asked("segment", frozenset({"D-05"}))
    (True, False)
    """
    return bool(firing & set(table("clock_map")["kind"][kind]["when_rule"]))


def at_the_limbus(
    case: Case, practice: Practice, lookup: Lookup, firing: frozenset[str]
) -> AtTheLimbus:
    """Return everything a proposal needs to know of the eye to be done."""
    there = what_is_there(case.eye_to_do, lookup)
    gap = next((one for one in there.spots if one.kind == "dialysis"), None)
    segment, opposite = anchored_at(gap, asked=asked("segment", firing))
    own_lens = case.operative_eye.lens_status not in ("aphakic", "pseudophakic")
    return AtTheLimbus(
        side=case.eye_to_do,
        site=practice.habits.main_wound_site or "temporal",
        first=main_wound(case, practice, lookup),
        there=there,
        wanted=Wanted(
            wound_half_degrees=wound_half_degrees(practice, lookup),
            iris_hooks=asked("iris_hook", firing),
            capsule_hooks=own_lens and asked("capsule_hook", firing),
            gap=gap,
            segment=segment,
            opposite=opposite,
        ),
        firing=firing,
    )
