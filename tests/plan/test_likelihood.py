"""Likelihoods: the surgeon's own shares, spread over the places that this plan offers."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from plan.cases import NAMES, case, example, planned, practice, rung
from zonule.library.placements import places
from zonule.plan.likelihood import likelihoods

KEYS = [key for key, one in places().items() if not one.property_of]
SHARES = st.dictionaries(st.sampled_from(KEYS), st.floats(0.0, 1.0), max_size=len(KEYS))
OFFERED = st.lists(st.sampled_from(KEYS), min_size=1, unique=True)


@given(OFFERED, SHARES)
def test_likelihoods_exclude_each_other_and_sum_to_one(
    offered: list[str], shares: dict[str, float]
) -> None:
    found = likelihoods(offered, shares, offered[0])
    assume(found is not None)
    assert found is not None
    assert list(found) == offered
    assert sum(found.values()) == pytest.approx(1.0, abs=1e-9)
    assert all(-1e-12 <= value <= 1.0 + 1e-12 for value in found.values())


@given(OFFERED, SHARES)
def test_backups_keep_their_proportions(offered: list[str], shares: dict[str, float]) -> None:
    found = likelihoods(offered, shares, offered[0])
    assume(found is not None)
    assert found is not None
    backups = offered[1:]
    for one in backups:
        for other in backups:
            crossed = found[one] * shares.get(other, 0.0)
            assert crossed == pytest.approx(found[other] * shares.get(one, 0.0), abs=1e-9)


@given(OFFERED, SHARES)
def test_what_was_refused_is_spread_and_the_intended_place_keeps_the_rest(
    offered: list[str], shares: dict[str, float]
) -> None:
    found = likelihoods(offered, shares, offered[0])
    assume(found is not None)
    assert found is not None
    lost = min(sum(share for key, share in shares.items() if key != offered[0]), 1.0)
    assert found[offered[0]] == pytest.approx(1.0 - lost, abs=1e-9)


def test_none_entered_is_not_zero() -> None:
    assert likelihoods(["bag", "sulcus_three_piece"], {}, "bag") is None
    assert likelihoods(["bag", "later"], {"later": 0.0}, "bag") is None


def test_a_share_of_the_intended_place_alone_tells_nothing_of_the_backups() -> None:
    assert likelihoods(["bag", "later"], {"bag": 0.9}, "bag") is None


@pytest.mark.parametrize("name", NAMES)
def test_every_example_sums_to_one_or_says_none(name: str) -> None:
    plan = example(name)
    found = [one.likelihood for one in plan.rungs if one.likelihood is not None]
    offered = [one for one in plan.rungs if one.offered]
    assert len(found) in (0, len(offered))
    if found:
        assert sum(found) == pytest.approx(1.0, abs=1e-9)
    assert all(one.likelihood is None for one in plan.rungs if not one.offered)


def test_without_shares_no_likelihood_is_shown() -> None:
    store = replace(practice(), shares=MappingProxyType({}))
    plan = planned(case("hard-second-eye"), store)
    assert {one.likelihood for one in plan.rungs} == {None}


def test_a_refused_backup_gives_its_share_to_the_others() -> None:
    hard, plain = example("hard-second-eye"), practice()
    fewer = tuple(key for key in plain.repertoire if key != "sulcus_three_piece")
    less = planned(case("hard-second-eye"), replace(plain, repertoire=fewer))
    assert rung(less, "sulcus_three_piece").likelihood is None
    captured = rung(less, "sulcus_capture").likelihood, rung(hard, "sulcus_capture").likelihood
    assert captured[0] is not None
    assert captured[1] is not None
    assert captured[0] > captured[1]
    bag = rung(less, "bag").likelihood
    assert bag == pytest.approx(rung(hard, "bag").likelihood, abs=1e-12)
