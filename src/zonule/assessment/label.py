"""How far the true power of a lens may lie from its label."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from zonule.library.reading import table

Array = NDArray[np.float64]


def label_sd_d(power_d: ArrayLike) -> Array:
    """Return the spread of the true power about the label, by power [D].

    Examples
    --------
    >>> label_sd_d(np.array([10.0, 15.0, 20.5, 28.0, 31.0])).tolist()
    [0.12, 0.12, 0.15, 0.24, 0.35]
    """
    rows: list[dict[str, Any]] = table("prediction")["label"]
    edges = np.array([row["above_d"] for row in rows])
    sds = np.array([row["sd_d"] for row in rows])
    at = np.searchsorted(edges, np.abs(np.asarray(power_d, dtype=np.float64)), side="left")
    return np.asarray(sds[np.maximum(at - 1, 0)], dtype=np.float64)
