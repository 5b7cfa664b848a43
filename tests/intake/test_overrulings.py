"""What a case file says beside the eyes' findings: the patient's frame, rules set aside."""

from datetime import date

import pytest

from intake.sample_cases import PLAIN
from zonule.errors import BadInput, Problem
from zonule.findings.answers import Unknown
from zonule.findings.records import Case, Overruling
from zonule.intake import read_case

HEAD = """\
schema = "zonule-case-1"
eye_to_do = "left"
[patient]
record_number = "demo"
{patient}
[aim]
spherical_equivalent_d = 0.0
[left]
lens_status = "phakic"
"""
ASIDE = """\
[[left.overruled]]
rule = "D-25"
by = "A. Surgeon"
on = 2026-11-24
reason = "Pressure checked at two hours instead"
"""


def read(text: str) -> Case:
    return read_case(text.encode(), name="case.toml")


def with_patient(lines: str) -> str:
    return HEAD.format(patient=lines)


def faults(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BadInput) as caught:
        read(text)
    return caught.value.problems


def only(text: str) -> Problem:
    found = faults(text)
    assert len(found) == 1, [one.sentence() for one in found]
    return found[0]


def test_the_patient_has_a_name_and_what_anaesthesia_needs() -> None:
    patient = read(
        with_patient(
            'name = "Ada Sample-Demo"\n'
            "longest_time_flat_min = 40\n"
            'anaesthesia_route = "sub_tenons"\n'
            "hearing_or_language = true\n"
            'tremor_or_cough = "not_examined"'
        )
    ).patient
    assert patient.record_number == "demo"
    assert patient.answer("name") == "Ada Sample-Demo"
    assert patient.answer("longest_time_flat_min") == 40.0
    assert patient.answer("anaesthesia_route") == "sub_tenons"
    assert patient.answer("hearing_or_language") is True
    assert patient.answer("tremor_or_cough") is Unknown.NOT_EXAMINED


def test_what_is_not_there_is_not_recorded() -> None:
    patient = read(with_patient("")).patient
    for key in (
        "name",
        "longest_time_flat_min",
        "anaesthesia_route",
        "hearing_or_language",
        "tremor_or_cough",
    ):
        assert patient.answer(key) is Unknown.NOT_RECORDED


def test_nothing_abnormal_says_that_the_patient_hears_and_keeps_still() -> None:
    patient = read(PLAIN).patient
    assert patient.answer("hearing_or_language") is False
    assert patient.answer("tremor_or_cough") is False
    assert patient.answer("longest_time_flat_min") is Unknown.NOT_RECORDED
    assert patient.answer("anaesthesia_route") is Unknown.NOT_RECORDED


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("name = 7", "Name 7: must be text in quotes. Put it in quotation marks."),
        (
            "longest_time_flat_min = 601",
            "Longest time flat 601 min: must be 0 to 600 min. Check the decimal point: 60.1?",
        ),
        (
            "longest_time_flat_min = 40 min",
            "Longest time flat 40 min: a number stands alone. "
            "Leave the letters out; the unit is in the key.",
        ),
        (
            'anaesthesia_route = "sub_tenon"',
            "Anaesthesia sub_tenon: must be one of topical, topical_intracameral, sub_tenons, "
            "sharp_needle_block, general. Did you mean sub_tenons?",
        ),
        (
            'hearing_or_language = "no"',
            "Hearing or language difficulty no: must be true or false. "
            "Type true or false, without quotation marks.",
        ),
        (
            "tremor_or_cough = 0",
            "Tremor or cough 0: must be true or false. "
            "Type true or false, without quotation marks.",
        ),
        (
            "anaesthesia = true",
            "Key anaesthesia: is not known here. Did you mean anaesthesia_route?",
        ),
    ],
)
def test_each_fault_of_the_patient_is_told_in_one_sentence(line: str, sentence: str) -> None:
    problem = only(with_patient(line))
    assert problem.sentence() == sentence
    assert problem.line == 5
    assert problem.field.startswith("patient.")


def test_a_rule_set_aside_belongs_to_its_eye() -> None:
    other = ASIDE.replace("left", "right").replace("D-25", "T-16")
    case = read(with_patient("") + ASIDE + ASIDE.replace("D-25", "T-04") + other)
    reason = "Pressure checked at two hours instead"
    day = date(2026, 11, 24)
    assert case.left.overrulings == (
        Overruling("D-25", "A. Surgeon", day, reason),
        Overruling("T-04", "A. Surgeon", day, reason),
    )
    assert case.right.overrulings == (Overruling("T-16", "A. Surgeon", day, reason),)
    assert read(with_patient("")).left.overrulings == ()


