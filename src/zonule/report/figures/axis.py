"""Where a refraction stands on a drawn axis."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from zonule.report.words import signed

STEPS_D: Final = (0.5, 1.0, 2.0, 5.0, 10.0)
"""How far apart the written refractions may stand."""
ROOM: Final = 46.0
"""Units of the drawing from one written refraction to the next, at least."""


@dataclass(frozen=True, slots=True)
class RefractionAxis:
    """Dioptres to horizontal places."""

    low_d: float
    high_d: float
    start: float
    width: float

    def at(self, refraction_d: float) -> float:
        """Return the place of a refraction, held at the ends of the axis.

        Examples
        --------
        >>> RefractionAxis(-2.0, 2.0, 10.0, 100.0).at(0.0)
        60.0
        """
        inside = min(max(refraction_d, self.low_d), self.high_d)
        return self.start + self.width * (inside - self.low_d) / (self.high_d - self.low_d)

    def written(self) -> tuple[float, ...]:
        """Return the round refractions that are written beside the axis, with room between them.

        Examples
        --------
        >>> RefractionAxis(-1.0, 1.0, 0.0, 200.0).written()
        (-1.0, -0.5, 0.0, 0.5, 1.0)
        >>> RefractionAxis(-1.0, 1.0, 0.0, 100.0).written()
        (-1.0, 0.0, 1.0)
        """
        per_dioptre = self.width / (self.high_d - self.low_d)
        step = next((one for one in STEPS_D if one * per_dioptre >= ROOM), STEPS_D[-1])
        first, last = math.ceil(self.low_d / step), math.floor(self.high_d / step)
        return tuple(number * step for number in range(first, last + 1))


def label(refraction_d: float) -> str:
    """Return a refraction as it is written beside an axis.

    Examples
    --------
    >>> label(-0.5), label(0.0)
    ('−0.50', '0.00')
    """
    return signed(refraction_d) if refraction_d else "0.00"


def axis_over(
    bands: Iterable[tuple[float, float]], aim_d: float, *, start: float, width: float
) -> RefractionAxis:
    """Return the axis that holds every band and the aim's half dioptre, ending on half dioptres.

    Examples
    --------
    >>> axis_over([(-0.9, 0.6)], -0.25, start=0.0, width=10.0).low_d
    -1.0
    """
    ends = [end for band in bands for end in band] + [aim_d - 0.5, aim_d + 0.5]
    low, high = math.floor(min(ends) * 2.0) / 2.0, math.ceil(max(ends) * 2.0) / 2.0
    return RefractionAxis(low, high, start, width)
