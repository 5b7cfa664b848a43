"""Where a refraction stands on a drawn axis."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from zonule.report.words import signed


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

    def ticks(self) -> tuple[float, ...]:
        """Return the round refractions of the axis: every half dioptre, or every whole one.

        Examples
        --------
        >>> RefractionAxis(-1.0, 1.0, 0.0, 100.0).ticks()
        (-1.0, -0.5, 0.0, 0.5, 1.0)
        """
        step = 0.5 if self.high_d - self.low_d <= 4.0 else 1.0
        first = math.ceil(self.low_d / step)
        last = math.floor(self.high_d / step)
        return tuple(number * step for number in range(first, last + 1))

    def label(self, tick_d: float) -> str:
        """Return a tick as it is written."""
        return signed(tick_d, decimals=2) if tick_d else "0.00"


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
