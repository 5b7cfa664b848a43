"""Reads a case file: one patient, both eyes, and which eye is to be done."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from zonule.errors import Side
from zonule.findings.answers import Answer
from zonule.findings.fields import placements
from zonule.findings.records import SIDES, Aim, Case, Eye, Operation, Patient
from zonule.intake.gathering import Gathering
from zonule.intake.measurements import read_biometry
from zonule.intake.normal_groups import written_out
from zonule.intake.old_refraction import AXIS, CYLINDER, EQUIVALENT, SPHERE, with_minus_cylinder
from zonule.intake.overrulings import read_overrulings
from zonule.intake.text import read_bytes, to_text
from zonule.intake.toml_text import parse

_BESIDE = ("biometry", "operation", "overruled")
_OPERATION_RECORD = {name for name in Operation.__dataclass_fields__ if name != "answers"}


def read_case_file(path: Path | str) -> Case:
    """Return the case that a file holds.

    Raises
    ------
    BadInput
        If the file cannot be read, with everything that is wrong with it, in file order.
    """
    return read_case(read_bytes(Path(path)), name=str(path))


def read_case(data: bytes, *, name: str) -> Case:
    """Return the case that the bytes of a file hold.

    Parameters
    ----------
    data
        The whole file: TOML in UTF-8, at most 1 MB.
    name
        What to call the file when it is no text at all.

    Raises
    ------
    BadInput
        With everything that is wrong, in file order.

    Examples
    --------
    >>> case = read_case(
    ...     b'''
    ... schema = "zonule-case-1"
    ... eye_to_do = "left"
    ... [patient]
    ... record_number = "demo-1"
    ... [aim]
    ... spherical_equivalent_d = -0.25
    ... [left]
    ... lens_status = "phakic"
    ... nothing_abnormal = ["zonule"]
    ... ''',
    ...     name="demo.toml",
    ... )
    >>> case.left.answer("phacodonesis"), case.right.answer("phacodonesis")
    ('none', <Unknown.NOT_RECORDED: 'not_recorded'>)
    """
    document = parse(to_text(data, name=name))
    gathering = Gathering("case", document)
    raw = document.content
    sub = ("patient", "aim", *SIDES)
    top = gathering.answers(raw, section="top", path="", beside=sub)
    patient = gathering.answers(
        _needed(gathering, raw, "patient"), section="patient", path="patient"
    )
    aim = gathering.answers(_needed(gathering, raw, "aim"), section="aim", path="aim")
    eyes = {side: _read_eye(gathering, raw, side) for side in SIDES}
    _eye_to_do_is_there(gathering, raw, top)
    gathering.decide()
    return _case(top, patient, aim, eyes)


def _case(
    top: dict[str, Answer],
    patient: dict[str, Answer],
    aim: dict[str, Answer],
    eyes: Mapping[Side, Eye],
) -> Case:
    whole: dict[str, Any] = top
    person: dict[str, Any] = written_out(patient, section="patient")
    wish: dict[str, Any] = aim
    born = {"born": person.pop("born")} if "born" in person else {}
    planned = {key: whole[key] for key in ("surgery_planned_on",) if key in whole}
    return Case(
        eye_to_do=whole["eye_to_do"],
        patient=Patient(
            record_number=person.pop("record_number"), answers=MappingProxyType(person), **born
        ),
        aim=Aim(**wish),
        right=eyes["right"],
        left=eyes["left"],
        **planned,
    )


def _needed(gathering: Gathering, raw: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    return gathering.table(raw, key, key) or {}


def _eye_to_do_is_there(
    gathering: Gathering, raw: Mapping[str, Any], top: dict[str, Answer]
) -> None:
    side = top.get("eye_to_do")
    if isinstance(side, str) and side not in raw and not gathering.document.failed(side):
        gathering.tell(
            side,
            "Eye to do",
            "has no section of its own",
            f"Add [{side}] with its lens_status, or check eye_to_do.",
            check="missing",
        )


def _read_eye(gathering: Gathering, raw: Mapping[str, Any], side: Side) -> Eye:
    table = gathering.table(raw, side, side) or {}
    found = gathering.answers(table, section="eye", path=side, beside=_BESIDE)
    _one_refraction(gathering, found, side)
    sittings = gathering.tables(table, "biometry", f"{side}.biometry")
    biometry = tuple(
        read_biometry(gathering, sitting, path=f"{side}.biometry[{place}]")
        for place, sitting in enumerate(sittings)
    )
    answers: dict[str, Any] = with_minus_cylinder(written_out(found, section="eye"))
    status = {"lens_status": answers.pop("lens_status")} if "lens_status" in answers else {}
    refused = answers.pop("refused_placements", ())
    return Eye(
        side=side,
        answers=MappingProxyType(answers),
        biometry=biometry,
        operation=_read_operation(gathering, table, side),
        refused_placements=refused,
        overrulings=read_overrulings(gathering, table, side),
        **status,
    )


def _one_refraction(gathering: Gathering, found: dict[str, Answer], side: Side) -> None:
    """Sphere and cylinder, or the spherical equivalent: two ways of saying it can disagree."""
    parts = [key for key in (SPHERE, CYLINDER, AXIS) if key in found]
    if EQUIVALENT in found and parts:
        gathering.tell(
            f"{side}.{EQUIVALENT}",
            "Old refraction",
            f"is given twice, also as {', '.join(parts)}",
            "Keep sphere and cylinder, or the spherical equivalent.",
            check="given_twice",
        )


def _read_operation(gathering: Gathering, table: Mapping[str, Any], side: Side) -> Operation | None:
    path = f"{side}.operation"
    raw = gathering.table(table, "operation", path)
    if raw is None:
        return None
    found: dict[str, Any] = dict(gathering.answers(raw, section="operation", path=path))
    _variant_fits(gathering, found, path)
    record = {key: value for key, value in found.items() if key in _OPERATION_RECORD}
    events = {key: value for key, value in found.items() if key not in _OPERATION_RECORD}
    return Operation(answers=MappingProxyType(events), **record)


def _variant_fits(gathering: Gathering, found: dict[str, Any], path: str) -> None:
    place, variant = found.get("placement"), found.get("variant")
    if not isinstance(place, str) or not isinstance(variant, str):
        return
    known = placements()[place]
    if variant not in known:
        remedy = f"Choose one of {', '.join(known)}." if known else "Take the variant out."
        gathering.tell(
            f"{path}.variant",
            "Variant of the place",
            f"does not belong to {place}",
            remedy,
            check="contradicts",
            value=variant,
        )
