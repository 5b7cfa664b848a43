"""Why a first eye may not be read, or not be learnt from yet: each reason in one sentence.

Every function returns the reason, or nothing where there is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from zonule.assessment.measured import missing_for_power
from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.labels import named
from zonule.findings.records import Eye, Operation
from zonule.library.placements import Place, class_refusals, places
from zonule.library.reading import table
from zonule.plan.lens_choice import a_lens
from zonule.practice.records import Lens, Practice

_SUTURED = ("scleral", "iris_suture", "bag_anchored")
LENS_OFF_ITS_AIM_D: Final = 1.5
"""A lens predicted this far from its aim, in its place and in the bag, is likely another lens."""
_WIDE_WOUND = ("iris_claw", "anterior_chamber")


def place_of(operation: Operation) -> Place | None:
    """Return the place a lens was put in; None while it, or its variant, is not known."""
    if not isinstance(operation.placement, str):
        return None
    variant = operation.variant if isinstance(operation.variant, str) else ""
    key = f"{operation.placement}:{variant}" if variant else operation.placement
    return places().get(key)


def weeks_to_settle(place_key: str) -> int:
    """Return the weeks after which a refraction counts as settled in a place.

    Examples
    --------
    >>> weeks_to_settle("bag"), weeks_to_settle("scleral:sutured_1_0_mm")
    (4, 6)
    """
    limits = table("fellow_eye")["limits"]
    slow = place_key.partition(":")[0] in (*_SUTURED, *_WIDE_WOUND)
    return int(limits["settled_weeks_after_sutures" if slow else "settled_weeks"])


def not_settled(operation: Operation, place_key: str) -> str:
    """Return that a refraction was taken too early for its place; empty once it has settled."""
    if not isinstance(operation.done_on, date) or not isinstance(operation.settled_on, date):
        return "waits for the days of operation and refraction: whether it has settled is not known"
    weeks = weeks_to_settle(place_key)
    if operation.settled_on - operation.done_on < timedelta(weeks=weeks):
        days = (operation.settled_on - operation.done_on).days
        return f"refraction taken {days} days after surgery, settled after {weeks} weeks"
    return ""


def waits_for(eye: Eye, operation: Operation, practice: Practice) -> str:
    """Return the first thing that keeps the first eye from being read, or nothing."""
    asked = (
        ("placement", "where its lens lies"),
        ("placement_known_by", "how the place of its lens is known"),
        ("lens_name", "which lens it carries"),
        ("lens_power_d", "the power of its lens"),
        ("settled_refraction_d", "its settled refraction"),
    )
    for name, words in asked:
        if not is_known(getattr(operation, name)):
            return f"waits for {words} ({name})"
    return _place_in_doubt(operation) or _not_computable(eye, operation, practice)


def _place_in_doubt(operation: Operation) -> str:
    if operation.placement_known_by == "assumed":
        return "the place of its lens is only assumed: look, or read the operation note"
    if (at := place_of(operation)) is None:
        return "waits for the variant of the place its lens lies in (variant)"
    return "" if at.holds_lens else "it carries no lens"


def _not_computable(eye: Eye, operation: Operation, practice: Practice) -> str:
    if all(lens.name != operation.lens_name for lens in practice.lenses):
        return f"{operation.lens_name!r} is not in the lens store: its constants are not known"
    lens, at = (
        next(x for x in practice.lenses if x.name == operation.lens_name),
        place_of(operation),
    )
    if at is not None and lens.lens_class not in at.lens_classes and not against_advice(at, lens):
        return f"{a_lens(lens.lens_class)} does not go there: name of lens or place wrong"
    if missing := missing_for_power(eye):
        return f"waits for its {', '.join(named(name) for name in missing)}"
    return ""


def against_advice(at: Place, lens: Lens) -> str:
    """Return why a lens must not lie where it lies; empty when it may."""
    rules = (
        r.says for r in class_refusals() if r.lens_class == lens.lens_class and at.key in r.places
    )
    return next(rules, "")


def lens_in_doubt(operation: Operation, predicted_d: float, in_the_bag_d: float | None) -> str:
    """Return that the lens fits its aim in no place; empty when it may, or the aim is not known."""
    aim = operation.aim_d
    meant = [predicted_d] if in_the_bag_d is None else [predicted_d, in_the_bag_d]
    if not is_known(aim) or min(abs(value - aim) for value in meant) <= LENS_OFF_ITS_AIM_D:
        return ""
    return "its lens does not fit its aim: read the label of that lens again"


def figures_in_doubt(eye: Eye, problems: Sequence[Problem]) -> str:
    """Return that a check holds up every power of the first eye; empty when none does."""
    if any(one.stops == "power" and one.eye in (None, eye.side) for one in problems):
        return "its own figures are in doubt"
    return ""


def unwell(eye: Eye) -> str:
    """Return that retina or cornea still falsify the refraction; empty where not recorded."""
    operation = eye.operation
    oedema = operation is not None and operation.answer("cystoid_oedema") is True
    if oedema or eye.answer("oct_macula") in ("cmo", "dmo"):
        return "macular oedema: its refraction says nothing yet"
    if operation is not None and operation.answer("cornea_failed") is True:
        return "its cornea is not clear: its refraction says nothing yet"
    return ""


def after_today(operation: Operation, today: date | None) -> str:
    """Return that a refraction is dated in the future."""
    if today is None or not isinstance(operation.settled_on, date):
        return ""
    return "its refraction is dated after today" if operation.settled_on > today else ""


def too_large(operation: Operation, error_d: float) -> str:
    """Return why an error this large, or of a cause of its own, is not carried over."""
    limit = float(table("fellow_eye")["limits"]["explain_first_above_d"])
    if operation.surprise_explained == "by_this_eye":
        return "its surprise has a cause of that eye alone"
    if abs(error_d) <= limit:
        return ""
    if operation.surprise_explained == "by_both_eyes":
        return "its cause is shared: correct this eye's figures for it, do not carry it over"
    return (
        f"more than {limit:.1f} D is usually one eye's own: find its cause before it moves "
        "the other eye"
    )
