"""How the machine in figures is said to a person, in one place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from zonule.library.reading import table
from zonule.plan.machine_parts import Irrigation, Setup, Spread, StagePhysics, VacuumLimit
from zonule.plan.records import Plan
from zonule.report.words import MINUS, day

CAUTION: Final = (
    "Not validated. Brackets, not a prescription: the local protocol and the surgeon decide."
)
ZERO_NOT_RECORDED: Final = "zero of the machine not recorded"
LIMITS_OF_THE_MODEL: Final = (
    "One resistance in, one out, and at worst a line that keeps its whole vacuum: the true lowest "
    "pressure lies above the floor. Softness of the line, venting, the pump's answer and the "
    "softness of this eye are not in it, so it cannot compare machines."
)
HOW_TO: Final = (
    "Set up as for surgery: line, handpiece, sleeve and tip fitted, air out of the line.",
    "Hold the tip over a measuring cup. Measure the height of the fluid level above the tip.",
    "Infusion on, no aspiration: collect for half a minute or longer. Note height, mL and seconds.",
    "Do it again at a second height, 30 cm or more away: two heights show whether one resistance "
    "serves for both.",
    "Hold the tip under water at the height of the eye and aspirate at a set flow, nothing in the "
    "way. Note that flow and the vacuum shown; best at two flows.",
    "With the chair at its usual height, measure from the outer corner of the eye of a patient "
    "who lies there to the machine's zero: above the eye plus, below it minus.",
    "Write it under [machine] and [[machine.cup_test]] in the practice file. Again after any "
    "change of tip, sleeve or line.",
)
_VERDICT: Final = {
    "one_height": "One height only: a second one would show whether it holds at other flows.",
    "agree": "The heights agree with one resistance.",
    "differ": "The heights do not agree with one resistance: part of it grows with flow, as in an "
    "opening. Both parts are used.",
    "contradict": "The heights contradict each other: neither a tube nor an opening behaves so. "
    "Measure again; meanwhile the higher resistance is used, which allows the least vacuum.",
    "published": "Published span, unverified; your own may lie outside it.",
}
_TOP: Final = {
    "within": "",
    "may_exceed": "may be above the limit",
    "exceeds": "is above the limit",
}


def whole(value: float) -> str:
    """Return a figure to whole units with a true minus.

    Examples
    --------
    >>> whole(44.6), whole(-0.2), whole(-3.2)
    ('45', '0', '−3')
    """
    return f"{round(value)}".replace("-", MINUS)


def span(pair: Sequence[float]) -> str:
    """Return a range in whole units; one figure where both ends are alike.

    Examples
    --------
    >>> span((50.0, 68.4)), span((0.0, 0.0))
    ('50 to 68', '0')
    """
    low, high = whole(pair[0]), whole(pair[1])
    return low if low == high else f"{low} to {high}"


def per_watt(pair: Sequence[float]) -> str:
    """Return how much warmer for each watt.

    Examples
    --------
    >>> per_watt((0.574, 0.797))
    '0.6 to 0.8'
    """
    low, high = (f"{one:.1f}" for one in pair)
    return low if low == high else f"{low} to {high}"


def vacuum_of(value: float) -> str:
    """Return a highest vacuum; from some height on no machine was seen to reach it.

    Examples
    --------
    >>> vacuum_of(262.4), vacuum_of(600.0), vacuum_of(0.0)
    ('262', '600 or more', 'none')
    """
    cap = float(table("fluidics")["highest_vacuum"]["shown_up_to_mmhg"])
    if value <= 0.0:
        return "none"
    return f"{whole(cap)} or more" if value >= cap else whole(value)


def limit(one: VacuumLimit) -> str:
    """Return the middle of a highest vacuum."""
    return vacuum_of(one.highest_mmhg.middle)


def limit_band(one: VacuumLimit) -> str:
    """Return the nine in ten of a highest vacuum."""
    low, high = (vacuum_of(end) for end in one.highest_mmhg.nine_in_ten)
    return low if low == high else f"{low} to {high}"


def band(spread: Spread) -> str:
    """Return a middle with its nine in ten."""
    return f"{whole(spread.middle)} ({span(spread.nine_in_ten)})"


def top_vacuum(one: StagePhysics, floor_mmhg: float) -> str:
    """Return whether the vacuum range goes above the limit, and what helps; empty where not."""
    if one.top_vacuum == "within":
        return ""
    return (
        f"{whole(one.vacuum_mmhg[1])} mmHg, the top of the range, {_TOP[one.top_vacuum]} at "
        f"{whole(one.infusion_cm[0])} cm. With it the floor of {whole(floor_mmhg)} mmHg is kept "
        f"from about {whole(one.top_vacuum_needs_cm)} cm above the eye on. Less vacuum first, a "
        "higher infusion last."
    )


def zero(setup: Setup) -> str:
    """Return where the machine's zero lies, and what that does to what is set."""
    offset = setup.offset_cm
    if offset is None:
        return (
            f"Heights are above the eye. {ZERO_NOT_RECORDED[0].upper()}{ZERO_NOT_RECORDED[1:]}: "
            "what to set is not said. Measure it, and add infusion_offset_cm to the practice file."
        )
    if offset == 0.0:
        return "The machine's zero lies level with the eye: what is set is what the eye gets."
    where, change = ("above", "less") if offset > 0.0 else ("below", "more")
    return (
        f"The machine's zero lies {abs(offset):g} cm {where} the eye: set {abs(offset):g} cm "
        f"{change} than the eye is to get."
    )


