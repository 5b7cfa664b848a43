"""What surgeon and department settle in a practice file, and what can be wrong with it."""

from datetime import date

import pytest

from intake.department import faults, line_of, only, read
from intake.sample_cases import DEPARTMENT, PRACTICE
from zonule.errors import BadInput
from zonule.library.tray import items
from zonule.practice.department import Habits, KeptDevice, RecipeCard, RuleDecision


def test_habits_are_read() -> None:
    assert read(DEPARTMENT).habits == Habits(
        main_wound_site="temporal",
        main_wound_mm=2.4,
        anaesthesia="sub_tenons",
        nucleus_routes=("chop", "larger_wound"),
    )


def test_what_is_kept_is_read() -> None:
    assert read(DEPARTMENT).kept == {
        "iris_hooks": KeptDevice("iris_hooks", "in_room", quantity=10),
        "tension_segment": KeptDevice("tension_segment", "to_fetch", shelf="store 2"),
        "trypan_blue": KeptDevice("trypan_blue", "to_order", quantity=0),
    }


def test_recipe_cards_are_read() -> None:
    assert read(DEPARTMENT).recipe_cards == {
        "trypan_blue": RecipeCard(
            "trypan_blue", "ready-made, as labelled", "card 3", "A. Pharmacist", date(2026, 4, 1)
        ),
        "miotic": RecipeCard(
            "miotic", "from the sealed box", "card 4", "A. Pharmacist", date(2026, 4, 2)
        ),
    }


def test_every_decision_is_kept_in_the_order_of_the_file() -> None:
    assert read(DEPARTMENT).rule_decisions == (
        RuleDecision("T-04", "switched_off", "A. Lead", date(2026, 5, 11), "To be talked over"),
        RuleDecision(
            "T-04",
            "changed",
            "A. Lead",
            date(2026, 5, 12),
            "Talked over",
            title="Rhexis of 5.0 mm",
            do=("Mark it first.", "Then tear."),
        ),
        RuleDecision("L-01", "accepted", "A. Lead", date(2026, 5, 13), "As we do it"),
    )


@pytest.mark.parametrize(
    "line", ['title = "Rhexis of 5.0 mm"\n', 'do = ["Mark it first.", "Then tear."]\n']
)
def test_a_changed_rule_needs_one_of_its_own_words(line: str) -> None:
    (changed,) = (
        one
        for one in read(DEPARTMENT.replace(line, "")).rule_decisions
        if one.decision == "changed"
    )
    assert bool(changed.title) != bool(changed.do)


def test_a_practice_without_any_of_it_reads_as_before() -> None:
    practice = read(PRACTICE)
    assert practice.habits == Habits()
    assert (practice.kept, practice.recipe_cards, practice.rule_decisions) == ({}, {}, ())


