"""Whatever comes in: a case, or BadInput with every fault told. Never anything else."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.documents import cases, to_toml
from intake.sample_cases import PLAIN, PRACTICE, SKELETON
from zonule.errors import BadInput, Problem
from zonule.findings.checks import check_case
from zonule.findings.records import Case
from zonule.intake import read_case, read_practice
from zonule.intake.toml_text import MOST_FAULTS

FRAGMENTS = st.sampled_from(
    [
        "[left]",
        "[[left.biometry]]",
        "[left",
        "]]",
        "= ",
        "axial_length_mm = 23.9",
        "axial_length_mm = 23,9",
        "k_flat_d = \u22127",
        "a.b.c = 1",
        "'''",
        '"""',
        "[[[[[",
        "{ a = 1",
        "pxf = tru",
        "born = 1946-02-30",
        "lens_status.x = 1",
        "left = 3",
        "left.biometry = []",
        "right.operation = 5",
        "biometry = 5",
        "9" * 5000,
        "x = " + "9" * 5000,
        "x = 1e400",
        "\u2028",
        "\x00",
        "\x7f = 1",
        "# only a remark",
    ]
)
TOML_ISH = st.lists(FRAGMENTS | st.text(max_size=20), max_size=25).map("\n".join)
WELL_FORMED_KEY = re.compile(r"^(\w+) = (.+)$", re.MULTILINE)


def judge(data: bytes) -> tuple[Problem, ...]:
    """Read as a case; return the problems of a refusal, or none. Anything else is a failure."""
    try:
        case = read_case(data, name="case.toml")
    except BadInput as refused:
        found = refused.problems
    else:
        return _judged_sound(case)
    assert found
    for problem in found:
        told_whole(problem)
    return found


def _judged_sound(case: Case) -> tuple[Problem, ...]:
    for problem in check_case(case, on=date(2026, 12, 8)):
        told_whole(problem)
    return ()


def told_whole(problem: Problem) -> None:
    """A problem names its field, what it must be, what to do, and a value or a line."""
    assert problem.check
    assert problem.field
    assert problem.label
    assert problem.limit
    assert problem.remedy
    sentence = problem.sentence()
    assert "{" not in problem.limit + problem.remedy
    assert "\n" not in sentence
    assert len(sentence) < 900


@given(st.binary(max_size=400))
def test_random_bytes(data: bytes) -> None:
    judge(data)


@given(TOML_ISH)
@settings(max_examples=250)
def test_random_toml_like_text(text: str) -> None:
    judge(text.encode("utf-8", errors="surrogatepass"))


@given(TOML_ISH)
def test_a_sound_case_with_rubbish_below(rubbish: str) -> None:
    judge(f"{PLAIN}\n{rubbish}".encode("utf-8", errors="surrogatepass"))


@given(TOML_ISH)
def test_a_practice_with_rubbish_below(rubbish: str) -> None:
    data = f"{PRACTICE}\n{rubbish}".encode("utf-8", errors="surrogatepass")
    try:
        read_practice(data, name="practice.toml")
    except BadInput as refused:
        for problem in refused.problems:
            told_whole(problem)


@given(cases())
def test_drawn_cases(document: dict[str, object]) -> None:
    judge(to_toml(document).encode())


@given(st.integers(0, len(SKELETON.encode())), st.binary(max_size=6))
def test_a_few_bytes_put_in_or_cut_off(place: int, more: bytes) -> None:
    data = SKELETON.encode()
    judge(data[:place] + more + data[place:])
    judge(data[:place])


@given(st.permutations(SKELETON.splitlines()))
def test_lines_in_any_order(lines: list[str]) -> None:
    judge("\n".join(lines).encode())


BREAKS = {
    "outside": "{key} = 98765",
    "retyped": "{key} = {{ a = 1 }}",
    "letters": "{key} = 23x9",
    "comma": "{key} = 23,90",
    "dash": "{key} = \u20133",
    "unknown key": "{key}_zz = {value}",
    "twice": "{key} = {value}\n{key} = {value}",
    "empty": "{key} =",
    "open quote": '{key} = "open',
}


@given(st.data())
def test_every_injected_fault_is_named(data: st.DataObject) -> None:
    """Break several lines of a sound case at once: each of those lines is told."""
    lines = PLAIN.splitlines()
    keyed = [n for n, line in enumerate(lines) if WELL_FORMED_KEY.match(line)]
    chosen = data.draw(st.lists(st.sampled_from(keyed), unique=True, min_size=1, max_size=8))
    fields: list[str] = []
    for number in chosen:
        found = WELL_FORMED_KEY.match(lines[number])
        assert found is not None
        kind = data.draw(st.sampled_from(sorted(BREAKS)))
        lines[number] = BREAKS[kind].format(key=found[1], value=found[2])
        fields.append(f"{found[1]}_zz" if kind == "unknown key" else found[1])
    told = [problem.field.rsplit(".", 1)[-1] for problem in judge("\n".join(lines).encode())]
    for field in set(fields):
        assert told.count(field) >= fields.count(field), (field, told)


SLIPS = {
    "axial_length_mm": (234.2, 2.342, 23420, 43.2),
    "anterior_chamber_depth_mm": (31.2, 312, 3120, 0.312),
    "lens_thickness_mm": (45.5, 4550),
    "k_flat_d": (7.8, 432.5, 4.325),
    "k_steep_d": (7.7, 439),
    "k_flat_axis": (181, -3, 0.5),
    "pupil_dilated_mm": (75, 0.075),
    "locs_no": (32, 0.032),
    "ecd": (24500, 24, 2.45),
}


@pytest.mark.parametrize(
    ("key", "wrong"), [(key, wrong) for key, values in SLIPS.items() for wrong in values]
)
def test_every_slip_of_unit_is_refused_and_never_repaired(key: str, wrong: float) -> None:
    text = re.sub(rf"(?m)^{key} = .*$", f"{key} = {wrong}", PLAIN, count=1)
    found = judge(text.encode())
    assert [problem.field.rsplit(".", 1)[-1] for problem in found] == [key]
    assert found[0].check == "outside_limits"


def test_faults_are_bounded() -> None:
    found = judge("\n".join(f"key{n} = 1,5" for n in range(500)).encode())
    syntax = [problem for problem in found if problem.check == "cannot_be_read"]
    assert len(syntax) == MOST_FAULTS + 1
    assert syntax[-1].limit == "cannot be read from here on"


def test_deep_nesting_is_told() -> None:
    judge(("x = " + "[" * 5000).encode())
    judge(("x = " + "{a=" * 2000).encode())


@pytest.mark.parametrize("text", [SKELETON, PLAIN])
def test_the_samples_themselves_are_sound(text: str) -> None:
    assert judge(text.encode()) == ()
