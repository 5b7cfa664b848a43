"""Which published formulas may speak for this eye, lens and place, and why not the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from zonule.assessment.measured import LengthMethod, Measured
from zonule.findings.conditions import Lookup, parse
from zonule.findings.labels import named
from zonule.formulas.power import FORMULAS, srkt
from zonule.library.placements import Place
from zonule.library.reading import table
from zonule.practice.records import Constants, Lens

ORIGINS: Final = {
    "maker": "the maker's constant",
    "published": "published constant",
    "own": "your own constant",
    "starting_value": "starting value, not a constant",
}
"""How the origin of a constant is said to a person."""


@dataclass(frozen=True, slots=True)
class FormulaUse:
    """One formula, for one lens in one place of one eye.

    ``applies`` is True, False, or None while something that decides it is not known. Only a
    formula that applies has a say in a power.
    """

    name: str
    label: str
    applies: bool | None
    says: str
    constants: Constants | None = None
    length_shift_mm: float = 0.0

    @property
    def values(self) -> Mapping[str, float]:
        """The constants as numbers."""
        return self.constants.values if self.constants else MappingProxyType({})


def _silent(name: str, says: str, *, applies: bool | None = False) -> FormulaUse:
    return FormulaUse(name=name, label=FORMULAS[name].label, applies=applies, says=says)


def length_shift_mm(*, made_with: str, read_with: LengthMethod) -> float | None:
    """Return what brings a length to the method a constant was made with [mm]; None = refused.

    Examples
    --------
    >>> length_shift_mm(made_with="optical", read_with="ultrasound_contact")
    0.2
    >>> length_shift_mm(made_with="ultrasound_contact", read_with="optical") is None
    True
    """
    row: Mapping[str, float] = table("power_formulas")["length_conversion"].get(made_with, {})
    return row.get(read_with)


def _meeting(name: str, constants: Constants, measured: Measured) -> FormulaUse:
    """Let a constant meet a length: as it is, converted once and visibly, or refused."""
    shift = length_shift_mm(made_with=constants.length_method, read_with=measured.length_method)
    read_with = measured.length_method.replace("_", " ")
    made_with = constants.length_method.replace("_", " ")
    if shift is None:
        return _silent(
            name, f"its constant was made with {made_with} lengths, this one is {read_with}"
        )
    says = f"{ORIGINS[constants.origin]}, {made_with} lengths"
    if shift:
        says += f"; this {read_with} length is taken {shift:+.2f} mm longer, once"
    elif constants.length_method != measured.length_method:
        says += f"; this {read_with} length is used as it is"
    return FormulaUse(
        name=name,
        label=FORMULAS[name].label,
        applies=True,
        says=says,
        constants=constants,
        length_shift_mm=shift,
    )


def _haigis_silent(measured: Measured, lookup: Lookup) -> FormulaUse | None:
    if measured.anterior_chamber_depth_mm is None:
        return _silent("haigis", "chamber depth not measured, or not of a lens in its place")
    rows: list[dict[str, Any]] = table("power_formulas")["haigis"]["silent_when"]
    answers = [(parse(row["when"]), row["says"]) for row in rows]
    for condition, says in answers:
        if condition.holds(lookup):
            return _silent("haigis", says)
    waits = set(table("power_formulas")["haigis"]["waits_for"])
    for condition, _ in answers:
        if condition.finding in waits and condition.holds(lookup) is None:
            name = named(condition.finding)
            return _silent("haigis", f"held back until {name} is recorded", applies=None)
    return None


def _srkt_cusp(use: FormulaUse, measured: Measured) -> bool:
    return bool(
        srkt.cusp_flag(
            axial_length_mm=measured.axial_length_mm + use.length_shift_mm,
            corneal_power_d=measured.corneal_power_d,
            a_constant=use.values["a_constant"],
        )
    )


def _judged(name: str, lens: Lens, measured: Measured, lookup: Lookup) -> FormulaUse:
    if name not in lens.constants:
        return _silent(name, "this lens has no constant of its own for it")
    if name == "haigis" and (silent := _haigis_silent(measured, lookup)) is not None:
        return silent
    use = _meeting(name, lens.constants[name], measured)
    if name == "srkt" and use.applies and _srkt_cusp(use, measured):
        return _silent(name, table("power_formulas")["srkt"]["says"])
    return use


def _own_a_constant(place: Place, lens: Lens, measured: Measured) -> tuple[FormulaUse, ...]:
    holds_here = place.variant in (None, lens.constants_for)
    own = lens.constants.get("srkt") if holds_here else None
    assert place.a_constant is not None
    # Published constants of these places know optical and (immersion) ultrasound lengths only.
    method = "optical" if measured.length_method == "optical" else "ultrasound_immersion"
    constants = own or Constants(
        formula="srkt",
        values=MappingProxyType({"a_constant": place.a_constant[method]}),
        length_method=method,
        origin="published",
        source=place.source,
    )
    use = _meeting("srkt", constants, measured)
    if use.applies and _srkt_cusp(use, measured):
        return (_silent("srkt", table("power_formulas")["srkt"]["says"]),)
    return (use,)


def formulas_for(
    place: Place, lens: Lens, measured: Measured, lookup: Lookup
) -> tuple[FormulaUse, ...]:
    """Return what each formula has to say about a lens in a place of this eye.

    With a capsule every formula that has its own constant for the lens and fits the eye speaks;
    without one Holladay 1 alone; iris-claw and angle-supported lenses go by SRK/T with the
    constant of their place. A formula named by the surgeon for this lens decides alone while it
    applies.
    """
    if place.formulas == "own_a_constant":
        return _own_a_constant(place, lens, measured)
    uses = tuple(_judged(name, lens, measured, lookup) for name in FORMULAS)
    if place.formulas == "no_capsule":
        alone, says = table("power_formulas")["no_capsule"]["formula"], "no capsule: Holladay 1"
    else:
        alone, says = lens.formula_choice, "shown beside the formula chosen for this lens"
    if any(use.name == alone and use.applies for use in uses):
        return tuple(
            use if use.name == alone or not use.applies else _silent(use.name, says) for use in uses
        )
    if place.formulas == "no_capsule":
        return tuple(
            _silent(use.name, says) if use.applies and use.name != alone else use for use in uses
        )
    return uses


def speaking(uses: tuple[FormulaUse, ...]) -> tuple[FormulaUse, ...]:
    """Return the formulas that have a say."""
    return tuple(use for use in uses if use.applies)