def _measured(setup: Setup) -> str:
    if setup.measured is None:
        return ""
    first, last = setup.measured
    return day(first) if first == last else f"{day(first)} to {day(last)}"


def _readings(count: int) -> str:
    return f"{count} reading" if count == 1 else f"{count} readings"


def irrigation_value(irrigation: Irrigation) -> str:
    """Return irrigation resistance with its spread."""
    if not irrigation.own:
        row = table("fluidics")["irrigation"]
        return f"{row['low_mmhg_per_ml_min']:g} to {row['high_mmhg_per_ml_min']:g} mmHg per mL/min"
    said = (
        f"{irrigation.linear_mmhg_per_ml_min:.2f} mmHg per mL/min "
        f"(standard deviation {irrigation.linear_sd:.2f})"
    )
    if not irrigation.square_mmhg_per_ml2_min2:
        return said
    square, spread = irrigation.square_mmhg_per_ml2_min2, irrigation.square_sd
    return f"{said}, and {square:.5f} for each (mL/min)² (standard deviation {spread:.5f})"


def irrigation(setup: Setup) -> str:
    """Return irrigation resistance, where it comes from, and whether the heights agree."""
    one = setup.irrigation
    origin = (
        f"from your cup test of {_measured(setup)}, {_readings(one.readings)}"
        if one.own
        else "from one computed set-up in print, not from yours"
    )
    return f"{irrigation_value(one)}, {origin}. {_VERDICT[one.verdict]}"


def aspiration_value(setup: Setup) -> str:
    """Return aspiration resistance with its spread."""
    one = setup.aspiration
    if not one.own:
        row = table("fluidics")["aspiration"]
        return f"{row['low_mmhg_per_ml_min']:g} to {row['high_mmhg_per_ml_min']:g} mmHg per mL/min"
    spread = one.mmhg_per_ml_min * one.log_sd
    return f"{one.mmhg_per_ml_min:.2f} mmHg per mL/min (standard deviation {spread:.2f})"


def aspiration(setup: Setup) -> str:
    """Return aspiration resistance and where it comes from."""
    one = setup.aspiration
    if not one.own:
        return (
            f"{aspiration_value(setup)}, from bench and theatre reports in print, not from yours."
        )
    apart = "" if one.agree else " They disagree more than they can be read: measure again."
    return (
        f"{aspiration_value(setup)}, from your cup test of {_measured(setup)}, "
        f"{_readings(one.readings)}.{apart}"
    )


def floor(setup: Setup) -> str:
    """Return the lowest pressure that is allowed, and whose figure it is."""
    whose = "as in the practice file" if setup.own_floor else "assumed: the practice file has none"
    return f"{whole(setup.allowed_floor_mmhg)} mmHg, {whose}"


def whose_resistances(setup: Setup) -> str:
    """Return in a few words whose resistances the figures rest on."""
    if not setup.irrigation.own:
        return "with published resistances, not your own"
    test = f"from your cup test of {_measured(setup)}"
    return test if setup.aspiration.own else f"{test}, aspiration from print"


def in_one_line(plan: Plan) -> str:
    """Return the machine of a plan in one line: pressure to expect, and the highest vacuum."""
    found = plan.parts.machine_physics
    if not found.stages:
        return ""
    middles = [one.chamber_mmhg.middle for one in found.stages]
    limits = [each for one in found.stages for each in one.limits]
    lowest = min(limits, key=lambda each: each.infusion_cm)
    highest = max(limits, key=lambda each: each.infusion_cm)
    return (
        f"Chamber {span((min(middles), max(middles)))} mmHg expected at the middle of the ranges; "
        f"for a floor of {whole(found.setup.allowed_floor_mmhg)} mmHg vacuum at most "
        f"{limit(lowest)} mmHg at {lowest.infusion_cm:g} cm, {limit(highest)} at "
        f"{highest.infusion_cm:g} cm ({whose_resistances(found.setup)}). "
        f"{_cup_test_warns(found.setup)}Not validated."
    )


def _cup_test_warns(setup: Setup) -> str:
    if setup.irrigation.verdict != "contradict":
        return ""
    return "The heights of your cup test contradict each other: measure again. "
