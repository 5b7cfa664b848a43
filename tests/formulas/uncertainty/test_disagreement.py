"""Formulas that differ, and the one that stands apart."""

import numpy as np
import pytest

from zonule.formulas.uncertainty import disagreement

ORDINARY = {"ordinary_up_to_d": 0.32}
NAN = np.nan


def test_spread_is_the_sample_standard_deviation_of_what_applies() -> None:
    given = np.array([[-0.3, -0.1, NAN, 0.2], [0.1, NAN, NAN, NAN], [NAN, NAN, NAN, NAN]])
    found = disagreement.compare(refraction_d=given, **ORDINARY)
    assert found.spread_d[0] == pytest.approx(np.std([-0.3, -0.1, 0.2], ddof=1))
    assert np.isnan(found.spread_d[1:]).all()
    assert found.centre_d[:2] == pytest.approx([-0.2 / 3.0, 0.1])
    assert np.isnan(found.centre_d[2])
    assert found.excess_variance_d2[1:].tolist() == [0.0, 0.0]


def test_ordinary_disagreement_adds_nothing() -> None:
    found = disagreement.compare(refraction_d=[-0.1, 0.0, 0.1], **ORDINARY)
    assert found.spread_d == pytest.approx(0.1)
    assert float(found.excess_variance_d2) == 0.0
    assert not found.unusual
    assert found.odd_one_out == -1


def test_unusual_disagreement_widens_and_names_one() -> None:
    given = [-0.30, NAN, 0.70, -0.20]
    found = disagreement.compare(refraction_d=given, **ORDINARY)
    spread = np.std([-0.30, 0.70, -0.20], ddof=1)
    assert found.excess_variance_d2 == pytest.approx(spread**2 - 0.32**2)
    assert found.unusual
    assert found.odd_one_out == 2


def test_the_odd_one_is_furthest_from_the_mean_of_the_others() -> None:
    given = np.random.default_rng(11).normal(size=(200, 5))
    found = disagreement.compare(refraction_d=given, ordinary_up_to_d=0.0)
    for row, index in zip(given, found.odd_one_out, strict=True):
        apart = [abs(row[i] - np.delete(row, i).mean()) for i in range(5)]
        assert index == int(np.argmax(apart))


def test_of_two_neither_is_the_odd_one() -> None:
    found = disagreement.compare(refraction_d=[-0.5, NAN, 0.5], **ORDINARY)
    assert found.unusual
    assert found.odd_one_out == -1


def test_an_unknown_typical_spread_stays_unknown() -> None:
    found = disagreement.excess_variance_d2(spread_d=0.3, ordinary_up_to_d=NAN)
    assert np.isnan(found)
