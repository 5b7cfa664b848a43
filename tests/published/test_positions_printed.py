"""Holds the optics to the printed bag-against-sulcus powers, and the list to its shape."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from published.printed import (
    STATUSES,
    USES,
    WHERES,
    Entry,
    agrees,
    counts,
    entries,
    half_unit,
    with_use,
)
from zonule.formulas.optics import thin_lens
from zonule.formulas.power.constants import a_to_srkt_acd
from zonule.library.reading import reference

ROWS = [entry for entry in entries("positions") if entry.quantity == "sulcus_power_d"]


def sulcus_power(
    *,
    bag_power_d: Any,
    bag_position_mm: float,
    sulcus_position_mm: float,
    corneal_power_d: Any,
) -> Any:
    """Return the power in the sulcus that leaves an eye of bag power ``bag_power_d`` emmetropic."""
    arriving = 1000.0 / (1000.0 / corneal_power_d - bag_position_mm / thin_lens.INDEX)
    length_mm = bag_position_mm + 1000.0 * thin_lens.INDEX / (bag_power_d + arriving)
    return thin_lens.lens_power(
        corneal_power_d=corneal_power_d,
        length_mm=length_mm,
        lens_position_mm=sulcus_position_mm,
        target_refraction_d=0.0,
    )


CALCULATIONS: dict[str, Callable[..., Any]] = {
    "sulcus_power_d": sulcus_power,
    "srkt_chamber_depth_constant_mm": a_to_srkt_acd,
}


def computed(entry: Entry) -> float:
    return float(CALCULATIONS[entry.quantity](**entry.inputs))


@pytest.mark.parametrize("entry", with_use("positions", "test"), ids=lambda entry: entry.id)
def test_printed_figure_is_reproduced(entry: Entry) -> None:
    assert agrees(computed(entry), entry), (computed(entry), entry.printed)


@pytest.mark.parametrize("entry", with_use("positions", "differs"), ids=lambda entry: entry.id)
def test_documented_difference_is_real_and_no_larger_than_said(entry: Entry) -> None:
    assert not agrees(computed(entry), entry)
    assert float(str(entry.printed)) - computed(entry) == pytest.approx(0.007, abs=0.0005)


def misfits(corneal_powers_d: Any) -> Any:
    printed = np.array([float(str(entry.printed)) for entry in ROWS])
    bag = np.array([entry.inputs["bag_power_d"] for entry in ROWS])
    found = sulcus_power(
        bag_power_d=bag,
        bag_position_mm=5.20,
        sulcus_position_mm=4.70,
        corneal_power_d=np.asarray(corneal_powers_d)[:, None],
    )
    return found - printed


def test_the_corneal_power_supplied_for_the_table_is_the_one_that_fits_best() -> None:
    powers = np.arange(4100, 4601) / 100.0
    squares = (misfits(powers) ** 2).mean(axis=1)
    used = {entry.inputs["corneal_power_d"] for entry in ROWS}
    assert used == {powers[squares.argmin()]}
    assert np.sqrt(squares.min()) == pytest.approx(0.003, abs=0.0005)


def test_no_corneal_power_brings_every_row_of_the_table() -> None:
    within = np.abs(misfits(np.arange(41000, 46001) / 1000.0)) <= half_unit("0.01")
    assert within.sum(axis=1).max() == len(ROWS) - 1


def test_every_entry_is_settled() -> None:
    listed = entries("positions")
    assert len({entry.id for entry in listed}) == len(listed)
    for entry in listed:
        assert entry.use in USES, entry.id
        assert entry.status in STATUSES, entry.id
        assert entry.reason or entry.use in ("test", "prior"), entry.id
        assert (entry.where in WHERES) == (entry.use == "prior"), entry.id
        assert reference(entry.source).key == entry.source


def test_the_file_holds_what_it_says() -> None:
    assert counts("positions") == {
        "test": 9,
        "differs": 1,
        "prior": 76,
        "band": 17,
        "unused": 39,
    }
