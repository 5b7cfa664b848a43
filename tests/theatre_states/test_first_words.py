"""First words: one set for every trigger, stage and thing in the eye, short and never misheard."""

from __future__ import annotations

import re

import pytest

from zonule.errors import NoSuchName
from zonule.library.reading import table
from zonule.plan.states.tables import tables
from zonule.plan.states.triggers import first_words, hands_for, trigger_links, usual_words

META = table("theatre/first_words")["meta"]
ROWS = table("theatre/first_words")["first_words"]
WHERE = [
    (trigger, stage, hands)
    for trigger, link in trigger_links().items()
    for stage in link.stages
    for hands in hands_for(trigger, stage)
]
every_set = pytest.mark.parametrize(
    "row", ROWS, ids=lambda row: "-".join((row["trigger"], *row["hands"], *row.get("stages", ())))
)


def test_there_are_473_moments_and_each_has_exactly_one_set() -> None:
    assert len(WHERE) == len(set(WHERE)) == 473
    for trigger, stage, hands in WHERE:
        assert first_words(trigger, stage, hands).say  # more than one set, or none, is a fault


def test_no_set_is_for_a_moment_that_cannot_be() -> None:
    used = set()
    for trigger, stage, hands in WHERE:
        for at, row in enumerate(ROWS):
            here = row.get("stages", [stage])
            if row["trigger"] == trigger and hands in row["hands"] and stage in here:
                used.add((at, hands))
    assert used == {(at, hands) for at, row in enumerate(ROWS) for hands in row["hands"]}


@every_set
def test_a_set_is_short_enough_to_be_heard(row: dict[str, list[str]]) -> None:
    words = [sentence.split() for sentence in row["say"]]
    assert 1 <= len(words) <= META["most_sentences"] == 7
    assert sum(map(len, words)) <= META["most_words"] == 36
    assert max(map(len, words)) <= META["most_words_a_sentence"] == 12
    assert all(sentence.endswith((".", "?")) for sentence in row["say"])


@every_set
def test_a_set_has_no_word_that_is_misheard_and_names_no_lens_power(
    row: dict[str, list[str]],
) -> None:
    said = " ".join(row["say"]).lower()
    assert [stem for stem in META["never_stems"] if re.search(rf"\b{stem}", said)] == []


@every_set
def test_the_foot_comes_first_where_a_pedal_counts_and_nowhere_else(
    row: dict[str, list[str]],
) -> None:
    with_pedal = [one for one in row["hands"] if one in META["foot_first"]]
    assert bool(with_pedal) == row["say"][0].startswith("Foot ")
    if not with_pedal:
        assert not any("foot" in sentence.lower() for sentence in row["say"])


@every_set
def test_nothing_comes_out_on_a_soft_chamber(row: dict[str, list[str]]) -> None:
    """With a handpiece in the eye, viscoelastic first: a chamber that falls tears further."""
    if "handpiece" not in row["hands"] or row["trigger"] in META["out_before_viscoelastic"]:
        return
    text = " ".join(row["say"]).lower()
    out = re.search(r"\bout\b", text)
    filled = re.search(r"\b(?:dispersive|viscoelastic|cohesive)\b", text)
    assert out is None or (filled is not None and filled.start() < out.start())


def test_the_foot_of_a_pedal_is_marked_as_such() -> None:
    pedals = {key for key, row in table("theatre/inputs")["hands"].items() if row["foot"]}
    assert pedals == set(META["foot_first"])
    assert set(tables().hands) >= pedals


@pytest.mark.parametrize("trigger", trigger_links())
def test_what_is_usual_for_a_trigger_can_be(trigger: str) -> None:
    link = trigger_links()[trigger]
    assert link.usual_hands in hands_for(trigger, link.usual_stage)
    assert usual_words(trigger).say


@pytest.mark.parametrize(
    ("trigger", "stage", "hands", "says"),
    [
        ("TR-99", "nucleus", "handpiece", "trigger"),
        ("TR-13", "iol", "handpiece", "nucleus"),
        ("TR-13", "nucleus", "injector", "handpiece"),
        ("TR-13", "lunch", "handpiece", "before_cut"),
    ],
)
def test_a_moment_that_cannot_be_is_refused(
    trigger: str, stage: str, hands: str, says: str
) -> None:
    with pytest.raises(NoSuchName, match=says):
        first_words(trigger, stage, hands)
