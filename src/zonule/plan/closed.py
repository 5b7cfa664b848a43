"""Why a place is closed to a lens in this eye, or waits for something."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.findings.answers import Answer, is_known, number
from zonule.findings.conditions import Lookup, parse
from zonule.findings.labels import named
from zonule.findings.records import Eye
from zonule.library.placements import Place, exclusions
from zonule.library.reading import table
from zonule.practice.records import Practice


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the findings say of a place: closed, waiting, or open with something to say."""

    refused_because: str = ""
    waits_for: str = ""
    finding: str = ""
    """The finding a waiting place waits for."""
    says: tuple[str, ...] = ()

    @property
    def closes(self) -> bool:
        """Whether the place is closed, or waits."""
        return bool(self.refused_because or self.waits_for)


def _figure(answer: Answer) -> str:
    value = number(answer)
    return f"{answer}" if value is None else f"{value:,.10g}"


def in_repertoire(place: Place, practice: Practice) -> bool:
    """Tell whether the surgeon does this place, named whole or with its variant.

    Leaving an eye without a lens is in everybody's repertoire. A place named without a variant
    means all of them; a variant of the bag follows the bag.
    """
    done = set(practice.repertoire)
    if not place.holds_lens or place.key in done:
        return True
    if place.placement == "bag":
        return any(one.partition(":")[0] == "bag" for one in done)
    return place.placement in done


def _aphakic(place: Place, eye: Eye) -> Verdict:
    rules = table("placements")["aphakic"]
    if place.key in rules["never"]:
        return Verdict(refused_because=rules["never_says"])
    return _rim(place, eye) if place.key in rules["needs_rim"] else Verdict()


def _rim(place: Place, eye: Eye) -> Verdict:
    """Return what the remaining capsule says of a lens in the sulcus."""
    capsule = eye.answer("capsule_present")
    if not is_known(capsule):
        return Verdict(waits_for="which capsule is present", finding="capsule_present")
    if capsule == "none":
        return Verdict(refused_because="no capsule is present")
    if eye.answer("capsule_seen_by") == "patient":
        return Verdict(waits_for="someone who has seen the capsule", finding="capsule_seen_by")
    if capsule == "rim":
        return Verdict(refused_because="less than 270 degrees of rim")
    if place.key == "sulcus_capture" and capsule != "posterior_torn":
        return Verdict(refused_because="no opening with a whole edge to capture the optic in")
    return Verdict()


def _excluded(place: Place, lookup: Lookup) -> Verdict:
    waiting, says = Verdict(), []
    for rule in exclusions():
        if place.key not in rule.places:
            continue
        condition = parse(rule.when)
        holds = condition.holds(lookup)
        name = named(condition.finding)
        if holds:
            return Verdict(
                refused_because=rule.says.format(value=_figure(lookup(condition.finding)))
            )
        if holds is None and rule.if_unknown == "hold" and not waiting.waits_for:
            waiting = Verdict(waits_for=name, finding=condition.finding)
        if holds is None and rule.if_unknown == "say":
            says.append(f"{name} not known")
    return waiting if waiting.waits_for else Verdict(says=tuple(says))


def verdict(place: Place, eye: Eye, practice: Practice, lookup: Lookup) -> Verdict:
    """Return what this eye, this surgeon and this patient say of a place.

    The surgeon's repertoire first, then the patient's word, then the eye.
    """
    if not in_repertoire(place, practice):
        return Verdict(refused_because="not in your repertoire")
    if place.key in eye.refused_placements or place.placement in eye.refused_placements:
        return Verdict(refused_because="the patient does not want it")
    if not place.holds_lens:
        return Verdict()
    if eye.lens_status == "aphakic":
        found = _aphakic(place, eye)
        if found.closes:
            return found
    return _excluded(place, lookup)
