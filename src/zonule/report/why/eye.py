"""Why a measurement reads as it does."""

from __future__ import annotations

from functools import partial

from zonule.assessment.measured import Measured, measured
from zonule.library.reading import table
from zonule.plan.records import Plan
from zonule.report.why import held_by
from zonule.report.why.explanation import Explain, Explanation, Input
from zonule.report.words import dioptres, underscored


def _origin(found: Measured) -> tuple[Input, ...]:
    biometry = found.biometry
    told = (
        ("Method", biometry.method),
        ("Day", biometry.measured_on),
        ("Lens setting", biometry.measured_as),
        ("Entry", biometry.entry),
    )
    return tuple(
        Input(label, underscored(str(getattr(value, "value", value)))) for label, value in told
    )


def _length(found: Measured) -> Explanation:
    row = table("prediction")["length"][found.length_method]
    return Explanation(
        path="eye.axial_length_mm",
        title="Axial length",
        value=f"{found.axial_length_mm:.2f} mm ± {found.length_sd_mm:.2f}",
        how=f"As entered. Its spread: {found.length_spread_says}.",
        inputs=_origin(found),
        sources=(row["sd_mm"]["source"],),
        status=row["sd_mm"]["status"],
        status_of="its spread",
        held_by=held_by.CHECKS,
    )


def _cornea(found: Measured) -> Explanation:
    row = table("prediction")["cornea"]["sd_d"]
    biometry = found.biometry
    return Explanation(
        path="eye.corneal_power_d",
        title="Corneal power, mean, in dioptres of index 1.3375",
        value=f"{found.corneal_power_d:.2f} D ± {found.corneal_power_sd_d:.2f}",
        how="Mean of the flat and the steep meridian; another index comes in through the radius.",
        inputs=(
            Input("Flat", f"{biometry.k_flat_d:.2f} D"),
            Input("Steep", f"{biometry.k_steep_d:.2f} D"),
            *_origin(found),
        ),
        sources=(row["source"],),
        status=row["status"],
        status_of="its spread",
        held_by=held_by.CHECKS,
    )


def _chamber(found: Measured) -> Explanation:
    law = table("prediction")["chamber"]
    row = law["optical_sd_mm" if found.length_method == "optical" else "ultrasound_sd_mm"]
    depth = found.anterior_chamber_depth_mm
    return Explanation(
        path="eye.anterior_chamber_depth_mm",
        title="Chamber depth, from the front of the cornea to the lens",
        value=f"{depth:.2f} mm ± {found.chamber_depth_sd_mm:.2f}",
        how="As entered; a depth from the back of the cornea has its thickness added. Only Haigis "
        "uses it, and only of a lens in its place.",
        inputs=_origin(found),
        sources=(row["source"],),
        status=row["status"],
        status_of="its spread",
        held_by=held_by.CHECKS,
    )


def _aim(plan: Plan) -> Explanation:
    aim = plan.case.aim
    return Explanation(
        path="eye.aim_d",
        title="Aim, spherical equivalent at the spectacle plane, 12 mm",
        value=dioptres(aim.spherical_equivalent_d),
        how=f"As entered in the case file; powers are chosen by {underscored(aim.rule)}.",
        status="practice",
        status_of="its spread",
        held_by=held_by.CHECKS,
    )


def eye_paths(plan: Plan) -> dict[str, Explain]:
    """Return the paths of the aim and the measurements."""
    aim: dict[str, Explain] = {"eye.aim_d": partial(_aim, plan)}
    found = measured(plan.case.operative_eye)
    if found is None:
        return aim
    paths: dict[str, Explain] = aim | {
        "eye.axial_length_mm": partial(_length, found),
        "eye.corneal_power_d": partial(_cornea, found),
    }
    if found.anterior_chamber_depth_mm is not None:
        paths["eye.anterior_chamber_depth_mm"] = partial(_chamber, found)
    return paths
