"""Draws a band on an axis of refraction in characters.

Thick for half of such eyes, thin for nine in ten, dashed where the spread is assumed, a dot at
the middle, the aim as an upright mark. Where the terminal cannot show the line characters, plain
ones stand in.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from zonule.report.words import signed


@dataclass(frozen=True, slots=True)
class Marks:
    """The characters of one drawing."""

    thin: str
    dashed: str
    thick: str
    middle: str
    aim: str


LINES = Marks(thin="─", dashed="╌", thick="━", middle="●", aim="┆")
PLAIN = Marks(thin="-", dashed=".", thick="=", middle="o", aim="|")


ROOMY = 7
"""Columns from one figure of the scale to the next, at least."""


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis of refraction, whole dioptres at its ends, as wide as it has characters."""

    low_d: float
    high_d: float
    characters: int

    def at(self, value_d: float) -> int:
        """Return the column of a refraction, held within the axis."""
        share = (value_d - self.low_d) / (self.high_d - self.low_d)
        return min(max(round(share * (self.characters - 1)), 0), self.characters - 1)

    def _step(self) -> int:
        """Return the whole dioptres between two figures that leaves room between them."""
        per_dioptre = self.characters / (self.high_d - self.low_d)
        return next((step for step in (1, 2, 5, 10, 20) if step * per_dioptre >= ROOMY), 50)

    def scale(self) -> str:
        """Return the line of figures above the axis."""
        line = [" "] * (self.characters + 3)
        for whole in range(round(self.low_d), round(self.high_d) + 1):
            if whole % self._step():
                continue
            text = signed(whole, decimals=0) if whole else "0"
            start = max(self.at(whole) - len(text) // 2, 0)
            line[start : start + len(text)] = text
        return "".join(line).rstrip()

    def draw(
        self,
        *,
        half: tuple[float, float],
        nine_in_ten: tuple[float, float],
        middle_d: float,
        aim_d: float,
        assumed: bool,
        marks: Marks = LINES,
    ) -> str:
        """Return the band as one line.

        Examples
        --------
        >>> axis = Axis(low_d=-1.0, high_d=1.0, characters=21)
        >>> axis.draw(half=(-0.3, 0.3), nine_in_ten=(-0.8, 0.8), middle_d=0.0, aim_d=-1.0,
        ...           assumed=False, marks=PLAIN)
        '| -----===o===-----  '
        """
        line = [" "] * self.characters
        line[self.at(aim_d)] = marks.aim
        outer = marks.dashed if assumed else marks.thin
        for (low, high), mark in ((nine_in_ten, outer), (half, marks.thick)):
            for column in range(self.at(low), self.at(high) + 1):
                line[column] = mark
        line[self.at(aim_d)] = marks.aim
        line[self.at(middle_d)] = marks.middle
        return "".join(line)


def axis_for(bands: list[tuple[float, float]], aim_d: float, characters: int) -> Axis:
    """Return the axis that holds every band and the aim.

    Examples
    --------
    >>> axis_for([(-1.4, 0.7)], -0.25, 40)
    Axis(low_d=-2, high_d=1, characters=40)
    """
    ends = [end for band in bands for end in band] + [aim_d - 0.5, aim_d + 0.5]
    low, high = floor(min(ends)), ceil(max(ends))
    return Axis(low_d=low, high_d=high, characters=max(characters, 16))
