"""Which lens of the store would go to a place."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.library.placements import Place, class_refusals
from zonule.practice.records import Lens, Practice


@dataclass(frozen=True, slots=True)
class LensFor:
    """The lens for a place, or why there is none; and what was refused on the way."""

    lens: Lens | None
    refused_because: str = ""
    refused_lenses: tuple[tuple[str, str], ...] = ()
    """Lens name and the reason it must not go there."""


def class_words(lens_class: str) -> str:
    """Return a lens class as a person says it.

    Examples
    --------
    >>> class_words("one_piece_acrylic")
    'one-piece acrylic'
    >>> class_words("one_piece_pmma")
    'one-piece PMMA'
    """
    words = lens_class.replace("_", "-").replace("-acrylic", " acrylic")
    return words.replace("-pmma", " PMMA").replace("-scleral", " scleral")


def a_lens(lens_class: str) -> str:
    """Return a lens of a class with its article.

    Examples
    --------
    >>> a_lens("three_piece"), a_lens("iris_claw")
    ('a three-piece lens', 'an iris-claw lens')
    """
    words = class_words(lens_class)
    return f"{'an' if words[0] in 'aeiu' else 'a'} {words} lens"


def _size_fault(place: Place, lens: Lens) -> str:
    if lens.optic_mm < place.optic_mm_at_least:
        return f"optic {lens.optic_mm:.1f} mm, needs {place.optic_mm_at_least:.1f}"
    if lens.overall_mm < place.overall_mm_at_least:
        return f"overall {lens.overall_mm:.1f} mm, needs {place.overall_mm_at_least:.1f}"
    return ""


def why_not(place: Place, lens: Lens) -> str:
    """Return why a lens must not go to a place; empty when it may."""
    for rule in class_refusals():
        if lens.lens_class == rule.lens_class and place.key in rule.places:
            return rule.says
    if lens.lens_class not in place.lens_classes:
        return f"{a_lens(lens.lens_class)} does not go there"
    if (lens.toric or lens.multifocal) and place.key != "bag":
        return "toric and multifocal lenses only in a sound bag"
    return _size_fault(place, lens)


def lens_for(place: Place, practice: Practice, in_bag: Lens | None) -> LensFor:
    """Return the lens for a place: the one for the bag where it may go, else the first that may.

    A lens without a single power in stock is passed over.
    """
    first = in_bag.name if in_bag else practice.preferred_lens
    ordered = sorted(practice.lenses, key=lambda lens: lens.name != first)
    told = []
    for lens in ordered:
        reason = why_not(place, lens)
        if not reason and any(power.quantity for power in lens.stock):
            return LensFor(lens=lens, refused_lenses=_worth_saying(place, practice))
        told.append(reason)
    classes = " or ".join(class_words(name) for name in place.lens_classes)
    reason = next((r for r in told if r in {rule.says for rule in class_refusals()}), "")
    return LensFor(
        lens=None,
        refused_because=reason or f"no {classes} lens in the store",
        refused_lenses=_worth_saying(place, practice),
    )


def _worth_saying(place: Place, practice: Practice) -> tuple[tuple[str, str], ...]:
    """Return the lenses of the store that a rule keeps out of this place by name."""
    return tuple(
        (class_words(lens.lens_class), rule.says)
        for lens in practice.lenses
        for rule in class_refusals()
        if lens.lens_class == rule.lens_class and place.key in rule.places
    )
