"""Scleral ports for the backup in which the sclera holds the lens: two, exactly opposite."""

from __future__ import annotations

from collections.abc import Sequence

from zonule.library.reading import table
from zonule.plan.clock_map.positions import QUARTERS, apart
from zonule.plan.clock_map.spots import AS_GOOD_AS, Spot, clash, warnings
from zonule.plan.clock_map.wanted import quarters

HALF: int = QUARTERS // 2
TEMPORAL: int = QUARTERS // 4


def scleral_ports(wound: float, there: Sequence[Spot]) -> tuple[Spot, Spot]:
    """Return the two ports: clear of what is there, else on the meridian that clashes least.

    Parameters
    ----------
    wound
        Quarters of an hour of the main wound.
    there
        What is there already, the main wound and a segment suture among it.

    Examples
    --------
    >>> [one.quarters for one in scleral_ports(12, [])]
    [0, 24]
    """
    usual = round(wound) + quarters(table("clock_map")["prefers"]["scleral_port"]["from_wound"])
    pairs = (_pair(usual + by) for by in range(-HALF // 2, HALF // 2))
    return min(pairs, key=lambda pair: (_against(pair, there), _moved(pair, usual), pair[0].key))


def _pair(at: int) -> tuple[Spot, Spot]:
    first, second = sorted((at % QUARTERS, (at + HALF) % QUARTERS))
    return (
        Spot("scleral_port_1", "scleral_port", first),
        Spot("scleral_port_2", "scleral_port", second),
    )


def _against(pair: tuple[Spot, Spot], there: Sequence[Spot]) -> tuple[int, int, int]:
    clashes = sum(clash(port, one) for port in pair for one in there)
    return clashes, _on_the_horizontal(pair), sum(warnings(port, there) for port in pair)


def _on_the_horizontal(pair: tuple[Spot, Spot]) -> int:
    away = table("clock_map")["prefers"]["scleral_port"]["away_from_horizontal"]
    return sum(apart(pair[0].quarters, at) < away - AS_GOOD_AS for at in (TEMPORAL, -TEMPORAL))


def _moved(pair: tuple[Spot, Spot], usual: int) -> float:
    return min(apart(port.quarters, usual) for port in pair)
