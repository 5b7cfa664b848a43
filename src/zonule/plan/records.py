"""A plan for one eye, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from zonule.assessment.caveat import Caveat
from zonule.assessment.prediction import Prediction
from zonule.assessment.risk.chance import Chance
from zonule.errors import Problem
from zonule.findings.records import Case
from zonule.formulas.uncertainty import law as laws
from zonule.library.placements import Place
from zonule.plan.parts import Parts
from zonule.plan.risks import Risks
from zonule.plan.wish import Wish
from zonule.practice.first_eye import FirstEye
from zonule.practice.records import Lens, Practice, StockedPower

Array = NDArray[np.float64]
NO_WISH: Final = Wish()
RARE_BELOW: Final = 0.01
"""Backups less likely than this are said in one line each."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What one power would leave, as a person is shown it."""

    power_d: float
    refraction_d: float
    bands: dict[str, tuple[float, float]]
    within_0_50: float
    within_1_00: float
    above_0: float
    above_0_50: float
    kept: str


@dataclass(frozen=True, slots=True)
class Rung:
    """One place of this plan: intended, a backup, or refused."""

    place: Place
    order: int
    """0 intended, 1 and on the backups; -1 refused or open."""
    lens: Lens | None = None
    prediction: Prediction | None = None
    chosen: Expected | None = None
    in_stock: StockedPower | None = None
    low_move_d: float | None = None
    """Refraction with the chosen power at the forward bound of this place."""
    high_move_d: float | None = None
    exact_power_d: float | None = None
    """Power that would meet the aim exactly, in no step."""
    likelihood: float | None = None
    """Chance that the lens ends here in this eye, operated as planned; those of a plan sum to 1."""
    likely_between: Chance | None = None
    """Its range: what is not known of the eye, and how little is known of surgeon and counts."""
    refused_because: str = ""
    waits_for: str = ""
    caveats: tuple[Caveat, ...] = ()

    @property
    def why_closed(self) -> str:
        """Why it has no power here: what it waits for, else the reason; empty where it has one."""
        return f"waits for {self.waits_for}" if self.waits_for else self.refused_because

    @property
    def rare(self) -> bool:
        """Whether it is a backup so unlikely that it is said in one line."""
        return self.order > 0 and self.likelihood is not None and self.likelihood < RARE_BELOW

    @property
    def offered(self) -> bool:
        """Whether this place stands among the intended and the backups."""
        return self.order >= 0


@dataclass(frozen=True, slots=True)
class Outstanding:
    """Something not known that this plan waits for, and what it would change."""

    finding: str
    label: str
    changes: str
    why_unknown: str
    rank: int
    rules: tuple[str, ...] = ()
    """Rules that wait for it."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan for the eye to be done."""

    case: Case
    practice: Practice
    made_on: date
    rungs: tuple[Rung, ...]
    in_hand: Rung | None
    """The intended place, or the one asked for; None while it has no power."""
    ladder: tuple[Expected, ...]
    """Expected after surgery for the powers around the chosen one, in the place in hand."""
    first_eye: FirstEye | None
    outstanding: tuple[Outstanding, ...]
    problems: tuple[Problem, ...]
    parts: Parts
    """Rules, tray, steps, machine, anaesthesia and the rest."""
    risks: Risks | None = None
    """None for an eye that does not start with its own lens."""
    wish: Wish = NO_WISH
    """What was asked for beside the files."""
    power_withheld: str = ""

    @property
    def shows_a_power(self) -> bool:
        """Whether any place has a power; a backup may, where the intended place has none."""
        return any(rung.chosen is not None for rung in self.rungs)

    @property
    def intended(self) -> Rung | None:
        """The first place that eye, surgeon and patient leave open, with a power or without."""
        return next((rung for rung in self.rungs if rung.offered), None)

    def closed_by_reason(self) -> dict[str, tuple[Place, ...]]:
        """Return the places that are closed or wait, those of one reason together."""
        found: dict[str, tuple[Place, ...]] = {}
        for rung in self.rungs:
            if not rung.offered:
                found[rung.why_closed] = (*found.get(rung.why_closed, ()), rung.place)
        return found

    def rung(self, key: str) -> Rung | None:
        """Return the rung of a place, if it has one."""
        return next((rung for rung in self.rungs if rung.place.key == key), None)


BANDS: Final = {"p50": 0.5, "p80": 0.8, "p90": 0.9}
"""Names of the bands, and the share of eyes in each; equal-tailed."""


def _chance(share: Array) -> float:
    """Return a share as a chance: sums over nodes may end a last digit beyond 0 or 1."""
    return min(max(float(share), 0.0), 1.0)


def expected(prediction: Prediction, index: int, aim_d: float, kept: str) -> Expected:
    """Return what one power of a prediction would leave, read off its law."""
    one = laws.Law(*(part[index] for part in prediction.law))
    levels = np.array(list(BANDS.values()))
    wanted = np.concatenate([[0.5], (1.0 - levels) / 2.0, (1.0 + levels) / 2.0])
    found = laws.quantile(laws.Law(*(part[None, :] for part in one)), probability=wanted).tolist()
    median, lows, highs = found[0], found[1 : 1 + len(BANDS)], found[1 + len(BANDS) :]
    return Expected(
        power_d=float(prediction.powers_d[index]),
        refraction_d=median,
        bands=dict(zip(BANDS, zip(lows, highs, strict=True), strict=True)),
        within_0_50=_chance(laws.within(one, centre_d=aim_d, half_width_d=0.5)),
        within_1_00=_chance(laws.within(one, centre_d=aim_d, half_width_d=1.0)),
        above_0=_chance(laws.above(one, threshold_d=0.0)),
        above_0_50=_chance(laws.above(one, threshold_d=0.5)),
        kept=kept,
    )
