"""A case file as printed in the documentation, and everything that can be wrong with one."""

from datetime import date
from pathlib import Path

import pytest

from intake.sample_cases import PLAIN, SKELETON
from zonule.errors import BadInput, Problem
from zonule.findings.answers import Unknown
from zonule.findings.records import Case
from zonule.intake import read_case, read_case_file

HEAD = """\
schema = "zonule-case-1"
eye_to_do = "left"
[patient]
record_number = "demo"
[aim]
spherical_equivalent_d = 0.0
[left]
lens_status = "phakic"
"""


def read(text: str) -> Case:
    return read_case(text.encode(), name="case.toml")


def faults(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BadInput) as caught:
        read(text)
    return caught.value.problems


def only(text: str) -> Problem:
    found = faults(text)
    assert len(found) == 1, [one.sentence() for one in found]
    return found[0]


def biometry(line: str) -> str:
    return f"{HEAD}[[left.biometry]]\n{line}\n"


def test_the_skeleton_reads_as_printed() -> None:
    case = read(SKELETON)
    assert case.eye_to_do == "left"
    assert case.patient.record_number == "demo-0417"
    assert case.patient.born == date(1946, 5, 2)
    assert case.patient.answer("allergies") == ("none_known",)
    assert (case.aim.spherical_equivalent_d, case.aim.rule) == (-0.25, "best_chance")
    assert case.left.answer("phacodonesis") == "slight"
    sitting = case.left.biometry[0]
    assert (sitting.axial_length_mm, sitting.k_flat_d, sitting.k_flat_axis) == (23.9, 43.2, 178.0)
    assert sitting.lens_thickness_mm is Unknown.NOT_RECORDED
    operation = case.right.operation
    assert operation is not None
    assert operation.placement == "sulcus_three_piece"
    assert operation.settled_refraction_d == -1.1
    assert case.surgery_planned_on is Unknown.NOT_RECORDED


def test_examined_nothing_abnormal_is_written_out() -> None:
    case = read(PLAIN)
    assert case.right.answer("pxf") is False
    assert case.right.answer("phacodonesis") == "none"
    assert case.right.answer("dialysis_clock_hours") == 0.0
    assert case.patient.answer("alpha_blocker") == "never"
    assert case.right.answer("va_logmar") is Unknown.NOT_RECORDED
    assert case.right.answer("pupil_undilated_mm") is Unknown.NOT_RECORDED


def test_a_single_entry_wins_over_its_group() -> None:
    case = read(HEAD + 'nothing_abnormal = ["zonule"]\npxf = true\niridodonesis = "not_possible"')
    assert case.left.answer("pxf") is True
    assert case.left.answer("iridodonesis") is Unknown.NOT_POSSIBLE


def test_an_operated_eye_is_not_given_a_steady_lens() -> None:
    text = HEAD.replace('"phakic"', '"pseudophakic"') + 'nothing_abnormal = ["zonule"]'
    assert read(text).left.answer("phacodonesis") is Unknown.NOT_RECORDED
    assert read(text).left.answer("pxf") is False


def test_a_radius_and_another_index_come_in_through_the_radius() -> None:
    by_radius = read(biometry("k_flat_radius_mm = 7.5\nk_steep_radius_mm = 7.3")).left.biometry[0]
    assert by_radius.k_flat_d == pytest.approx(45.0)
    by_index = read(biometry("k_flat_d = 44.2667\nkeratometer_index = 1.332")).left.biometry[0]
    assert by_index.k_flat_d == pytest.approx(45.0, abs=0.001)
    assert by_index.keratometer_index == 1.332


def test_a_pasted_true_minus_is_a_minus() -> None:
    bare = HEAD.replace("= 0.0", "= \u22120.25")
    quoted = HEAD.replace("= 0.0", '= "\u22120.25"')
    assert read(bare).aim.spherical_equivalent_d == -0.25
    assert read(quoted).aim.spherical_equivalent_d == -0.25


