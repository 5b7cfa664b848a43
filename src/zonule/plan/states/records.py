"""The theatre tables as frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from zonule.library.reading import Status

NOT_KNOWN: Final = "not_known"
"""An answer nobody could give."""
NOT_ASKED: Final = "not_asked"
"""The answer of a question that is moot: ``==`` and ``in`` are false of it, ``!=`` is true."""
LATER: Final = "later"


@dataclass(frozen=True, slots=True)
class Basis:
    """What a row rests on."""

    sources: tuple[str, ...]
    status: Status
    strength: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """One of the questions, with the answers it may have beside ``not_known``."""

    id: str
    ask: str
    short: str
    values: tuple[str, ...]
    says: Mapping[str, str]
    asked_from: str
    """First stage at which it means something."""
    before: str
    """What stands until then."""
    about: str


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage of the operation, with what can be in the eye then."""

    id: str
    name: str
    hands: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Moot:
    """Questions that need not be asked while all conditions hold."""

    id: str
    when_all: tuple[str, ...]
    inputs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Answers that cannot stand together."""

    id: str
    when_all: tuple[str, ...]
    """With what is added to every contradiction."""
    says: str
    inputs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One set of conditions under which a place may be offered."""

    id: str
    placement: str
    name: str
    when_all: tuple[str, ...]
    """With what every lens needs."""
    basis: Basis


@dataclass(frozen=True, slots=True)
class StepToDo:
    """Something that may have to be done before a place is ready."""

    id: str
    name: str
    do: str
    done_when: tuple[str, ...]
    gives: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class First:
    """A step that a place wants first, and when."""

    placement: str
    step: str
    when_all: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ask:
    """A question to be answered yes before a lens is opened for a place."""

    placement: str
    ask: str
    when_all: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """One situation, and its places in order."""

    id: str
    name: str
    short: str
    when_all: tuple[str, ...]
    order: tuple[str, ...]
    note: str
    basis: Basis


@dataclass(frozen=True, slots=True, eq=False)
class Tables:
    """Everything the state engine reads; one of these is one set of rules."""

    questions: Mapping[str, Question]
    """In the order of asking."""
    stages: Mapping[str, Stage]
    hands: Mapping[str, str]
    """What can be in the eye, in words."""
    condition_says: Mapping[str, str]
    moot: tuple[Moot, ...]
    contradictions: tuple[Contradiction, ...]
    placements: tuple[str, ...]
    """Every place these tables may offer, ``later`` among them."""
    ways: tuple[Way, ...]
    steps: Mapping[str, StepToDo]
    firsts: tuple[First, ...]
    asks: tuple[Ask, ...]
    with_: Mapping[str, tuple[str, ...]]
    rows: tuple[Row, ...]
    unknown_order: tuple[str, ...]
    choice_group: tuple[str, ...]

    @property
    def shape(self) -> tuple[int, ...]:
        """How many answers each question has beside ``not_known``."""
        return tuple(len(one.values) for one in self.questions.values())
