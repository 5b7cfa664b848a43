"""What a person asks of a plan beside the files: the one in hand, another aim, lens or power."""

from __future__ import annotations

from dataclasses import dataclass, replace

from zonule.errors import NoSuchName
from zonule.findings.records import Case
from zonule.practice.records import Practice


@dataclass(frozen=True, slots=True)
class Wish:
    """Asked for this once; nothing of it is kept. Empty or None: as the files say."""

    hand: str = ""
    """Key of the place in hand."""
    aim_d: float | None = None
    aim_rule: str = ""
    lens: str = ""
    """Name of the lens for the bag."""
    power_d: float | None = None
    """Power of the place in hand."""

    @property
    def changes_the_plan(self) -> bool:
        """Whether the plan differs from that of the files."""
        return bool(
            self.aim_d is not None or self.aim_rule or self.lens or self.power_d is not None
        )


def wished_case(case: Case, wish: Wish) -> Case:
    """Return the case with the aim that is asked for.

    Examples
    --------
    >>> from zonule.findings.records import Aim, Eye, Patient
    >>> case = Case("left", Patient("demo"), Aim(0.0), Eye(side="right"), Eye(side="left"))
    >>> wished_case(case, Wish(aim_d=-0.5)).aim.spherical_equivalent_d
    -0.5
    """
    aim = case.aim
    if wish.aim_d is not None:
        aim = replace(aim, spherical_equivalent_d=wish.aim_d)
    if wish.aim_rule:
        aim = replace(aim, rule=wish.aim_rule)
    return replace(case, aim=aim)


def wished_practice(practice: Practice, wish: Wish) -> Practice:
    """Return the practice with the lens for the bag that is asked for.

    Raises
    ------
    NoSuchName
        If the store has no lens of that name.
    """
    if not wish.lens:
        return practice
    names = [lens.name for lens in practice.lenses]
    if wish.lens not in names:
        raise NoSuchName("lens", wish.lens, names)
    return replace(practice, preferred_lens=wish.lens)