def test_a_plus_cylinder_is_kept_as_minus() -> None:
    lines = ("sphere_d = 2.00", "cylinder_d = 1.50", "axis = 80")
    eye = read(HEAD + "".join(f"old_refraction_{line}\n" for line in lines)).left
    assert eye.answer("old_refraction_sphere_d") == 3.5
    assert eye.answer("old_refraction_cylinder_d") == -1.5
    assert eye.answer("old_refraction_axis") == 170
    assert eye.answer("old_refraction_as_typed") == "+2.00 +1.50 × 80"


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (
            "axial_length_mm = 2.39",
            "Axial length, left eye 2.39 mm: must be 15 to 40 mm. Check the decimal point: 23.9?",
        ),
        (
            "axial_length_mm = 239",
            "Axial length, left eye 239 mm: must be 15 to 40 mm. Check the decimal point: 23.9?",
        ),
        (
            "axial_length_mm = 23900",
            "Axial length, left eye 23900 mm: must be 15 to 40 mm. "
            "This looks like micrometres: 23.9 mm?",
        ),
        (
            "k_flat_d = 7.7",
            "Flat K, left eye 7.7 D: must be 28 to 60 D. "
            "This looks like a radius in mm: use k_flat_radius_mm.",
        ),
        (
            "k_steep_radius_mm = 43.5",
            "Steep corneal radius, left eye 43.5 mm: must be 5.63 to 12.05 mm. "
            "This looks like dioptres: use k_steep_d.",
        ),
        (
            "corneal_thickness_um = 0.54",
            "Corneal thickness, left eye 0.54 µm: must be 300 to 1000 µm. "
            "This looks like millimetres: 540 µm?",
        ),
        (
            "anterior_chamber_depth_mm = 260",
            "Anterior chamber depth, left eye 260 mm: must be 1 to 6 mm. "
            "Check the decimal point: 2.6?",
        ),
        (
            "axial_length_mm = 23,90",
            "Axial length, left eye 23,90: a number takes a point, not a comma. "
            "Type a point instead of the comma.",
        ),
        (
            'axial_length_mm = "23.90 mm"',
            "Axial length, left eye 23.90 mm: a number stands alone. "
            "Leave the letters out; the unit is in the key.",
        ),
        (
            "axial_length_mm = 23.9.0",
            "Axial length, left eye 23.9.0: a number has one point. Take one of the points out.",
        ),
        (
            "axial_length_mm = 2.39e1",
            "Axial length, left eye 23.9 mm: a number stands alone. "
            "Leave the letters out; the unit is in the key.",
        ),
        (
            "axial_length_mm = true",
            "Axial length, left eye true: must be 15 to 40 mm. "
            "Type the number; true and false are none.",
        ),
        (
            "axial_length_mm = nan",
            "Axial length, left eye nan mm: must be 15 to 40 mm. "
            "Type the measured number, or leave the line out.",
        ),
        (
            "k_flat_axis = 0",
            "Axis of flat K, left eye 0 °: must be 1 to 180 °. Check the number and its unit.",
        ),
        (
            'measured_on = "2026-11-02"',
            "Day of measurement, left eye 2026-11-02: must be a plain date such as 2026-11-02. "
            "Type year-month-day without quotation marks or time.",
        ),
        (
            "measured_on = 2026-11-02T10:00:00",
            "Day of measurement, left eye 2026-11-02 10:00:00: must be a plain date such as "
            "2026-11-02. Type year-month-day without quotation marks or time.",
        ),
        (
            "measured_on = 02.11.2026",
            "Day of measurement, left eye 02.11.2026: must be a day of the calendar. "
            "Type year-month-day, such as 2026-11-02.",
        ),
        (
            'method = "optical"',
            "Method of measurement, left eye optical: must be one of optical_swept_source, "
            "optical_partial_coherence, optical_low_coherence, ultrasound_immersion, "
            "ultrasound_contact. Choose one of these.",
        ),
        (
            "axial_lenght_mm = 23.9",
            "Key, left eye axial_lenght_mm: is not known here. "
            "Did you mean axial_length_mm or axial_length_sd_mm?",
        ),
    ],
)
def test_each_fault_is_told_in_one_sentence(line: str, sentence: str) -> None:
    problem = only(biometry(line))
    assert problem.sentence() == sentence
    assert (problem.eye, problem.line) == ("left", 10)
    assert problem.field.startswith("left.biometry[0].")


