"""What the plan page says: every number with its why, nothing lost, nothing said twice."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

import pytest

from plan.cases import NAMES, TODAY, case, example, planned, practice, told, with_eye
from zonule.findings.answers import Unknown
from zonule.findings.records import Eye
from zonule.pathway.plan_an_eye import plan_an_eye
from zonule.pathway.show_a_plan import plan_view_of
from zonule.plan.records import Plan
from zonule.plan.wish import Wish
from zonule.report import sentences
from zonule.report.plan_view.phrases import as_text
from zonule.report.plan_view.records import PlanView, Shown
from zonule.report.why.paths import explanations
from zonule.report.words import dioptres

EVERY = pytest.mark.parametrize("name", NAMES)
SPOKEN = re.compile(r"[+−]\d+\.\d+|\d+ come|\d+ of 100")
SIGNED = re.compile(r"(?<![±\d])[+−]\d+\.\d+|\d+ of 100")


@cache
def view(name: str) -> PlanView:
    return plan_view_of(example(name))


def parts(value: Any) -> Iterator[Any]:
    """Walk everything a page says."""
    yield value
    if is_dataclass(value):
        for field in fields(value):
            yield from parts(getattr(value, field.name))
    elif isinstance(value, tuple):
        for one in value:
            yield from parts(one)


def shown(value: Any) -> list[Shown]:
    return [one for one in parts(value) if isinstance(one, Shown)]


def without_a_reason(*phrases: tuple[Shown, ...]) -> list[str]:
    """Return the numbers of sentences that lead to no why."""
    pieces = [one.text for phrase in phrases for one in phrase if not one.why]
    return [number for text in pieces for number in SIGNED.findall(text)]


def wished(name: str, **asked: Any) -> Plan:
    return plan_an_eye(case(name), practice(), today=TODAY, wish=Wish(**asked))


def without_a_length() -> Plan:
    whole = case("hard-second-eye")
    eye = whole.operative_eye
    sitting = replace(eye.biometry[0], axial_length_mm=Unknown.NOT_RECORDED)
    return planned(with_eye(whole, replace(eye, biometry=(sitting,))))


def bare() -> Plan:
    whole = case("plain-eye")
    return planned(with_eye(whole, Eye(side=whole.eye_to_do, lens_status="phakic")))


# ---------------------------------------------------------------- every number has its why


@EVERY
def test_every_path_of_a_page_has_its_explanation(name: str) -> None:
    paths = {one.why for one in shown(view(name)) if one.why}
    paths |= {one.why for one in view(name).before}
    assert len(paths) > 20
    assert paths <= explanations(example(name)).keys()


@EVERY
def test_every_number_of_a_place_leads_to_its_why(name: str) -> None:
    for one in (*view(name).rungs, *view(name).rare):
        numbers = (one.likelihood, one.power, one.expected, one.nine_in_ten, one.within, one.wound)
        assert all(number.why for number in numbers if number is not None), one.name
        ring = [note for note in one.notes if "tension ring" in as_text(note)]
        assert without_a_reason(*(note for note in one.notes if note not in ring)) == []


@EVERY
def test_every_number_of_the_table_and_the_sentences_leads_to_its_why(name: str) -> None:
    page = view(name)
    assert page.expected is not None
    for row in page.expected.rows:
        assert all(one.why for one in shown(row))
    assert without_a_reason(page.expected.notes[0], *page.first_eye, page.surer) == []
    assert without_a_reason(page.shares[1]) == []
    assert page.header.aim.why == "eye.aim_d"
    spoken = [one for one in page.to_say if SPOKEN.search(as_text(one))]
    assert all(any(piece.why for piece in one) for one in spoken)


def test_a_number_that_is_not_in_its_sentence_is_a_fault_not_a_silence() -> None:
    from zonule.report.plan_view.phrases import phrase  # noqa: PLC0415

    with pytest.raises(ValueError, match="not found"):
        phrase("Aim −0.25 D.", ("−0.50 D", "eye.aim_d"))


# ---------------------------------------------------------------- the places


@EVERY
def test_the_places_stand_in_order_and_none_is_lost(name: str) -> None:
    page, plan = view(name), example(name)
    orders = [one.order for one in page.rungs]
    assert orders == sorted(orders)
    offered = [rung.place.key for rung in plan.rungs if rung.offered]
    assert sorted(one.key for one in (*page.rungs, *page.rare)) == sorted(offered)
    closed = [rung.place.label for rung in plan.rungs if not rung.offered]
    refused = [one.text for refusal in page.refused for one in refusal.places]
    assert set(closed) <= set(refused)
    assert page.rungs[0].order_says == "intended"


@EVERY
def test_rare_places_are_those_below_one_of_100(name: str) -> None:
    plan = example(name)
    for one in view(name).rare:
        rung = plan.rung(one.key)
        assert rung is not None
        assert rung.likelihood is not None
        assert rung.likelihood < 0.01
    for one in view(name).rungs:
        rung = plan.rung(one.key)
        assert rung is not None
        assert rung.order == 0 or rung.likelihood is None or rung.likelihood >= 0.01


def test_the_place_in_hand_stands_at_length_however_rare() -> None:
    key = "scleral:intrascleral_2_0_mm"
    page = plan_view_of(wished("hard-second-eye", hand=key))
    assert [one.key for one in page.rungs if one.in_hand] == [key]
    assert key not in {one.key for one in page.rare}
    assert page.expected is not None
    assert page.expected.heading.endswith("haptics 2.0 mm behind the limbus")


@EVERY
def test_the_powers_are_those_of_the_plan(name: str) -> None:
    plan = example(name)
    for one in (*view(name).rungs, *view(name).rare):
        rung = plan.rung(one.key)
        assert rung is not None
        if rung.chosen is None:
            assert one.power is None
            assert one.figure == ""
            continue
        assert rung.lens is not None
        assert one.power is not None
        assert one.power.text == dioptres(rung.chosen.power_d)
        assert one.lens == rung.lens.name
        assert one.figure.startswith("<svg")


def test_all_small_bands_share_one_axis() -> None:
    aims = set()
    for one in view("hard-second-eye").rungs:
        aims.add(re.findall(r'<rect x="([\d.]+)"', one.figure)[0])
    assert len(aims) == 1


# ---------------------------------------------------------------- expected after surgery


@EVERY
def test_the_table_has_the_rows_of_the_picture_and_one_is_chosen(name: str) -> None:
    plan, told_of = example(name), view(name).expected
    assert told_of is not None
    assert [row.power_d for row in told_of.rows] == [row.power_d for row in plan.ladder]
    assert sum(row.chosen for row in told_of.rows) == 1
    for figure in (told_of.figure, told_of.narrow_figure):
        for row in told_of.rows:
            assert row.power.text.removesuffix(" D") in figure
            assert row.within.text in figure


def test_a_power_taken_in_the_table_leaves_the_table_open() -> None:
    page = plan_view_of(wished("hard-second-eye", power_d=21.0))
    assert page.expected is not None
    assert page.expected.table_open
    assert [row.power.text for row in page.expected.rows if row.chosen] == ["+21.00 D"]
    assert page.header.differs == "differs from the files: power +21.00 D (In the bag)"
    assert view("hard-second-eye").header.differs == ""


def test_a_backup_that_looks_surer_is_explained() -> None:
    surer = [plan_view_of(wished("hard-second-eye", power_d=power)).surer for power in (21.0, 21.5)]
    said = [as_text(one) for one in surer if one]
    assert said
    assert all("It is not" in one for one in said)


# ---------------------------------------------------------------- no power is shown


def test_why_no_power_is_shown_is_said_once() -> None:
    page = plan_view_of(without_a_length())
    assert page.withheld_heading == "No lens power is shown."
    assert page.withheld == "Waits for axial length"
    assert page.expected is None
    assert not page.plain
    notes = [as_text(note) for one in page.rungs for note in one.notes]
    assert all("axial length" not in note for note in notes if "reason above" in note)
    assert page.first_eye_heading.endswith("while no power is shown")


def test_an_eye_of_which_nothing_is_known_is_not_plain() -> None:
    page = plan_view_of(bare())
    assert not page.plain
    assert "nothing out of the ordinary" not in page.steps_heading
    assert "wait for what is outstanding" in page.steps_note
    assert page.withheld


def test_only_the_plain_eye_is_plain() -> None:
    assert [name for name in NAMES if view(name).plain] == ["plain-eye"]
    assert view("plain-eye").steps_heading.endswith("nothing out of the ordinary")


# ---------------------------------------------------------------- what it says beside the powers


@EVERY
def test_every_rule_that_fires_stands_on_the_page_once(name: str) -> None:
    page = view(name)
    by_step = [one.id for step in page.steps for one in step.rules]
    before = [one.id for one in page.before]
    given = [one.conflict.gives_way for one in example(name).parts.conflicts]
    firing = [one.rule.id for one in example(name).parts.firing() if one.rule.id not in given]
    assert sorted(by_step + before) == sorted(firing)


def test_a_rule_that_gives_way_says_so() -> None:
    (one,) = [one for one in view("hard-second-eye").conflicts if one.meanwhile]
    assert "F-06" in one.meanwhile
    assert [rule.why for rule in one.rules] == ["rules.T-13", "rules.F-06"]


@EVERY
def test_what_differs_stands_out(name: str) -> None:
    page = view(name)
    rules = [one for step in page.steps for one in step.rules] + list(page.before)
    bold = {one.title for one in rules if one.stands_out}
    assert bold == set(example(name).parts.different)


@EVERY
def test_everything_in_the_room_to_fetch_or_to_order_is_there_once(name: str) -> None:
    counted = [line.count.why for group in view(name).tray for line in group.lines]
    assert sorted(counted) == sorted(f"tray.{one.key}" for one in example(name).parts.tray)


def test_a_lens_says_which_places_it_is_for() -> None:
    lines = [line for group in view("hard-second-eye").tray for line in group.lines]
    first = next(line for line in lines if line.count.text == "+20.50 D ×2")
    assert first.note == "for intended, backups 1, 2, 4, 6 and 7"


def test_a_drug_without_a_card_says_so_and_shows_no_strength() -> None:
    lines = [line for group in view("hard-second-eye").tray for line in group.lines]
    acts = {line.label: line.act for line in lines if line.act}
    assert acts == {"Intracameral miotic": "strength: no recipe card"}


def test_too_few_in_the_store_is_said() -> None:
    lines = [line for group in view("long-eye-after-vitrectomy").tray for line in group.lines]
    assert [line.act for line in lines if line.note.startswith("for intended")] == [
        "too few in the store"
    ]


@EVERY
def test_the_first_eye_is_told_in_the_words_of_the_sentences(name: str) -> None:
    said = tuple(as_text(one) for one in view(name).first_eye)
    assert said == sentences.first_eye_lines(example(name))
    assert bool(view(name).first_eye_heading) is (example(name).first_eye is not None)


def test_the_heading_of_the_first_eye_is_a_finding() -> None:
    heading = view("hard-second-eye").first_eye_heading
    assert heading == "What the first eye taught: nothing to carry over"


def test_what_people_settled_says_who_when_and_why() -> None:
    settled = view("hard-second-eye").settled
    assert settled.heading == "Rules as settled here: 1 set aside, 1 changed, 1 accepted"
    aside = settled.pairs[0]
    assert aside.name.text.endswith("(D-25)")
    assert aside.says.startswith("Set aside for this eye:")
    assert re.search(r"\d{4}: ", aside.says)


def test_a_dense_nucleus_has_its_backups_and_a_soft_one_has_none() -> None:
    assert view("hard-second-eye").nucleus.heading.startswith("If the nucleus will not come: ")
    assert len(view("hard-second-eye").nucleus.pairs) == 3
    assert view("plain-eye").nucleus.pairs == ()


@EVERY
def test_no_heading_is_empty_or_unfinished(name: str) -> None:
    page = view(name)
    cards = (page.outstanding, page.machine, page.anaesthesia)
    headings = [page.steps_heading, page.tray_heading, *(card.heading for card in cards)]
    for card in (page.nucleus, page.triggers, page.settled):
        headings += [card.heading] if card.pairs else []
    assert all(one and not one.rstrip().endswith((":", ",")) for one in headings)


def test_an_allergy_and_a_silence_about_allergies_stand_out() -> None:
    assert view("half-missing").header.allergies == "allergies not recorded"
    assert view("half-missing").header.allergic
    assert view("aphakic-eye").header.allergic
    assert not view("plain-eye").header.allergic


def test_what_holds_up_the_first_cut_interrupts() -> None:
    (one,) = view("half-missing").interruptions
    assert (one.word, one.holds_up) == ("Stop", "Holds up the first cut.")
    assert all(view(name).interruptions == () for name in NAMES if name != "half-missing")


def test_a_lens_whose_name_looks_like_a_number_breaks_nothing() -> None:
    lens = replace(practice().lenses[0], name="+9.99 lens")
    store = replace(practice(), lenses=(lens, *practice().lenses[1:]), preferred_lens=lens.name)
    page = plan_view_of(planned(case("hard-second-eye"), store))
    assert page.expected is not None
    assert "+9.99 lens" in page.expected.read_back


def test_a_finding_that_is_not_known_never_reads_as_absent() -> None:
    whole = case("plain-eye")
    silent = planned(with_eye(whole, told(whole.operative_eye, phacodonesis=None, pxf=None)))
    page = plan_view_of(silent)
    assert not page.plain
    names = [one.name.text for one in page.outstanding.pairs]
    assert any("not recorded" in one for one in names)
