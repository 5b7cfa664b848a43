"""Each data check: fires on what it is for, stays silent on unknown, says what to do."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import get_args

import pytest

from intake.sample_cases import PLAIN, SKELETON
from zonule.errors import SEVERITIES, Problem
from zonule.findings.checks import CHECKS, check_case, check_lens_powers, interruptions
from zonule.findings.fields import Which, sections
from zonule.findings.records import Case
from zonule.intake import read_case
from zonule.library.reading import reference, status, table

ON = date(2026, 12, 8)
CHECKS_FOLDER = Path(__file__).parents[2] / "src/zonule/findings/checks"


def plain(changes: Mapping[str, str] | None = None, add: str = "") -> Case:
    text = PLAIN
    for old, new in (changes or {}).items():
        assert old in text, old
        text = text.replace(old, new, 1)
    return read_case(f"{text}\n{add}".encode(), name="case.toml")


def loud(case: Case) -> list[str]:
    return [one.check for one in interruptions(check_case(case, on=ON))]


def told(case: Case, name: str) -> Problem:
    found = [one for one in check_case(case, on=ON) if one.check == name]
    assert len(found) == 1, [one.check for one in check_case(case, on=ON)]
    return found[0]


def test_a_plain_eye_meets_no_interruption() -> None:
    case = plain()
    assert loud(case) == []
    assert [one.check for one in check_case(case, on=ON)] == ["typed_by_hand"]


def test_the_skeleton_meets_no_interruption() -> None:
    assert loud(read_case(SKELETON.encode(), name="case.toml")) == []


FIRES: list[tuple[str, dict[str, str], str, str, str]] = [
    ("allergies_not_asked", {'allergies = ["none_known"]\n': ""}, "", "block", "first_cut"),
    ("allergies_not_asked", {'["none_known"]': "[]"}, "", "block", "first_cut"),
    (
        "allergies_contradict",
        {'["none_known"]': '["none_known", "latex"]'},
        "",
        "confirm",
        "first_cut",
    ),
    ("lens_status_missing", {'lens_status = "phakic"\n': ""}, "", "block", "power"),
    (
        "lens_setting_wrong",
        {'measured_as = "phakic"': 'measured_as = "aphakic"'},
        "",
        "block",
        "power",
    ),
    (
        "lens_setting_wrong",
        {'measured_as = "phakic"': 'measured_as = "silicone_oil"'},
        "",
        "block",
        "power",
    ),
    (
        "lens_setting_unknown",
        {'measured_as = "phakic"\n': "", "pupil_dilated_mm = 7.5": "hist_vitrectomy = true"},
        "",
        "confirm",
        "nothing",
    ),
    ("lens_setting_taken_as_phakic", {'measured_as = "phakic"\n': ""}, "", "mark", "nothing"),
    (
        "graded_without_a_lens",
        {'lens_status = "phakic"': 'lens_status = "aphakic"'},
        "",
        "block",
        "power",
    ),
    (
        "implant_in_phakic_eye",
        {},
        '[right.operation]\nplacement = "bag"\nlens_power_d = 21.0',
        "block",
        "power",
    ),
    (
        "stale_measurement",
        {"measured_on = 2026-11-02": "measured_on = 2026-05-02"},
        "",
        "warn",
        "nothing",
    ),
    (
        "contact_lens_worn",
        {"k_flat_axis": "contact_lens_off_days = 2\nk_flat_axis"},
        "",
        "warn",
        "nothing",
    ),
    (
        "wrong_record",
        {"k_flat_axis": 'record_number = "demo-9"\nk_flat_axis'},
        "",
        "block",
        "power",
    ),
    (
        "copied_values",
        {"k_flat_d = 43.30\nk_steep_d = 44.05": "k_flat_d = 43.25\nk_steep_d = 43.90"},
        "",
        "warn",
        "nothing",
    ),
    ("same_length", {"axial_length_mm = 23.35": "axial_length_mm = 23.42"}, "", "mark", "nothing"),
    (
        "flat_and_steep_exchanged",
        {"k_flat_d = 43.25": "k_flat_d = 44.25"},
        "",
        "confirm",
        "nothing",
    ),
    ("axes_not_square", {"k_steep_axis = 88": "k_steep_axis = 140"}, "", "confirm", "nothing"),
    (
        "unequal_corneas",
        {"k_flat_d = 43.30\nk_steep_d = 44.05": "k_flat_d = 45.30\nk_steep_d = 45.35"},
        "",
        "warn",
        "nothing",
    ),
    ("unusual_measurement", {"k_steep_d = 43.90": "k_steep_d = 46.90"}, "", "warn", "nothing"),
    (
        "chamber_depth_unusual",
        {"anterior_chamber_depth_mm = 3.12": "anterior_chamber_depth_mm = 4.60"},
        "",
        "warn",
        "nothing",
    ),
    (
        "segments_do_not_fit",
        {"lens_thickness_mm = 4.55": "lens_thickness_mm = 2.6"},
        "",
        "warn",
        "nothing",
    ),
    (
        "weak_signal",
        {
            "axial_length_sd_mm = 0.02": "axial_length_sd_mm = 0.08",
            "locs_no = 3.2": "locs_no = 5.6",
        },
        "",
        "warn",
        "nothing",
    ),
    (
        "wide_repeats",
        {"axial_length_sd_mm = 0.02": "axial_length_sd_mm = 0.08"},
        "",
        "mark",
        "nothing",
    ),
    (
        "pupil_smaller_when_dilated",
        {"pupil_dilated_mm = 7.5": "pupil_dilated_mm = 3.0\npupil_undilated_mm = 4.0"},
        "",
        "warn",
        "nothing",
    ),
    (
        "good_pupil_with_pxf",
        {"pupil_dilated_mm = 7.5": "pupil_dilated_mm = 8.0\npxf = true"},
        "",
        "info",
        "nothing",
    ),
    ("not_as_the_group_says", {"pupil_dilated_mm = 7.5": "pxf = true"}, "", "confirm", "nothing"),
    (
        "dialysis_hard_to_see",
        {"pupil_dilated_mm = 7.5": "pupil_dilated_mm = 3.0\ndialysis_clock_hours = 2"},
        "",
        "info",
        "nothing",
    ),
    (
        "sight_not_explained",
        {"locs_no = 3.2": "locs_no = 2.2\nlocs_c = 1.0\nlocs_p = 1.0\nva_logmar = 1.3"},
        "",
        "warn",
        "nothing",
    ),
    ("sight_too_good", {"locs_no = 3.2": "locs_no = 5.2\nva_logmar = 0.1"}, "", "warn", "nothing"),
    (
        "ask_alpha_blocker_again",
        {'sex = "male"': 'sex = "male"\nurology_history = true'},
        "",
        "warn",
        "nothing",
    ),
    (
        "drug_without_history",
        {'sex = "male"': 'sex = "male"\nalpha_blocker_drugs = ["tamsulosin"]'},
        "",
        "confirm",
        "nothing",
    ),
    (
        "days_out_of_order",
        {"measured_on = 2026-11-02": "measured_on = 1926-11-02"},
        "",
        "confirm",
        "nothing",
    ),
    ("age_out_of_range", {"born = 1951-03-14": "born = 2021-03-14"}, "", "confirm", "nothing"),
    (
        "cylinder_read_back",
        {"old_refraction_cylinder_d = -0.50": "old_refraction_cylinder_d = 0.50"},
        "",
        "info",
        "nothing",
    ),
    ("outstanding", {"ecd = 2450\n": ""}, "", "info", "nothing"),
]


@pytest.mark.parametrize(("name", "changes", "add", "severity", "stops"), FIRES)
def test_fires(name: str, changes: dict[str, str], add: str, severity: str, stops: str) -> None:
    problem = told(plain(changes, add), name)
    assert (problem.severity, problem.stops) == (severity, stops)
    assert problem.remedy
    assert problem.sentence().endswith((".", "?"))
    assert reference(problem.source).key == problem.source


def test_contact_ultrasound_shorter_than_light() -> None:
    case = plain(
        {
            'method = "optical_swept_source"': 'method = "ultrasound_contact"',
            "axial_length_mm = 23.42": "axial_length_mm = 23.12",
        }
    )
    assert loud(case) == ["contact_indentation"]


def test_exchanged_lens_settings_are_one_finding() -> None:
    text = PLAIN.replace('[left]\nlens_status = "phakic"', '[left]\nlens_status = "pseudophakic"')
    head, _, tail = text.partition("[left]")
    head = head.replace('measured_as = "phakic"', 'measured_as = "pseudophakic"')
    case = read_case(f"{head}[left]{tail}".encode(), name="case.toml")
    assert loud(case) == ["lens_setting_exchanged"]


def test_exchanged_operation_is_one_finding() -> None:
    case = plain(
        {'[left]\nlens_status = "phakic"': '[left]\nlens_status = "pseudophakic"\nlocs_no = 3.0'},
        '[right.operation]\nplacement = "bag"',
    )
    assert "eyes_exchanged" in loud(case)
    assert "implant_in_phakic_eye" not in loud(case)


def test_measurements_older_than_the_operation_of_an_eye() -> None:
    case = plain(
        {
            'lens_status = "phakic"': 'lens_status = "pseudophakic"',
            'lens_look = "nuclear"\n': "",
            "locs_no = 3.2\n": "",
        },
        '[right.operation]\ndone_on = 2026-11-20\nplacement = "bag"',
    )
    assert loud(case) == ["measured_before_operation"]


@pytest.mark.parametrize(
    ("placement", "settled", "fires"),
    [
        ("bag", "2026-10-27", True),
        ("bag", "2026-10-29", False),
        ("scleral", "2026-10-29", True),
        ("scleral", "2026-11-12", False),
    ],
)
def test_a_first_eye_settles_in_four_weeks_or_six(
    placement: str, settled: str, fires: bool
) -> None:
    case = plain(
        {'[left]\nlens_status = "phakic"': '[left]\nlens_status = "pseudophakic"'},
        f'[left.operation]\ndone_on = 2026-10-01\nplacement = "{placement}"\n'
        f"settled_refraction_d = -0.5\nsettled_on = {settled}",
    )
    assert ("not_settled" in loud(case)) is fires


def test_an_unusual_length_that_the_other_eye_shares_is_only_marked() -> None:
    long = {"axial_length_mm = 23.42": "axial_length_mm = 27.42"}
    both = long | {"axial_length_mm = 23.35": "axial_length_mm = 27.35"}
    refracted = both | {
        "old_refraction_sphere_d = 0.50": "old_refraction_sphere_d = -8.00",
        "spherical_equivalent_d = 0.50": "spherical_equivalent_d = -8.25",
    }
    case = plain(refracted)
    assert loud(case) == []
    assert told(case, "unusual_measurement_borne_out").severity == "mark"


def test_one_eye_whose_length_and_refraction_are_strangers() -> None:
    case = plain(
        {
            "axial_length_mm = 23.42": "axial_length_mm = 26.42",
            "axial_length_mm = 23.35": "axial_length_mm = 26.35",
        }
    )
    assert loud(case) == ["length_against_refraction"]
    assert told(case, "length_against_refraction").sentence() == (
        "Axial length, right eye 26.42 mm: does not go with an old refraction of +0.25 D, in "
        "both eyes. Check both on the print; suspect the other eye or another patient."
    )


def test_a_length_that_no_eye_with_that_refraction_has_hides_the_power() -> None:
    alone = {"old_refraction_spherical_equivalent_d = 0.50": ""}
    case = plain({"axial_length_mm = 23.42": "axial_length_mm = 28.42"} | alone)
    assert loud(case) == ["length_impossible_for_refraction"]
    found = told(case, "length_impossible_for_refraction")
    assert found.stops == "power"
    assert found.sentence() == (
        "Axial length, right eye 28.42 mm: cannot go with an old refraction of +0.25 D and this "
        "cornea. One of the three is wrong: check them on the print, or say why under "
        "difference_explained."
    )


def test_a_length_explained_in_words_is_a_mark() -> None:
    case = plain(
        {
            "axial_length_mm = 23.42": "axial_length_mm = 28.42\n"
            'difference_explained = "staphyloma on ultrasound"'
        }
    )
    assert loud(case) == []
    assert "staphyloma on ultrasound" in told(case, "length_explained_in_words").sentence()


def test_what_concerns_only_the_other_eye_never_warns() -> None:
    case = plain({"pupil_dilated_mm = 7.3": "pupil_dilated_mm = 3.0\npupil_undilated_mm = 4.0"})
    assert told(case, "pupil_smaller_when_dilated").severity == "mark"
    assert loud(case) == []


def test_unknown_never_fires() -> None:
    text = """\
