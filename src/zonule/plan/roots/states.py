"""The states a capsule may come to, each with its share, for every combination of roots."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from zonule.library.reading import table

GAPS: Final = ("0", "up_to_3", "up_to_4", "up_to_7", "over_7")
WHOLE: Final[Mapping[str, str]] = MappingProxyType(
    {
        "safe_to_go_on": "yes",
        "lens_in_eye": "none",
        "posterior_capsule": "intact",
        "rhexis": "continuous",
        "vitreous": "none",
        "gap_hours": "0",
        "usable_rim": "360",
        "capsule_opening_fit": "yes",
        "ring_in": "no",
    }
)
"""A bag that holds, when the lens is about to go in."""
NOT_SAFE: Final = "not safe to go on"


@dataclass(frozen=True, slots=True)
class Given:
    """Which roots have given."""

    capsule: bool
    zonule: bool
    rim: bool

    @property
    def lost(self) -> bool:
        """Whether any has."""
        return self.capsule or self.zonule or self.rim


@dataclass(frozen=True, slots=True)
class State:
    """A state of the capsule, and its share among eyes in which these roots have given."""

    says: str
    answers: Mapping[str, str]
    share: float


def every_combination() -> Iterator[Given]:
    """Return every combination of roots."""
    for capsule in (False, True):
        for zonule in (False, True):
            for rim in (False, True):
                yield Given(capsule, zonule, rim)


@cache
def states_given(given: Given, gap_before: str) -> tuple[State, ...]:
    """Return the states of one combination of roots; their shares sum to 1.

    Parameters
    ----------
    given
        Which roots have given.
    gap_before
        The gap that was there before surgery, as the theatre question has it.

    Examples
    --------
    >>> whole = states_given(Given(False, False, False), "0")
    >>> [(one.says, one.share) for one in whole]
    [('bag and rim whole', 1.0)]
    >>> torn = states_given(Given(True, False, False), "0")
    >>> round(sum(one.share for one in torn), 12)
    1.0
    """
    already = "" if gap_before == "0" else f"{_says_gap(gap_before)} there before"
    found = [State(already, {**WHOLE, "gap_hours": gap_before}, 1.0)]
    if given.zonule:
        found = [new for one in found for new in _split(one, _wider(gap_before))]
    if given.capsule:
        found = [new for one in found for new in _torn(one)]
    elif given.rim:
        found = [new for one in found for new in _split(one, _rows("torn_rim"), fit="not_known")]
    if given.lost:
        found = [new for one in found for new in _perhaps_unsafe(one)]
    return tuple(_said(one) for one in found)


def _said(state: State) -> State:
    return State(state.says or "bag and rim whole", state.answers, state.share)


def _roots() -> dict[str, Any]:
    return table("risk/roots")


def _says_gap(gap_hours: str) -> str:
    told = (one for one in _rows("gap") if one["answers"]["gap_hours"] == gap_hours)
    return f"gap of {next(told)['says']}"


def _rows(split: str) -> list[dict[str, Any]]:
    return next(list(one["rows"]) for one in _roots()["split"] if one["id"] == split)


def _split(state: State, rows: list[dict[str, Any]], *, fit: str = "") -> list[State]:
    """Return a state parted by the rows of a split; a torn edge has no fit to be asked for."""
    extra = {"capsule_opening_fit": fit} if fit else {}
    return [
        State(
            says=f"{state.says}; {row['says']}" if state.says else row["says"],
            answers={**state.answers, **extra, **row["answers"]},
            share=state.share * row["share"],
        )
        for row in rows
    ]


def _wider(gap_before: str) -> list[dict[str, Any]]:
    """Return the gaps that may follow when the zonule gives: none narrower than before."""
    rows = [
        {**row, "says": f"gap of {row['says']}"}
        for row in _rows("gap")
        if GAPS.index(row["answers"]["gap_hours"]) > GAPS.index(gap_before)
    ]
    if not rows:
        return [{"says": "gap wider still", "share": 1.0, "answers": {"gap_hours": gap_before}}]
    total = sum(row["share"] for row in rows)
    return [{**row, "share": row["share"] / total} for row in rows]


def _torn(state: State) -> list[State]:
    """Return a state with the posterior capsule torn: rim whole or torn, lens in or not."""
    torn_rim = float(_roots()["rim_torn_in_rupture"]["share"])
    whole = State(state.says, state.answers, state.share * (1.0 - torn_rim))
    other = State(state.says, state.answers, state.share * torn_rim)
    parts = [
        new
        for one in _split(whole, _rows("posterior_tear"))
        for new in (_opened(one) if one.answers["posterior_capsule"] != "absent" else [one])
    ]
    parts += _split(other, _rows("posterior_tear_torn_rim"), fit="not_known")
    return [new for one in parts for new in _lens_in_or_not(one)]


def _opened(state: State) -> list[State]:
    return _split(state, _rows("opening"))


def _lens_in_or_not(state: State) -> list[State]:
    """Return a torn capsule found before the lens is in, and after; a lost bag holds none."""
    if state.answers["posterior_capsule"] == "absent":
        return [state]
    share = float(_roots()["lens_in_when_found"]["share"])
    return [
        State(state.says, state.answers, state.share * (1.0 - share)),
        State(
            f"{state.says}; found with the lens in",
            {**state.answers, "lens_in_eye": "in_bag"},
            state.share * share,
        ),
    ]


def _perhaps_unsafe(state: State) -> list[State]:
    share = float(_roots()["not_safe"]["share"])
    return [
        State(state.says, state.answers, state.share * (1.0 - share)),
        State(NOT_SAFE, {"safe_to_go_on": "no"}, state.share * share),
    ]
