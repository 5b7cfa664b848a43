"""What the instrument was told to measure through, against what is in the eye."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from zonule.errors import Problem
from zonule.findings.answers import is_known
from zonule.findings.checks.catalogue import of_sitting
from zonule.findings.derived import deciding_biometry
from zonule.findings.records import Biometry, Case, Eye


def check(case: Case, _: date | None) -> Iterator[Problem]:
    """Compare lens setting and lens status; both eyes the wrong way round is one finding."""
    wrong = [eye for eye in (case.right, case.left) if _wrong(eye)]
    if len(wrong) == 2 and case.right.lens_status != case.left.lens_status:
        yield of_sitting("lens_setting_exchanged", case.operative_eye, "measured_as")
        return
    for eye in wrong:
        biometry = deciding_biometry(eye)
        if biometry is not None:
            yield of_sitting(
                "lens_setting_wrong",
                eye,
                "measured_as",
                measured_as=_spoken(biometry.measured_as),
                lens_status=str(eye.lens_status),
            )
    yield from _not_said(case.operative_eye)


def _spoken(word: object) -> str:
    return str(word).replace("_", " ")


def _wrong(eye: Eye) -> bool:
    biometry = deciding_biometry(eye)
    if biometry is None or not is_known(eye.lens_status) or not is_known(biometry.measured_as):
        return False
    if _before_its_operation(eye, biometry):
        return False
    if biometry.measured_as == "silicone_oil":
        return eye.answer("hist_vitrectomy") is False
    return biometry.measured_as != eye.lens_status


def _before_its_operation(eye: Eye, biometry: Biometry) -> bool:
    """Tell whether the sitting is, or may be, older than the operation that changed the eye."""
    if eye.operation is None:
        return False
    measured, done = biometry.measured_on, eye.operation.done_on
    if isinstance(measured, date) and isinstance(done, date):
        return measured < done
    return biometry.measured_as == "phakic"


def _not_said(eye: Eye) -> Iterator[Problem]:
    biometry = deciding_biometry(eye)
    if biometry is None or not is_known(biometry.axial_length_mm):
        return
    vitrectomy = eye.answer("hist_vitrectomy")
    if biometry.measured_as == "silicone_oil" and not isinstance(vitrectomy, bool):
        yield of_sitting("oil_not_explained", eye, "measured_as")
    elif not is_known(biometry.measured_as) and is_known(eye.lens_status):
        plain = eye.lens_status == "phakic" and vitrectomy is not True
        name = "lens_setting_taken_as_phakic" if plain else "lens_setting_unknown"
        yield of_sitting(name, eye, "measured_as")
