"""How energy is measured, and the own log beside the practice file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.sample_cases import PRACTICE
from zonule.errors import BadInput, Problem
from zonule.intake import read_practice, read_practice_file
from zonule.intake.energy_log import read_energy_log
from zonule.practice.energy import EnergyLog, EnergyMeasure, EnergyTerm

ENERGY = """
[energy]
definition = "weighted_seconds"
machine = "theatre 2"
mode = "torsional"
tip = "bent"
"""
OWN = """
[energy]
definition = "own"
label = "energy shown"
unit = "units"
machine = "theatre 2"
mode = "both"
tip = "bent"

[[energy.term]]
mode = "longitudinal"
factor = 1.0

[[energy.term]]
mode = "sideways"
factor = 0.5
"""
KEPT = {"machine": "theatre 2", "mode": "torsional", "tip": "bent"}
HEAD = "done_on,locs_nc,energy"


def measure(text: str, folder: Path | None = None) -> EnergyMeasure | None:
    return read_practice((PRACTICE + text).encode(), name="practice.toml", folder=folder).energy


def faults(text: str, folder: Path | None = None) -> tuple[Problem, ...]:
    with pytest.raises(BadInput) as caught:
        measure(text, folder)
    return caught.value.problems


def log(text: str) -> EnergyLog:
    return read_energy_log(text.encode(), file="own.csv", kept_to=KEPT)


def test_without_the_section_nothing_is_said_of_energy() -> None:
    assert measure("") is None


def test_a_listed_measure_reads_whole() -> None:
    assert measure(ENERGY) == EnergyMeasure("weighted_seconds", "theatre 2", "torsional", "bent")


def test_an_own_measure_brings_its_name_unit_and_terms() -> None:
    found = measure(OWN)
    assert found is not None
    assert (found.label, found.unit) == ("energy shown", "units")
    assert found.terms == (EnergyTerm("longitudinal", 1.0), EnergyTerm("sideways", 0.5))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            ENERGY.replace('"weighted_seconds"', '"weighted_second"'),
            "Measure of energy weighted_second: must be one of weighted_seconds, "
            "full_power_seconds, own. Did you mean weighted_seconds?",
        ),
        (
            ENERGY.replace('tip = "bent"\n', ""),
            "Tip: is needed, and must be text in quotes. Add tip = … under [energy].",
        ),
        (
            ENERGY + 'unit = "s"\n',
            "Unit of the own measure: stands only with an own definition, and this one is "
            "weighted_seconds. "
            'Take unit out, or write definition = "own".',
        ),
        (
            ENERGY + '[[energy.term]]\nmode = "sideways"\nfactor = 0.5\n',
            "Term: stands only with an own definition, and this one is weighted_seconds. "
            'Take term out, or write definition = "own".',
        ),
        (
            OWN.replace('unit = "units"\n', ""),
            "Unit of the own measure: is needed for an own definition. Add unit = ….",
        ),
        (
            OWN[: OWN.index("[[")],
            "Term: is needed for an own definition. Add [[energy.term]].",
        ),
        (
            OWN[: OWN.index("[[")] + "term = []\n",
            "Term: must be one at least. Add [[energy.term]].",
        ),
        (
            OWN.replace("factor = 0.5", "factor = 50"),
            "Factor of the mode 50: must be 0 to 10. Check the decimal point: 5?",
        ),
        (
            ENERGY + 'log = "../own.csv"\n',
            "Own energy log ../own.csv: must be the name of a CSV file beside the practice file. "
            "Write the name alone, such as own-energy.csv.",
        ),
        (
            ENERGY + 'log = "own.xlsx"\n',
            "Own energy log own.xlsx: must be the name of a CSV file beside the practice file. "
            "Write the name alone, such as own-energy.csv.",
        ),
    ],
)
def test_what_is_wrong_is_told(text: str, said: str) -> None:
    (problem,) = faults(text)
    assert problem.sentence() == said
    assert problem.line is not None


def test_a_log_that_is_not_there_is_told_at_its_key(tmp_path: Path) -> None:
    (problem,) = faults(ENERGY + 'log = "own.csv"\n', tmp_path)
    assert problem.sentence() == (
        "Own energy log own.csv: is not there. Check the name and the folder."
    )
    assert problem.field == "energy.log"


def test_a_log_without_a_needed_column_is_told_whole(tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text("done_on,locs_nc\n2026-01-12,3.4\n", "utf-8")
    (problem,) = faults(ENERGY + 'log = "own.csv"\n', tmp_path)
    assert problem.limit == "column energy is needed"


def test_a_column_that_may_name_a_patient_is_refused(tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text(f"{HEAD},record_number\n2026-01-12,3.4,8,1\n", "utf-8")
    (problem,) = faults(ENERGY + 'log = "own.csv"\n', tmp_path)
    assert problem.limit == "column record_number is not known here"


def test_a_practice_that_came_without_its_folder_leaves_the_log_unread() -> None:
    found = measure(ENERGY + 'log = "own.csv"\n')
    assert found is not None
    assert found.log == EnergyLog("own.csv", was_read=False)


def test_the_file_beside_the_practice_is_read(tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text(f"{HEAD},tip\n2026-01-12,3.4,8.1,bent\n", "utf-8")
    (tmp_path / "practice.toml").write_text(PRACTICE + ENERGY + 'log = "own.csv"\n', "utf-8")
    found = read_practice_file(tmp_path / "practice.toml").energy
    assert found is not None
    assert found.log is not None
    assert [(one.nuclear_colour, one.energy) for one in found.log.cases] == [(3.4, 8.1)]


@pytest.mark.parametrize(
    ("row", "because"),
    [
        ("2026-01-12,3.9,9.0,straight,theatre 2", "Tip straight: the log is kept to bent"),
        ("2026-01-12,3.9,9.0,,theatre 2", "Tip not recorded: the log is kept to bent"),
        ("2026-01-12,3.9,9.0,bent,theatre 1", "Machine theatre 1: the log is kept to theatre 2"),
        ("2026-01-12,,9.0,bent,theatre 2", "LOCS III nuclear colour: not recorded"),
        ("2026-01-12,3.9,,bent,theatre 2", "Energy: not recorded"),
        (",3.9,9.0,bent,theatre 2", "Day of the case: not recorded"),
        (
            "12/01/2026,3.9,9.0,bent,theatre 2",
            "Day of the case 12/01/2026: must be a plain date such as 2026-11-02",
        ),
        (
            "2026-02-30,3.9,9.0,bent,theatre 2",
            "Day of the case 2026-02-30: must be a plain date such as 2026-11-02",
        ),
        ("2026-01-12,7.9,9.0,bent,theatre 2", "LOCS III nuclear colour 7.9: must be 0.1 to 6.9"),
        ("2026-01-12,3.9,0,bent,theatre 2", "Energy 0: must be 0.01 to 1000"),
        ('2026-01-12,3.9,"9,0",bent,theatre 2', "Energy 9,0: a number takes a point, not a comma"),
        ("2026-01-12,3.9,9.0,bent,theatre 2,more", "more cells than columns"),
        ("2026-01-05,3.4,8.1,bent,theatre 2", "the same as line 2, word for word"),
    ],
)
def test_a_row_that_cannot_be_used_is_set_aside_with_its_line(row: str, because: str) -> None:
    found = log(f"{HEAD},tip,machine\n2026-01-05,3.4,8.1,bent,theatre 2\n{row}\n")
    assert [(one.line, one.because) for one in found.set_aside] == [(3, because)]
    assert len(found.cases) == 1


def test_a_file_without_the_column_is_of_one_tip_throughout() -> None:
    assert len(log(f"{HEAD}\n2026-01-12,3.4,8.1\n2026-01-13,3.4,8.1\n").cases) == 2


@given(
    st.lists(
        st.tuples(st.floats(-1.0, 9.0), st.floats(-5.0, 2000.0), st.sampled_from(["bent", "x"])),
        max_size=8,
        unique=True,
    )
)
def test_every_row_is_used_or_set_aside(rows: list[tuple[float, float, str]]) -> None:
    lines = [f"2026-01-12,{colour:.6f},{energy:.6f},{tip}" for colour, energy, tip in rows]
    found = log("\n".join([f"{HEAD},tip", *lines]))
    assert len(found.cases) + len(found.set_aside) == len(rows)
    for one in found.cases:
        assert 0.1 <= one.nuclear_colour <= 6.9
        assert 0.01 <= one.energy <= 1000
