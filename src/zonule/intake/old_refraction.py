"""The old refraction: entered with cylinder in either sign, kept with minus cylinder."""

from __future__ import annotations

from zonule.findings.answers import Answer, number

SPHERE, CYLINDER, AXIS = (f"old_refraction_{part}" for part in ("sphere_d", "cylinder_d", "axis"))
EQUIVALENT = "old_refraction_spherical_equivalent_d"


def with_minus_cylinder(answers: dict[str, Answer]) -> dict[str, Answer]:
    """Return the answers with a plus cylinder transposed; as typed it stays beside them.

    Examples
    --------
    >>> found = with_minus_cylinder({SPHERE: 2.0, CYLINDER: 1.5, AXIS: 80})
    >>> found[SPHERE], found[CYLINDER], found[AXIS]
    (3.5, -1.5, 170.0)
    >>> found["old_refraction_as_typed"]
    '+2.00 +1.50 × 80'
    """
    sphere, cylinder = number(answers.get(SPHERE, "")), number(answers.get(CYLINDER, ""))
    if sphere is None or cylinder is None or cylinder <= 0:
        return answers
    axis = number(answers.get(AXIS, ""))
    typed = f"{sphere:+.2f} {cylinder:+.2f}" + ("" if axis is None else f" × {axis:g}")
    turned: dict[str, Answer] = {
        SPHERE: round(sphere + cylinder, 6),
        CYLINDER: -cylinder,
        "old_refraction_as_typed": typed.replace("-", "−"),
    }
    if axis is not None:
        turned[AXIS] = axis + 90 if axis <= 90 else axis - 90
    return answers | turned
