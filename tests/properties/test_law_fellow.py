"""What must hold for everything that is carried from eye to eye."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonule.formulas import fellow_eye

errors = st.floats(-3.0, 3.0)
sds = st.floats(0.01, 0.5)
deviations = st.floats(-1.0, 1.0) | st.just(np.nan)
TAIL: dict[str, Any] = {"tail_weight": 0.02, "tail_sd_d": 1.36}


@st.composite
def eyes(draw: st.DrawFn, least_anatomy: float = 1.0) -> fellow_eye.Eye:
    return fellow_eye.Eye(
        length_d_per_mm=draw(st.floats(-3.2, -1.5)),
        cornea_d_per_d=draw(st.floats(-1.05, -0.95)),
        position_d_per_mm=draw(st.floats(0.2, 2.2)),
        power_d_per_d=draw(st.floats(-0.85, -0.6)),
        length_sd_mm=draw(sds),
        cornea_sd_d=draw(sds),
        refraction_sd_d=draw(sds),
        label_sd_d=draw(sds),
        position_sd_mm=draw(sds),
        position_mean_sd_mm=draw(sds),
        anatomy_share=draw(st.floats(least_anatomy, 1.0)),
    )


patients = st.builds(
    fellow_eye.Shared,
    length_sd_mm=st.floats(0.01, 0.06),
    cornea_sd_d=sds,
    refraction_sd_d=sds,
    position_sd_mm=st.floats(0.02, 0.3),
)


@given(eyes(), patients, errors, st.booleans())
def test_two_alike_eyes_carry_between_nothing_and_everything(
    eye: fellow_eye.Eye, shared: fellow_eye.Shared, first_error_d: float, same: bool
) -> None:
    carried = fellow_eye.carry_over(
        first=eye,
        second=eye,
        shared=shared,
        first_error_d=first_error_d,
        same_placement=same,
        **TAIL,
    )
    assert 0.0 <= carried.share <= 1.0
    assert 0.0 <= carried.gain <= 1.0
    assert 0.0 <= carried.core_probability <= 1.0


@given(eyes(), eyes(), patients, errors, st.floats(0.01, 0.5))
def test_a_worse_first_refraction_carries_less(
    first: fellow_eye.Eye,
    second: fellow_eye.Eye,
    shared: fellow_eye.Shared,
    first_error_d: float,
    worse_by: float,
) -> None:
    poor = first._replace(refraction_sd_d=first.refraction_sd_d + worse_by)
    good_share, poor_share = (
        fellow_eye.carry_over(
            first=eye,
            second=second,
            shared=shared,
            first_error_d=first_error_d,
            tail_weight=0.0,
            tail_sd_d=1.36,
        ).share
        for eye in (first, poor)
    )
    assert poor_share < good_share


@given(eyes(), eyes(), patients, st.floats(0.0, 2.5), st.floats(0.1, 1.0))
def test_the_share_bends_down_for_large_errors(
    first: fellow_eye.Eye,
    second: fellow_eye.Eye,
    shared: fellow_eye.Shared,
    first_error_d: float,
    more_d: float,
) -> None:
    carried = fellow_eye.carry_over(
        first=first,
        second=second,
        shared=shared,
        first_error_d=np.array([first_error_d, first_error_d + more_d]),
        **TAIL,
    )
    assert carried.share[1] <= carried.share[0]
    assert carried.core_probability[1] <= carried.core_probability[0]


@given(eyes(least_anatomy=0.0), eyes(), patients, errors, deviations)
def test_a_mirrored_first_eye_is_carried_mirrored(
    first: fellow_eye.Eye,
    second: fellow_eye.Eye,
    shared: fellow_eye.Shared,
    first_error_d: float,
    deviation_mm: float,
) -> None:
    signs = np.array([1.0, -1.0])
    carried = fellow_eye.carry_over(
        first=first,
        second=second,
        shared=shared,
        first_error_d=signs * first_error_d,
        measured_deviation_mm=signs * deviation_mm,
        measured_sd_mm=0.1,
        **TAIL,
    )
    assert carried.mean_d[1] == pytest.approx(-carried.mean_d[0], abs=1e-12)
    assert carried.sd_d[1] == pytest.approx(carried.sd_d[0])
    assert carried.share[1] == pytest.approx(carried.share[0])


@given(eyes(least_anatomy=0.0), eyes(), patients, errors, st.floats(0.01, 0.3))
def test_measuring_the_first_lens_never_costs(
    first: fellow_eye.Eye,
    second: fellow_eye.Eye,
    shared: fellow_eye.Shared,
    first_error_d: float,
    measured_sd_mm: float,
) -> None:
    given_both: dict[str, Any] = {
        "first": first,
        "second": second,
        "shared": shared,
        "first_error_d": first_error_d,
        "tail_weight": 0.0,
        "tail_sd_d": 1.36,
    }
    without = fellow_eye.carry_over(**given_both)
    measured = fellow_eye.carry_over(
        **given_both, measured_deviation_mm=0.1, measured_sd_mm=measured_sd_mm
    )
    assert measured.gain >= without.gain - 1e-12
