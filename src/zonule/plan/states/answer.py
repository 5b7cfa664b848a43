"""What the state engine answers, as frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StepFirst:
    """A step a place wants first."""

    id: str
    name: str
    do: str
    if_needed: bool
    """An answer not known decides whether it applies, or whether it is done."""
    done: bool

    @property
    def outstanding(self) -> bool:
        """Whether it must still be done, or may have to be."""
        return not self.done


@dataclass(frozen=True, slots=True)
class Offer:
    """One place that the answers allow."""

    placement: str
    ways: tuple[str, ...]
    """The ways that hold whatever the answers not known turn out to be; where each outcome has
    another way, all that may hold."""
    steps: tuple[StepFirst, ...]
    asks: tuple[str, ...]
    """To be answered yes before a lens is opened."""
    with_: tuple[str, ...]
    warns: tuple[str, ...]

    @property
    def ready(self) -> bool:
        """Whether no step is outstanding."""
        return not any(step.outstanding for step in self.steps)


@dataclass(frozen=True, slots=True)
class OpenPlace:
    """A place that some outcome of the answers not known would allow."""

    placement: str
    question: str
    """The question that decides it."""
    sentence: str


@dataclass(frozen=True, slots=True)
class RefusedPlace:
    """A place that no outcome allows, and why."""

    placement: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Clash:
    """Answers that cannot stand together."""

    id: str
    sentence: str
    inputs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StateAnswer:
    """Everything the answers of this moment say."""

    answers: Mapping[str, str]
    """By question; ``not_asked`` where the question is moot."""
    contradictions: tuple[Clash, ...]
    rows: tuple[str, ...]
    """The situation; several while answers not known leave it open."""
    offered: tuple[Offer, ...]
    first_choice: str | None
    """None while an answer not known could change it."""
    open: tuple[OpenPlace, ...]
    refused: tuple[RefusedPlace, ...]
    next_question: str | None
    """The one question that would settle most; None where none would change anything."""
    different: tuple[str, ...]
    """Every first choice that the answers not known leave possible."""

    @property
    def undecided(self) -> int:
        """Open places, and first choices beside the first."""
        return len(self.open) + len(self.different) - 1 if self.different else 0

    def offer(self, placement: str) -> Offer | None:
        """Return the offer of a place, if it is offered."""
        return next((one for one in self.offered if one.placement == placement), None)
