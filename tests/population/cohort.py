"""Invented eyes drawn from population figures: length, cornea and chamber depth together."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Array = NDArray[np.float64]


class Cohort(NamedTuple):
    """One number per eye."""

    axial_length_mm: Array
    corneal_power_d: Array
    chamber_depth_mm: Array
    contact_ultrasound: NDArray[np.bool_]


@cache
def figures() -> dict[str, Any]:
    """Return the figures that eyes are drawn from."""
    text = (Path(__file__).parent / "figures.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def length_quantile_mm(rank: Array) -> Array:
    """Return the axial length that a share of eyes stays below."""
    row = figures()["length"]
    lengths = np.linspace(8.0, 46.0, 38_001)
    scores = (lengths[:, None] - np.array(row["means_mm"])) / np.array(row["sds_mm"])
    below = ndtr(scores) @ np.array(row["weights"])
    return np.asarray(np.interp(rank, below, lengths))


def _correlations() -> Array:
    row = figures()["correlation"]
    pairs = ((0, 1, "length_cornea"), (0, 2, "length_chamber"), (1, 2, "cornea_chamber"))
    matrix = np.eye(3)
    for first, second, name in pairs:
        matrix[first, second] = matrix[second, first] = row[name]
    return matrix


def draw(*, eyes: int, seed: int) -> Cohort:
    """Return that many invented eyes; the same seed gives the same eyes."""
    normal = np.random.default_rng(seed).standard_normal((eyes, 3))
    scores = normal @ np.linalg.cholesky(_correlations()).T
    cornea, chamber = figures()["cornea"], figures()["chamber"]
    depth = chamber["mean_mm"] + chamber["sd_mm"] * scores[:, 2]
    every = round(1.0 / figures()["contact_ultrasound"]["share"])
    return Cohort(
        axial_length_mm=length_quantile_mm(ndtr(scores[:, 0])),
        corneal_power_d=cornea["mean_d"] + cornea["sd_d"] * scores[:, 1],
        chamber_depth_mm=np.clip(depth, chamber["least_mm"], chamber["most_mm"]),
        contact_ultrasound=np.arange(eyes) % every == 0,
    )