@pytest.mark.parametrize("key", items())
def test_every_item_can_be_kept_and_only_drugs_and_dyes_have_a_card(key: str) -> None:
    kept = DEPARTMENT.replace("iris_hooks = {", f"{key} = {{", 1)
    if key not in ("tension_segment", "trypan_blue"):
        assert read(kept).kept[key].quantity == 10
    card = DEPARTMENT.replace('item = "miotic"', f'item = "{key}"')
    if items()[key].kind in ("drug", "dye") and key != "trypan_blue":
        assert read(card).recipe_cards[key].card == "card 4"
    else:
        with pytest.raises(BadInput):
            read(card)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            '"temporal"',
            '"nasal"',
            "Site of the main wound nasal: must be one of temporal, superior. Choose one of these.",
        ),
        (
            "main_wound_mm = 2.4",
            "main_wound_mm = 24",
            "Main wound 24 mm: must be 1.6 to 7 mm. Check the decimal point: 2.4?",
        ),
        (
            "main_wound_mm = 2.4",
            "main_wound_mm = 2,4",
            "Main wound 2,4: a number takes a point, not a comma. "
            "Type a point instead of the comma.",
        ),
        (
            '"sub_tenons"',
            '"block"',
            "Anaesthesia block: must be one of topical, topical_intracameral, sub_tenons, "
            "sharp_needle_block, general. Choose one of these.",
        ),
        (
            '["chop", "larger_wound"]',
            '["chopp"]',
            "Ways to bring the nucleus out chopp: must be a list of chop, assisted_splitting, "
            "larger_wound. 'chopp': Did you mean chop?",
        ),
        (
            '["chop", "larger_wound"]',
            '["chop", "chop"]',
            "Ways to bring the nucleus out chop, chop: must name each item once. "
            "Take the second mention out.",
        ),
        (
            "main_wound_mm = 2.4",
            "wound_mm = 2.4",
            "Key wound_mm: is not known here. Did you mean main_wound_mm?",
        ),
        (
            "main_wound_mm = 2.4",
            "main_wound_mm = 2.4\nshelf = 'a'",
            "Key shelf: is not known here. It belongs in the kept section.",
        ),
    ],
)
def test_each_fault_of_the_habits_is_told_in_one_sentence(
    old: str, new: str, sentence: str
) -> None:
    problem = only(old, new)
    assert problem.sentence() == sentence
    assert problem.line in (line_of(old), line_of(old) + 1)


HOOKS = 'iris_hooks = { kept = "in_room", quantity = 10 }'


@pytest.mark.parametrize(
    ("new", "field", "sentence"),
    [
        (
            'iris_hoops = { kept = "in_room" }',
            "kept.iris_hoops",
            "Item iris_hoops: is not in the table of items. Did you mean iris_hooks?",
        ),
        (
            'sealant = { kept = "in_room" }',
            "kept.sealant",
            "Item sealant: is not in the table of items. "
            "The page on the practice file lists the items.",
        ),
        (
            "iris_hooks = { quantity = 10 }",
            "kept.iris_hooks.kept",
            "Where it is kept: is needed, and must be one of in_room, to_fetch, to_order. "
            "Add kept = … under [kept.iris_hooks].",
        ),
        (
            'iris_hooks = { kept = "room" }',
            "kept.iris_hooks.kept",
            "Where it is kept room: must be one of in_room, to_fetch, to_order. "
            "Did you mean in_room?",
        ),
        (
            'iris_hooks = { kept = "in_room", quantity = 2.5 }',
            "kept.iris_hooks.quantity",
            "Pieces kept 2.5: must be a whole number, 0 to 1000. Type a whole number.",
        ),
        (
            'iris_hooks = { kept = "in_room", quantity = -1 }',
            "kept.iris_hooks.quantity",
            "Pieces kept −1: must be a whole number, 0 to 1000. Check the sign.",
        ),
        (
            'iris_hooks = { kept = "to_fetch", shelf = 4 }',
            "kept.iris_hooks.shelf",
            "Shelf 4: must be text in quotes. Put it in quotation marks.",
        ),
        (
            'iris_hooks = { kept = "to_fetch", shelf = "unknown" }',
            "kept.iris_hooks.shelf",
            "Shelf unknown: must be known here. Type it; this key takes no word for not known.",
        ),
        (
            'iris_hooks = { kept = "in_room", pieces = 3 }',
            "kept.iris_hooks.pieces",
            "Key pieces: is not known here. "
            "Take it out; the table of keys lists what can stand here.",
        ),
        (
            "iris_hooks = 10",
            "kept.iris_hooks",
            "Iris hooks: must be one section. Write [kept.iris_hooks] once, and its keys below.",
        ),
    ],
)
def test_each_fault_of_what_is_kept_is_told_in_one_sentence(
    new: str, field: str, sentence: str
) -> None:
    problem = only(HOOKS, new)
    assert problem.sentence() == sentence
    assert (problem.field, problem.line) == (field, line_of(HOOKS))


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            'item = "miotic"',
            'item = "miotik"',
            "Item of the card miotik: is not in the table of items. Did you mean miotic?",
        ),
        (
            'item = "miotic"',
            'item = "iris_hooks"',
            "Item of the card iris_hooks: is of the kind device, and takes no recipe card. "
            "Take the card out; only drugs and dyes have one.",
        ),
        (
            'item = "miotic"',
            'item = "viscoelastic_cohesive"',
            "Item of the card viscoelastic_cohesive: is of the kind viscoelastic, and takes no "
            "recipe card. Take the card out; only drugs and dyes have one.",
        ),
        (
            'item = "miotic"',
            'item = "trypan_blue"',
            "Item of the card trypan_blue: has two cards. Keep the one that holds.",
        ),
        (
            'strength = "from the sealed box"',
            'strength = ""',
            "Strength: must not be empty. Type it, or leave the line out.",
        ),
        (
            'strength = "from the sealed box"',
            "strength = 3",
            "Strength 3: must be text in quotes. Put it in quotation marks.",
        ),
        (
            'strength = "from the sealed box"',
            'strength = "unknown"',
            "Strength unknown: must be known here. Type it; this key takes no word for not known.",
        ),
        (
            "approved_on = 2026-04-02",
            'approved_on = "2026-04-02"',
            "Card approved on 2026-04-02: must be a plain date such as 2026-11-02. "
            "Type year-month-day without quotation marks or time.",
        ),
        (
            "approved_on = 2026-04-02",
            "approved_on = 2026-04-02\ndilution = 'x'",
            "Key dilution: is not known here. "
            "Take it out; the table of keys lists what can stand here.",
        ),
    ],
)
def test_each_fault_of_a_recipe_card_is_told_in_one_sentence(
    old: str, new: str, sentence: str
) -> None:
    problem = only(old, new)
    assert problem.sentence() == sentence
    assert problem.field.startswith("recipe_card[1].")
    assert problem.line in (line_of(old), line_of(old) + 1)


