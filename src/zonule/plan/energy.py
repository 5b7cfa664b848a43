"""Ultrasound energy at this density, from the own log alone; printed figures are context only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from zonule.findings.answers import Unknown, number
from zonule.findings.conditions import Lookup
from zonule.findings.records import Case
from zonule.formulas import energy as formulas
from zonule.library.reading import status, table
from zonule.plan.cornea_parts import Band
from zonule.plan.energy_parts import Energy, LinePoint, Measure, OwnCase, OwnLog, Printed
from zonule.practice.energy import EnergyLog, EnergyMeasure, EnergyTerm

LEVELS: Final = (0.05, 0.25, 0.5, 0.75, 0.95)
POINTS: Final = 13
"""Places of the line at which a picture and its table show it."""
NOT_IN_THE_FILE: Final = "the practice file does not say how energy is measured"
NO_LOG: Final = "there is no own log of energy beside the practice file"
NOT_READ: Final = "the own log was not read: the practice came without its folder"
NO_OWN_LENS: Final = "there is no lens of its own to bring out of this eye"


def energy_of(case: Case, measure: EnergyMeasure | None, lookup: Lookup) -> Energy:
    """Return what this density is expected to need, and the limit to agree on beforehand.

    Parameters
    ----------
    case
        Both eyes.
    measure
        How energy is measured, with the own log; None where the practice file does not say.
    lookup
        Every finding of the eye to be done, by the name that rules use.
    """
    lens = case.operative_eye.lens_status
    if lens in ("aphakic", "pseudophakic"):
        return _nothing(NO_OWN_LENS)
    told = None if measure is None else _measure(measure)
    line, log = _own(measure.log) if measure is not None and measure.log else (None, None)
    colour = number(lookup("locs_nc"))
    waits = _waits(colour, lens)
    why = _why_none(measure, log, colour, waits)
    share = _limit_share()
    return Energy(
        measure=told,
        log=log,
        nuclear_colour=colour,
        expected=_band(line, colour) if line and colour is not None and not why else None,
        limit=_at(line, colour, share) if line and colour is not None and not why else None,
        limit_share=share,
        waits_for=waits,
        why_none=why,
        printed=() if told is None else _printed(told.definition),
    )


def _limit_share() -> float:
    return float(table("energy")["own_log"]["limit_share"])


def _nothing(why: str) -> Energy:
    """Return that energy does not concern this eye."""
    return Energy(None, None, None, None, None, _limit_share(), (), why, ())


def _waits(colour: float | None, lens: str | Unknown) -> tuple[str, ...]:
    missing = ("locs_nc",) if colour is None else ()
    return (*missing, "lens_status") if isinstance(lens, Unknown) else missing


def _measure(given: EnergyMeasure) -> Measure:
    listed = {row["id"]: row for row in table("energy")["definition"]}
    row: Mapping[str, Any] = listed.get(given.definition, {})
    return Measure(
        definition=given.definition,
        label=given.label or row["label"],
        unit=given.unit or row["unit"],
        terms=given.terms or tuple(EnergyTerm(**term) for term in row["terms"]),
        machine=given.machine,
        mode=given.mode,
        tip=given.tip,
        technique=given.technique,
        source=row.get("source", ""),
        status=status(row.get("status", "practice")),
        note=row.get("note", ""),
    )


def _own(log: EnergyLog) -> tuple[formulas.LogLine | None, OwnLog]:
    colours = [one.nuclear_colour for one in log.cases]
    more = _lacking(colours)
    line = None
    if not more and _span(colours) >= float(table("energy")["own_log"]["needs_span"]):
        line = formulas.fit_log_line(grade=colours, energy=[one.energy for one in log.cases])
    return line, OwnLog(
        file=log.file,
        cases=tuple(OwnCase(o.done_on, o.nuclear_colour, o.energy) for o in log.cases),
        set_aside=log.set_aside,
        lowest_colour=min(colours, default=None),
        highest_colour=max(colours, default=None),
        line=() if line is None else _line(line, min(colours), max(colours)),
        more_cases_needed=more,
        firm=len(colours) >= int(table("energy")["own_log"]["firm_from_cases"]),
    )


def _lacking(colours: list[float]) -> int:
    return max(int(table("energy")["own_log"]["needs_cases"]) - len(colours), 0)


def _span(colours: list[float]) -> float:
    return max(colours) - min(colours)


def _line(line: formulas.LogLine, lowest: float, highest: float) -> tuple[LinePoint, ...]:
    grades = np.round(np.linspace(lowest, highest, POINTS), 2)
    return tuple(LinePoint(float(grade), _band(line, float(grade))) for grade in grades)


def _band(line: formulas.LogLine, grade: float) -> Band:
    lowest, low, middle, high, highest = (
        float(one) for one in formulas.next_eye(line, grade=grade, probability=LEVELS)
    )
    return Band(middle, (low, high), (lowest, highest))


def _at(line: formulas.LogLine, grade: float, share: float) -> float:
    return float(formulas.next_eye(line, grade=grade, probability=share))


def _why_none(
    measure: EnergyMeasure | None,
    log: OwnLog | None,
    colour: float | None,
    waits: tuple[str, ...],
) -> str:
    """Return why there is no limit; empty where there is one."""
    if measure is None:
        return NOT_IN_THE_FILE
    if measure.log is None or log is None:
        return NO_LOG
    if missing := _not_enough(measure.log, log):
        return missing
    if waits or colour is None:
        return "the density of this lens is not known"
    return _beyond(log, colour)


def _not_enough(given: EnergyLog, log: OwnLog) -> str:
    """Return what the own log lacks for a line; empty where it has one."""
    if not given.was_read:
        return NOT_READ
    rows = table("energy")["own_log"]
    if log.more_cases_needed:
        return f"{len(log.cases)} own cases, and {rows['needs_cases']} are needed"
    if not log.line:
        return f"the own cases span less than {rows['needs_span']:g} grade of density"
    return ""


def _beyond(log: OwnLog, colour: float) -> str:
    """Return that this density lies beyond the own log; empty where it lies within."""
    assert log.lowest_colour is not None
    assert log.highest_colour is not None
    beyond = float(table("energy")["own_log"]["trusted_beyond"])
    if log.lowest_colour - beyond <= colour <= log.highest_colour + beyond:
        return ""
    end = log.highest_colour if colour > log.highest_colour else log.lowest_colour
    return f"the own log ends at colour {end:g}: no own eye of {colour:g} says what it needs"


def _printed(definition: str) -> tuple[Printed, ...]:
    rows = [row for row in table("energy")["point"] if row["definition"] == definition]
    return tuple(
        Printed(
            lens=row["lens"],
            technique=row["technique"],
            mean=float(row["mean"]),
            sd=row.get("sd"),
            span=(row["low"], row["high"]) if "low" in row else None,
            eyes=row.get("eyes"),
            source=row["source"],
            status=status(row["status"]),
        )
        for row in rows
    )
