"""The machine at each stage: a range per setting, and one sentence."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from zonule.findings.labels import named
from zonule.library.reading import status, table
from zonule.plan.cup_test import mmhg_per_cmh2o
from zonule.plan.parts import RuleReading, StageSetting

GENTLE_BECAUSE_OF: Final = ("T-13", "F-04")
"""Rules that ask for the low-flow profile."""
WITHOUT_A_LENS: Final = ("sculpt", "chop", "fragments", "last_fragment", "cortex")
"""Stages that an eye without its own lens does not come to."""


def _range(pair: Sequence[float]) -> str:
    low, high = (f"{value:g}" for value in pair)
    return low if low == high else f"{low} to {high}"


def _name(stage: str) -> str:
    return stage.replace("_", " ").capitalize()


def _setting(row: dict[str, Any]) -> StageSetting:
    factor = mmhg_per_cmh2o()
    cm = (float(row["infusion_cm"][0]), float(row["infusion_cm"][1]))
    mmhg = (cm[0] * factor, cm[1] * factor)
    rounded = (float(round(mmhg[0])), float(round(mmhg[1])))
    sentence = (
        f"{_name(row['stage'])}: infusion {_range(cm)} cm ({_range(rounded)} mmHg), flow "
        f"{_range(row['flow_ml_min'])} mL/min, vacuum {_range(row['vacuum_mmhg'])} mmHg; "
        f"{row['power']}"
    )
    return StageSetting(
        profile=row["profile"],
        stage=row["stage"],
        name=_name(row["stage"]),
        infusion_cm=cm,
        infusion_mmhg=mmhg,
        flow_ml_min=(float(row["flow_ml_min"][0]), float(row["flow_ml_min"][1])),
        vacuum_mmhg=(float(row["vacuum_mmhg"][0]), float(row["vacuum_mmhg"][1])),
        power=row["power"],
        sentence=sentence,
        sources=tuple(row["sources"]),
        status=status(row["status"]),
    )


def profile_for(readings: Sequence[RuleReading]) -> tuple[str, str]:
    """Return the profile for this eye and why.

    Low flow when a rule asks for it; standard otherwise, saying so when a finding that would ask
    for low flow is not known.
    """
    mine = [one for one in readings if one.rule.id in GENTLE_BECAUSE_OF]
    for one in mine:
        if one.state == "fires":
            return "low_flow", ", ".join(one.because)
    waits = dict.fromkeys(name for one in mine if one.state == "waits" for name in one.waits_for)
    if waits:
        return (
            "standard",
            f"unless it turns out otherwise: {', '.join(named(name) for name in waits)} not known",
        )
    aside = [one for one in mine if one.state in ("overruled", "switched_off")]
    if aside:
        return "standard", f"rule {aside[0].rule.id} is set aside"
    return "standard", "nothing in the record asks for low flow"


def machine_of(
    readings: Sequence[RuleReading], *, own_lens: bool
) -> tuple[str, str, tuple[StageSetting, ...]]:
    """Return profile, reason and the setting of every stage of an operation that goes well."""
    profile, because = profile_for(readings)
    rows = [
        _setting(row)
        for row in table("machine_settings")["setting"]
        if row["profile"] in (profile, "any") and (own_lens or row["stage"] not in WITHOUT_A_LENS)
    ]
    return profile, because, tuple(rows)