@pytest.mark.parametrize(
    ("line", "label", "must"),
    [
        ('item = "miotic"', "Item of the card", "text in quotes"),
        ('strength = "from the sealed box"', "Strength", "text in quotes"),
        ('card = "card 4"', "Card", "text in quotes"),
        ("approved_on = 2026-04-02", "Card approved on", "a plain date such as 2026-11-02"),
    ],
)
def test_a_recipe_card_is_whole(line: str, label: str, must: str) -> None:
    key = line.partition(" ")[0]
    problem = only(line, "")
    assert problem.sentence() == (
        f"{label}: is needed, and must be {must}. Add {key} = … under [recipe_card]."
    )
    assert problem.field == f"recipe_card[1].{key}"


def test_a_recipe_card_says_who_approved_it() -> None:
    problem = only('approved_by = "A. Pharmacist"\n', "")
    assert problem.sentence() == (
        "Card approved by: is needed, and must be text in quotes. "
        "Add approved_by = … under [recipe_card]."
    )


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            '[[recipe_card]]\nitem = "trypan_blue"',
            '[recipe_card]\nitem = "trypan_blue"',
            "Recipe card: must be a list of sections. Write [[recipe_card]], in double brackets.",
        ),
        (
            "[habits]",
            "[[habits]]",
            "Habits: must be one section. Write [habits] once, and its keys below.",
        ),
    ],
)
def test_brackets_are_told(old: str, new: str, sentence: str) -> None:
    assert sentence in [one.sentence() for one in faults(old, new)]


def test_every_fault_of_every_part_comes_at_once_in_file_order() -> None:
    text = (
        DEPARTMENT.replace('"temporal"', '"nasal"')
        .replace("iris_hooks", "iris_hoops")
        .replace('"miotic"', '"lens"')
        .replace('"L-01"', '"none"')
    )
    with pytest.raises(BadInput) as caught:
        read(text)
    assert [one.field for one in caught.value.problems] == [
        "habits.main_wound_site",
        "kept.iris_hoops",
        "recipe_card[1].item",
        "rule_decision[2].rule",
    ]
