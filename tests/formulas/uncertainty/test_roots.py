"""The bracketed root where Newton's step alone is lost."""

import numpy as np
import pytest

from zonule.formulas.uncertainty.roots import bracketed_root


def test_a_function_on_which_newton_swings_for_ever() -> None:
    root = bracketed_root(
        lambda x: np.sign(x - 0.1) * np.sqrt(np.abs(x - 0.1)),
        slope=lambda x: 0.5 / np.sqrt(np.abs(x - 0.1)),
        low=np.array(-1.0),
        high=np.array(2.0),
    )
    assert root == pytest.approx(0.1, abs=1e-9)


def test_a_flat_stretch_between_two_steps() -> None:
    root = bracketed_root(
        lambda x: np.tanh(80.0 * (x - 3.0)) + np.tanh(80.0 * (x + 3.0)) + 1.0,
        slope=lambda x: (
            80.0 / np.cosh(80.0 * (x - 3.0)) ** 2 + 80.0 / np.cosh(80.0 * (x + 3.0)) ** 2
        ),
        low=np.array([-4.0, np.nan]),
        high=np.array([4.0, 1.0]),
    )
    assert np.tanh(80.0 * (root[0] + 3.0)) == pytest.approx(0.0, abs=1e-9)
    assert np.isnan(root[1])
