"""Eyes for tests of risk: findings by name, whole or with some of them not known."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from hypothesis import strategies as st

from zonule.findings.answers import Answer, Unknown
from zonule.findings.conditions import Lookup

YES_NO: Final = st.booleans()
FINDINGS: Final[dict[str, st.SearchStrategy[Any]]] = {
    "age": st.integers(18, 100),
    "sex": st.sampled_from(["female", "male", "other"]),
    "glaucoma": YES_NO,
    "diabetes": st.sampled_from(["none", "no_retinopathy", "background", "proliferative"]),
    "brunescent_or_white": YES_NO,
    "lens_look": st.sampled_from(["nuclear", "brunescent", "posterior_polar", "white_other"]),
    "fundus_view": st.sampled_from(["clear", "hazy", "none"]),
    "pxf": YES_NO,
    "phacodonesis": st.sampled_from(["none", "slight", "marked"]),
    "dialysis_clock_hours": st.sampled_from([0, 2, 3, 3.5, 5, 7, 9]),
    "pupil_class": st.sampled_from(["large", "medium", "small"]),
    "pupil_dilated_mm": st.sampled_from([2.5, 3.5, 5.0, 7.0]),
    "axial_length_mm": st.sampled_from([21.0, 23.5, 25.9, 26.0, 30.0]),
    "acd_mm": st.sampled_from([2.2, 2.5, 3.1]),
    "old_refraction_d": st.sampled_from([-8.0, -1.0, 6.5]),
    "alpha_blocker": st.sampled_from(["never", "past", "current"]),
    "alpha_blocker_drugs": st.sampled_from([("doxazosin",), ("tamsulosin",), ()]),
    "can_lie_flat": YES_NO,
    "cooperates": YES_NO,
    "hist_vitrectomy": YES_NO,
    "hist_uveitis": YES_NO,
    "corneal_opacity": YES_NO,
    "oct_macula": st.sampled_from(["normal", "erm", "vein_occlusion", "amd"]),
    "ecd": st.sampled_from([700, 900, 1500, 2600]),
    "iop_mmhg": st.sampled_from([15.0, 28.0]),
}
"""Values on either side of every cut the models have."""


def lookup_of(findings: Mapping[str, Answer]) -> Lookup:
    """Return a lookup in which whatever is not given was not recorded."""
    return lambda name: findings.get(name, Unknown.NOT_RECORDED)


@st.composite
def eyes(draw: st.DrawFn) -> tuple[dict[str, Answer], dict[str, Answer]]:
    """Draw an eye with every finding known, and the same eye with some of them not known."""
    whole = {name: draw(values) for name, values in FINDINGS.items()}
    hidden = draw(st.sets(st.sampled_from(sorted(FINDINGS)), max_size=8))
    unknown = st.sampled_from(list(Unknown))
    partly = {name: draw(unknown) if name in hidden else said for name, said in whole.items()}
    return whole, partly


PLAIN: Final[dict[str, Answer]] = {
    "age": 55,
    "sex": "female",
    "glaucoma": False,
    "diabetes": "none",
    "brunescent_or_white": False,
    "lens_look": "nuclear",
    "fundus_view": "clear",
    "pxf": False,
    "phacodonesis": "none",
    "dialysis_clock_hours": 0,
    "pupil_class": "large",
    "pupil_dilated_mm": 7.0,
    "axial_length_mm": 23.5,
    "acd_mm": 3.1,
    "old_refraction_d": -1.0,
    "alpha_blocker": "never",
    "can_lie_flat": True,
    "cooperates": True,
    "hist_vitrectomy": False,
    "hist_uveitis": False,
    "corneal_opacity": False,
    "oct_macula": "normal",
    "ecd": 2600,
    "iop_mmhg": 15.0,
}
"""An eye without a factor."""