def test_length_and_k_in_each_others_place() -> None:
    length, k = faults(biometry("axial_length_mm = 43.2\nk_flat_d = 23.9"))
    assert length.remedy == "It looks exchanged with k_flat_d: check both."
    assert k.remedy == "It looks exchanged with axial_length_mm: check both."


@pytest.mark.parametrize(
    ("line", "origin"),
    [
        ("k_mean_d = 43.5", "k_flat_d and k_steep_d of the biometry"),
        ('fellow_pcr = "yes"', "the other eye's operation: posterior_capsule"),
        ("acd_asymmetry_mm = 0.1", "anterior_chamber_depth_mm of both eyes"),
    ],
)
def test_derived_values_are_never_entered(line: str, origin: str) -> None:
    problem = only(HEAD + line)
    assert problem.limit == f"is derived, never entered: it comes from {origin}"


def test_every_fault_comes_at_once_in_file_order() -> None:
    text = HEAD + (
        "pxf = True\nlocs_no = 9\nlocs_c = 2,5\nphacodonesis = slight\nhist_trauma = 1\n"
        "pupil_dilated_mm = \u20133\nfoo = 1\n[[left.biometry]]\naxial_length_mm = 2.3\n"
        "axial_length_mm = 23.0\n"
    )
    found = faults(text)
    assert [problem.line for problem in found] == [9, 10, 11, 12, 13, 14, 15, 17, 18]
    assert [problem.field.rsplit(".", 1)[1] for problem in found] == [
        "pxf",
        "locs_no",
        "locs_c",
        "phacodonesis",
        "hist_trauma",
        "pupil_dilated_mm",
        "foo",
        "axial_length_mm",
        "axial_length_mm",
    ]
    assert found[-1].check == "set_twice"


def test_what_is_missing_is_named() -> None:
    found = {problem.field: problem for problem in faults('schema = "zonule-case-1"\n')}
    assert set(found) == {"eye_to_do", "patient.record_number", "aim.spherical_equivalent_d"}
    assert found["patient.record_number"].sentence() == (
        "Record number: is needed, and must be text in quotes. "
        "Add record_number = … under [patient]."
    )


def test_the_eye_to_do_has_a_section() -> None:
    assert only(HEAD.replace("[left]", "[right]")).sentence() == (
        "Eye to do, left eye: has no section of its own. "
        "Add [left] with its lens_status, or check eye_to_do."
    )


def test_a_variant_belongs_to_its_place() -> None:
    text = HEAD + '[left.operation]\nplacement = "iris_claw"\nvariant = "ring"'
    assert only(text).sentence() == (
        "Variant of the place, left eye ring: does not belong to iris_claw. "
        "Choose one of behind, in_front."
    )


def test_a_broken_header_hides_nothing_below_it() -> None:
    found = faults(HEAD.replace("[left]", "[left") + "locs_no = 99\n")
    assert [(one.field, one.line) for one in found] == [("left", 7), ("left.locs_no", 9)]


@pytest.mark.parametrize(
    ("data", "limit"),
    [
        (b"", "is empty"),
        (b"  \n", "is empty"),
        (b"\x00\x01", "is not a text file"),
        (b"a = '\xff'", "is not UTF-8 text"),
        (b"#" * 1_000_001, "must be at most 1 MB"),
    ],
)
def test_what_is_no_text_is_told(data: bytes, limit: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_case(data, name="case.toml")
    assert [problem.limit for problem in caught.value.problems] == [limit]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    for path, limit in ((tmp_path / "none.toml", "is not there"), (tmp_path, "is a folder")):
        with pytest.raises(BadInput) as caught:
            read_case_file(path)
        assert caught.value.problems[0].limit == limit
    file = tmp_path / "case.toml"
    file.write_bytes(b"\xef\xbb\xbf" + SKELETON.replace("\n", "\r\n").encode())
    assert read_case_file(file).eye_to_do == "left"