@pytest.mark.parametrize(
    ("old", "new", "sentence", "line"),
    [
        (
            '"D-25"',
            '"D_25"',
            "Rule set aside, left eye D_25: is not a rule. Did you mean D-25?",
            11,
        ),
        (
            '"D-25"',
            '"d25"',
            "Rule set aside, left eye d25: is not a rule. Did you mean D-25?",
            11,
        ),
        (
            '"D-25"',
            '"pressure"',
            "Rule set aside, left eye pressure: is not a rule. "
            "Type the id of a rule, such as T-01.",
            11,
        ),
        (
            '"D-25"',
            '"L-01"',
            "Rule set aside, left eye L-01: speaks of the department, not of one eye. "
            "Settle it in the practice file, under [[rule_decision]].",
            11,
        ),
        (
            '"D-25"',
            "25",
            "Rule set aside, left eye 25: must be text in quotes. Put it in quotation marks.",
            11,
        ),
        (
            '"D-25"',
            "D-25",
            "Rule set aside, left eye D-25: text stands in quotation marks. "
            'Put it between plain ".',
            11,
        ),
        (
            'rule = "D-25"\n',
            "",
            "Rule set aside, left eye: is needed, and must be text in quotes. "
            "Add rule = … under [left.overruled].",
            10,
        ),
        (
            'by = "A. Surgeon"\n',
            "",
            "Set aside by, left eye: is needed, and must be text in quotes. "
            "Add by = … under [left.overruled].",
            10,
        ),
        (
            '"A. Surgeon"',
            '"unknown"',
            "Set aside by, left eye unknown: must be known here. "
            "Type it; this key takes no word for not known.",
            12,
        ),
        (
            "on = 2026-11-24\n",
            "",
            "Set aside on, left eye: is needed, and must be a plain date such as 2026-11-02. "
            "Add on = … under [left.overruled].",
            10,
        ),
        (
            "2026-11-24",
            '"unknown"',
            "Set aside on, left eye unknown: must be a plain date such as 2026-11-02. "
            "Type year-month-day without quotation marks or time.",
            13,
        ),
        (
            'reason = "Pressure checked at two hours instead"\n',
            "",
            "Reason for setting it aside, left eye: is needed, and must be text in quotes. "
            "Add reason = … under [left.overruled].",
            10,
        ),
        (
            '"Pressure checked at two hours instead"',
            '" "',
            "Reason for setting it aside, left eye  : must not be empty. "
            "Type it, or leave the line out.",
            14,
        ),
        (
            '"Pressure checked at two hours instead"',
            '"not_possible"',
            "Reason for setting it aside, left eye not_possible: must be known here. "
            "Type it; this key takes no word for not known.",
            14,
        ),
        (
            "by =",
            "because = 'x'\nby =",
            "Key, left eye because: is not known here. "
            "Take it out; the table of keys lists what can stand here.",
            12,
        ),
        (
            "[[left.overruled]]",
            "[left.overruled]",
            "Overruled, left eye: must be a list of sections. "
            "Write [[left.overruled]], in double brackets.",
            10,
        ),
    ],
)
def test_each_fault_of_a_rule_set_aside_is_told_in_one_sentence(
    old: str, new: str, sentence: str, line: int
) -> None:
    problem = only(with_patient("") + ASIDE.replace(old, new, 1))
    assert (problem.sentence(), problem.line) == (sentence, line)
    assert problem.eye == "left"


def test_a_rule_is_set_aside_once_for_an_eye() -> None:
    problem = only(with_patient("") + ASIDE + ASIDE)
    assert problem.sentence() == (
        "Rule set aside, left eye D-25: is set aside twice for this eye. Keep one entry per rule."
    )
    assert (problem.field, problem.line) == ("left.overruled[1].rule", 16)


def test_every_fault_of_every_entry_comes_at_once() -> None:
    found = faults(with_patient("") + ASIDE.replace("D-25", "D-52") + ASIDE.replace("by", "from"))
    assert [one.field for one in found] == [
        "left.overruled[0].rule",
        "left.overruled[1].by",
        "left.overruled[1].from",
    ]
