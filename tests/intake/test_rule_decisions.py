"""What a department decides about rules, and what can be wrong with a decision."""

from __future__ import annotations

import pytest

from intake.department import line_of, only


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            'rule = "L-01"',
            'rule = "L01"',
            "Rule L01: is not a rule. Did you mean L-01?",
        ),
        (
            'rule = "L-01"',
            'rule = "rhexis"',
            "Rule rhexis: is not a rule. Type the id of a rule, such as T-01.",
        ),
        (
            'rule = "L-01"',
            "rule = L-01",
            'Rule L-01: text stands in quotation marks. Put it between plain ".',
        ),
        (
            'decision = "accepted"',
            'decision = "accept"',
            "Decision accept: must be one of accepted, changed, switched_off. "
            "Did you mean accepted?",
        ),
        (
            'decision = "accepted"',
            'decision = "changed"',
            "Decision changed: needs the department's own words. "
            "Add title = … or do = [ … ], or choose another decision.",
        ),
        (
            'decision = "accepted"',
            'decision = "changed"\ndo = []',
            "Decision changed: needs the department's own words. "
            "Add title = … or do = [ … ], or choose another decision.",
        ),
        (
            'decision = "accepted"',
            'decision = "changed"\ntitle = ""',
            "Own wording of the rule: must not be empty. Type it, or leave the line out.",
        ),
        (
            'decision = "accepted"',
            'decision = "changed"\ntitle = Own words',
            "Own wording of the rule Own words: text stands in quotation marks. "
            'Put it between plain ".',
        ),
        (
            'decision = "accepted"',
            'decision = "changed"\ndo = "Own words."',
            "What is done instead Own words.: must be a list of texts in quotes. "
            'Write it as a list, ["first", "second"].',
        ),
        (
            'decision = "accepted"',
            'decision = "accepted"\ntitle = "Own words"',
            "Own wording of the rule: stands only with decision changed, and this one is "
            'accepted. Take title out, or write decision = "changed".',
        ),
        (
            'decision = "accepted"',
            'decision = "switched_off"\ndo = ["Own words."]',
            "What is done instead: stands only with decision changed, and this one is "
            'switched_off. Take do out, or write decision = "changed".',
        ),
        (
            'reason = "As we do it"',
            'reason = "unknown"',
            "Reason for the decision unknown: must be known here. "
            "Type it; this key takes no word for not known.",
        ),
    ],
)
def test_each_fault_of_a_decision_is_told_in_one_sentence(
    old: str, new: str, sentence: str
) -> None:
    problem = only(old, new)
    assert problem.sentence() == sentence
    assert problem.field.startswith("rule_decision[2].")
    assert problem.line in (line_of(old), line_of(old) + 1)


@pytest.mark.parametrize(
    ("line", "label", "must"),
    [
        ('rule = "L-01"', "Rule", "text in quotes"),
        ('decision = "accepted"', "Decision", "one of accepted, changed, switched_off"),
        ("decided_on = 2026-05-13", "Decided on", "a plain date such as 2026-11-02"),
        ('reason = "As we do it"', "Reason for the decision", "text in quotes"),
    ],
)
def test_a_decision_is_whole(line: str, label: str, must: str) -> None:
    key = line.partition(" ")[0]
    problem = only(line, "")
    assert problem.sentence() == (
        f"{label}: is needed, and must be {must}. Add {key} = … under [rule_decision]."
    )
    assert problem.field == f"rule_decision[2].{key}"


def test_a_decision_says_who_decided() -> None:
    problem = only('decided_by = "A. Lead"\n', "")
    assert problem.sentence() == (
        "Decided by: is needed, and must be text in quotes. "
        "Add decided_by = … under [rule_decision]."
    )
