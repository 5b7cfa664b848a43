"""The page of a plan: it fits every width, every terminal, and says nothing of the other eye."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from rich.console import Console

from plan.cases import NAMES, case, example, planned, practice, rung, with_eye
from report.pages import NUMBER, SHARE, flowing, page
from zonule.findings.checks import check_case
from zonule.plan.records import Plan
from zonule.report.terminal.check_page import write_checks
from zonule.report.terminal.plan_page import write_plan
from zonule.report.terminal.why_page import write_why
from zonule.report.why.paths import explanations
from zonule.report.words import dioptres

WIDTHS = (40, 60, 80, 120)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_no_line_is_longer_than_the_terminal(name: str, width: int) -> None:
    lines = page(example(name), width=width).splitlines()
    assert len(lines) > 30
    assert max(len(line) for line in lines) <= width


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_every_width_says_the_same_figures(name: str, width: int) -> None:
    wide, here = page(example(name), width=100), page(example(name), width=width)
    assert sorted(set(NUMBER.findall(flowing(here)))) == sorted(set(NUMBER.findall(flowing(wide))))
    for one in example(name).rungs:
        if one.chosen is not None:
            assert dioptres(one.chosen.power_d) in flowing(here)


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
@pytest.mark.parametrize("name", NAMES)
def test_a_plain_terminal_loses_no_sign(name: str, encoding: str) -> None:
    true, poor = flowing(page(example(name))), flowing(page(example(name), encoding=encoding))
    assert poor.count("?") == true.count("?"), "questions are asked, signs are not lost"
    wanted = [one.replace("−", "-") for one in NUMBER.findall(true)]
    found = re.findall(r"(?<![±\d/])(?<!\+/)[+-]\d+\.\d+", poor)
    assert len(wanted) > 15
    assert sorted(set(found)) == sorted(set(wanted))


@pytest.mark.parametrize("width", WIDTHS)
def test_a_plain_terminal_keeps_the_width(width: int) -> None:
    lines = page(example("hard-second-eye"), width=width, encoding="ascii").splitlines()
    assert max(len(line) for line in lines) <= width


COLOUR = re.compile(r"\x1b\[[0-9;]*\b(3[0-8]|4[0-8]|9[0-7])\b[0-9;]*m")


def _console(**how: bool) -> str:
    stream = io.StringIO()
    write_plan(example("plain-eye"), Console(file=stream, width=80, **how))  # type: ignore[arg-type]
    return stream.getvalue()


def test_styles_are_for_terminals_that_want_them(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR", "TERM", "COLORTERM"):
        monkeypatch.delenv(name, raising=False)
    assert "\x1b" not in _console()
    monkeypatch.setenv("TERM", "xterm-256color")
    assert "\x1b[1m" in _console(force_terminal=True), "the guard must have something to find"
    monkeypatch.setenv("NO_COLOR", "1")
    assert not COLOUR.search(_console(force_terminal=True))
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert "\x1b" not in _console(force_terminal=True)


POWER = re.compile(r"[+−]\d+\.\d\d(?= D)")


@pytest.mark.parametrize("name", NAMES)
def test_a_page_begins_with_the_side_and_ends_with_the_caution(name: str) -> None:
    text = page(example(name))
    assert text.splitlines()[0].startswith(f"{case(name).eye_to_do.capitalize()} eye · ")
    assert "does not replace the judgement of a licensed surgeon" in flowing(text)


def test_no_power_for_the_other_eye_is_on_the_page() -> None:
    whole = case("plain-eye")
    other = whole.fellow_eye
    long = tuple(
        replace(one, axial_length_mm=24.6, k_flat_d=43.4, k_steep_d=44.05) for one in other.biometry
    )
    both = with_eye(whole, replace(other, biometry=long))
    mine, theirs = planned(both), planned(replace(both, eye_to_do=other.side))
    assert theirs.in_hand is not None
    assert theirs.in_hand.chosen is not None
    own = {one.chosen.power_d for one in mine.rungs if one.chosen}
    own |= {row.power_d for row in mine.ladder}
    others = {one.chosen.power_d for one in theirs.rungs if one.chosen} - own
    assert others
    shown = set(POWER.findall(page(mine)))
    assert not shown & {dioptres(power).removesuffix(" D") for power in others}
    powers = {dioptres(power).removesuffix(" D") for power in own}
    assert powers <= shown


def _explained(plan: Plan) -> str:
    told = [explain() for explain in explanations(plan).values()]
    return " ".join(" ".join((one.title, one.value, *one.caveats)) for one in told)


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_on_the_page_has_an_explanation_that_shows_it(name: str) -> None:
    plan = example(name)
    text, explained = flowing(page(plan)), _explained(plan)
    figures = set(NUMBER.findall(text)) | set(SHARE.findall(text))
    assert len(figures) > 20
    assert {one for one in figures if one not in explained} == set()


@pytest.mark.parametrize("width", WIDTHS)
def test_every_explanation_fits_its_page(width: int) -> None:
    for explain in list(explanations(example("hard-second-eye")).values())[::9]:
        stream = io.StringIO()
        write_why(explain(), Console(file=stream, width=width))
        assert max(len(line) for line in stream.getvalue().splitlines()) <= width


def test_what_is_closed_is_said_once_with_its_reason() -> None:
    plan = example("hard-second-eye")
    text = flowing(page(plan))
    closed = text[text.index("Not for this eye") : text.index("Expected after surgery")]
    for one in plan.rungs:
        if not one.offered:
            assert one.place.label in closed
            assert (one.refused_because or one.waits_for) in closed
    assert closed.count("not in your repertoire") == 1


def test_the_backups_stand_in_order() -> None:
    plan = example("hard-second-eye")
    text = page(plan, width=120)
    heads = [f"  ● {rung(plan, 'bag').place.label} · intended"]
    heads += [f"{one.order:>3} {one.place.label}" for one in plan.rungs if one.order > 0]
    places = [text.index(head) for head in heads]
    assert len(places) >= 9
    assert places == sorted(places)


def test_checks_are_written_loudest_first_or_said_to_be_none() -> None:
    stream = io.StringIO()
    write_checks((), "a.toml", Console(file=stream, width=60))
    assert flowing(stream.getvalue()) == (
        "a.toml: every figure can be used, and nothing asks for a second look."
    )
    stream = io.StringIO()
    problems = check_case(case("half-missing"), on=None)
    assert problems
    write_checks(problems, "a.toml", Console(file=stream, width=60))
    text = flowing(stream.getvalue())
    at = [text.index(problem.sentence()) for problem in problems]
    assert at == sorted(at)


def test_the_preferred_lens_is_named_beside_its_power() -> None:
    assert practice().preferred_lens in flowing(page(example("plain-eye")))
