"""Holds the endothelium and energy to every printed figure, and the library to what was printed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from published.printed import STATUSES, USES, Entry, agrees, counts, entries, with_use
from zonule.formulas import endothelium, energy
from zonule.library.reading import reference, table
from zonule.plan.cornea import usual_count

CELLS, ENERGY = table("endothelium"), table("energy")


def _group(key: str) -> dict[str, Any]:
    found: dict[str, Any] = next(row for row in CELLS["early_loss"]["group"] if row["key"] == key)
    return found


def _yearly_percent(**inputs: float) -> float:
    return 100.0 * float(endothelium.yearly_rate(**inputs))


def _energy(definition: str, **inputs: Any) -> float:
    row = next(one for one in ENERGY["definition"] if one["id"] == definition)
    factors = [term["factor"] for term in row["terms"]]
    return float(energy.energy(factor=factors, **inputs))


CALCULATIONS: dict[str, Callable[..., Any]] = {
    "usual_count": usual_count,
    "yearly_percent": _yearly_percent,
    "count_after": endothelium.count_after,
    "years_to": endothelium.years_to,
    "energy": _energy,
    "library_rate_percent": lambda which: 100.0 * CELLS["yearly_loss"][which]["share"],
    "library_loss_percent": lambda group, what: 100.0 * _group(group)[what],
    "library_eyes": lambda group: _group(group)["eyes"],
    "library_series_percent": lambda at: 100.0 * CELLS["series"][at]["share"],
    "library_large_loss_percent": lambda: 100.0 * CELLS["large_loss"]["share"],
    "library_energy_mean": lambda at: ENERGY["point"][at]["mean"],
    "library_effect": lambda at: ENERGY["effect"][at]["difference"],
}
SOURCES_OF = {
    "library_series_percent": CELLS["series"],
    "library_energy_mean": ENERGY["point"],
    "library_effect": ENERGY["effect"],
}


@pytest.mark.parametrize("entry", with_use("cornea", "test"), ids=lambda entry: entry.id)
def test_printed_figure_is_reproduced(entry: Entry) -> None:
    computed = float(CALCULATIONS[entry.quantity](**entry.inputs))
    assert agrees(computed, entry), (computed, entry.printed)
    if entry.quantity in SOURCES_OF:
        assert SOURCES_OF[entry.quantity][entry.inputs["at"]]["source"] == entry.source


def test_the_list_is_whole_and_says_what_is_not_used() -> None:
    every = entries("cornea")
    assert len({one.id for one in every}) == len(every)
    assert counts("cornea") == {"test": 51, "unused": 5}
    for one in every:
        assert one.use in USES
        assert one.status in STATUSES
        assert reference(one.source).key == one.source
        assert bool(one.reason) == (one.use == "unused"), one.id


def test_every_series_point_and_effect_of_the_library_is_held() -> None:
    for quantity, rows in SOURCES_OF.items():
        held = [one.inputs["at"] for one in entries("cornea") if one.quantity == quantity]
        assert held == list(range(len(rows))), quantity
