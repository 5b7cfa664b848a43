"""The surgeon's own: repertoire, lens store, constants, shares, as frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from zonule.practice.department import Habits, KeptDevice, RecipeCard, RuleDecision
from zonule.practice.energy import EnergyMeasure
from zonule.practice.machine import Machine
from zonule.practice.risk import OwnBaseline, RiskChoices


@dataclass(frozen=True, slots=True)
class Constants:
    """The constants of one formula for one lens, and where they hold."""

    formula: str
    values: Mapping[str, float]
    """Constant names of that formula (``a_constant``; ``surgeon_factor``; ``pacd_mm``;
    ``a0``, ``a1``, ``a2``) to numbers."""
    length_method: str
    """optical, ultrasound_immersion or ultrasound_contact: what the constant was made with."""
    origin: str
    """maker, published, own or starting_value."""
    eyes: int | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class StockedPower:
    """One power of one lens as it lies on the shelf."""

    power_d: float
    quantity: int
    kept: str
    """in_room, to_fetch or to_order."""
    device_identifier: str = ""


@dataclass(frozen=True, slots=True)
class Lens:
    """One lens model of the store."""

    name: str
    lens_class: str
    """one_piece_acrylic, three_piece, one_piece_pmma, iris_claw, angle_supported,
    one_piece_scleral."""
    optic_mm: float
    overall_mm: float
    constants: Mapping[str, Constants]
    """By formula name."""
    stock: tuple[StockedPower, ...] = field(repr=False)
    material: str = ""
    formula_choice: str = "mean"
    """``mean`` of the formulas that apply, or the name of the one that decides."""
    constants_for: str = ""
    """Side of the iris (``behind``, ``in_front``) an iris-claw lens's own constant is for."""
    toric: bool = False
    multifocal: bool = False


@dataclass(frozen=True, slots=True)
class Practice:
    """One surgeon's practice file."""

    surgeon: str
    grade: str
    time_zone: str
    repertoire: tuple[str, ...]
    """Placement ids, or ``placement:variant``, that this surgeon does."""
    lenses: tuple[Lens, ...]
    shares: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """Own shares: placement id (``:variant``) to the share of cases that end there, 0 to 1."""
    preferred_lens: str = ""
    """Name of the lens this surgeon puts in the bag."""
    machine: Machine = field(default_factory=Machine)
    habits: Habits = field(default_factory=Habits)
    energy: EnergyMeasure | None = None
    """How ultrasound energy is measured, with the own log; None: not in the practice file."""
    kept: Mapping[str, KeptDevice] = field(default_factory=lambda: MappingProxyType({}))
    """By item of ``library/tray.toml``: where devices and drugs are kept."""
    recipe_cards: Mapping[str, RecipeCard] = field(default_factory=lambda: MappingProxyType({}))
    """By item: the department's own strengths."""
    rule_decisions: tuple[RuleDecision, ...] = ()
    """What the department settled about rules; the last one of a rule holds, all are kept."""
    risk: RiskChoices = field(default_factory=RiskChoices)
    own_baseline: OwnBaseline | None = None
    """Learnt from earlier cases; None until that was done."""
