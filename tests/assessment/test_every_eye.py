"""Every place of very many eyes: a number everywhere, or a reason, and never a NaN."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from assessment.eyes import SOUND, WITH_A_LENS, eye_of, lens_for, measured_of, uses_of
from zonule.assessment.eye_optics import eye_optics
from zonule.assessment.prediction import predict
from zonule.findings.records import Eye
from zonule.formulas.uncertainty import law
from zonule.library.placements import place

EYES = 2000
METHODS = ("optical_swept_source", "ultrasound_immersion", "ultrasound_contact")


@cache
def eyes() -> tuple[Eye, ...]:
    """Return eyes from all over the range that a case file takes without a question."""
    rng = np.random.default_rng(2000)
    return tuple(
        eye_of(
            axial_length_mm=float(rng.uniform(19.0, 34.0)),
            corneal_power_d=float(rng.uniform(38.0, 50.0)),
            chamber_depth_mm=float(rng.uniform(1.7, 4.6)) if rng.random() < 0.9 else None,
            method=METHODS[int(rng.integers(3))],
            answers=SOUND if rng.random() < 0.5 else {"phacodonesis": "marked"},
        )
        for _ in range(EYES)
    )


@pytest.mark.parametrize("place_key", WITH_A_LENS)
def test_no_nan_anywhere(place_key: str) -> None:
    at, lens, without = place(place_key), lens_for(place_key), 0
    for eye in eyes():
        found = measured_of(eye)
        uses = uses_of(at, eye, lens)
        optics = eye_optics(at, uses, found)
        if optics is None:
            assert all(use.says and not use.applies for use in uses)
            without += 1
            continue
        result = predict(
            place=at,
            lens=lens,
            uses=uses,
            optics=optics,
            measured=found,
            lesson=None,
            powers_d=np.array([6.0, 21.0, 34.0]),
        )
        shown = [*result.law, result.by_formula_d, result.low_move_d, result.high_move_d]
        assert all(np.isfinite(part).all() for part in shown)
        assert (result.law.sds_d > 0.2).all()
        assert (np.diff(law.mean(result.law)) < 0.0).all()
    assert without < 0.6 * EYES
    assert (without == 0) is (at.formulas != "own_a_constant")