schema = "zonule-case-1"
eye_to_do = "left"
[patient]
record_number = "demo"
allergies = ["none_known"]
[aim]
spherical_equivalent_d = 0.0
[left]
lens_status = "phakic"
pupil_dilated_mm = "not_possible"
pxf = "not_examined"
locs_no = "not_possible"
va_logmar = "unknown"
[[left.biometry]]
axial_length_mm = "not_possible"
k_flat_d = "not_possible"
measured_as = "unknown"
"""
    case = read_case(text.encode(), name="case.toml")
    assert loud(case) == []
    assert [one.check for one in check_case(case)] == ["outstanding"]


def test_powers_to_read_aloud() -> None:
    case = plain()
    for power, fires in ((-3.0, True), (4.0, True), (21.0, False), (35.0, True)):
        found = check_lens_powers(case, side="right", power_d=power)
        assert [one.check for one in found] == (["power_to_read_aloud"] if fires else [])


def test_powers_that_length_and_k_do_not_explain() -> None:
    case = plain()
    alike = check_lens_powers(case, side="right", power_d=21.0, other_power_d=21.5)
    apart = check_lens_powers(case, side="right", power_d=21.0, other_power_d=23.5)
    assert alike == ()
    assert [one.check for one in apart] == ["powers_differ"]


def test_every_row_of_the_table_is_sound_and_used() -> None:
    code = "".join(file.read_text(encoding="utf-8") for file in CHECKS_FOLDER.glob("*.py"))
    rows = table("checks")
    assert len(rows) > 50
    covered = set()
    for name, row in rows.items():
        used = name in code or name.removesuffix("_borne_out") in code
        assert used, name
        assert reference(row["source"]).key == row["source"]
        assert status(row["status"])
        covered |= set(row.get("from", ()))
        if "severity" in row:
            assert row["severity"] in SEVERITIES
            assert row["stops"] in ("power", "signature", "first_cut", "opening_a_lens", "nothing")
    assert covered == set(range(1, 33)) - {1, 23, 24, 25, 32}


def test_every_file_of_checks_is_asked() -> None:
    asked = {check.__module__.rsplit(".", 1)[1] for check in CHECKS}
    files = {file.stem for file in CHECKS_FOLDER.glob("*.py")}
    assert files - asked == {"__init__", "catalogue", "index_myopia", "lens_powers"}


def test_left_and_right_are_said_of_sides_only() -> None:
    rows = table("checks").values()
    words = [str(row.get(key, "")) for row in rows for key in ("limit", "remedy")]
    for kind in get_args(Which):
        fields = [field for rows in sections(kind).values() for field in rows.values()]
        words += [f"{field.label} {field.help} {field.note}" for field in fields]
    assert len(words) > 200
    for said in words:
        assert not re.search(r"\b(left|right)\b", re.sub("[Rr]ight and left", "", said)), said


def test_the_sample_is_toml() -> None:
    assert tomllib.loads(PLAIN)["eye_to_do"] == "right"


def test_the_page_names_every_check() -> None:
    page = (Path(__file__).parents[2] / "docs/data-checks.md").read_text(encoding="utf-8")
    for name, row in table("checks").items():
        if "severity" in row:
            assert f"| `{name}` | {row['severity']} | {row['stops']} |" in page, name
