"""Reads what surgeon and department settled: habits, items kept, recipe cards, rules."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from zonule.findings.fields import field, sections
from zonule.intake.gathering import Gathering, shown_raw
from zonule.intake.rule_names import tell_unknown_rule
from zonule.intake.values import nearest
from zonule.library.tray import items
from zonule.practice.department import Habits, KeptDevice, RecipeCard, RuleDecision

_OWN_WORDS = ("title", "do")


def read_department(gathering: Gathering, raw: Mapping[str, Any]) -> dict[str, Any]:
    """Return the fields of a practice that a department settles; whatever is wrong is told."""
    habits: dict[str, Any] = dict(
        gathering.answers(
            gathering.table(raw, "habits", "habits") or {}, section="habits", path="habits"
        )
    )
    return {
        "habits": Habits(**habits),
        "kept": MappingProxyType(_read_kept(gathering, gathering.table(raw, "kept", "kept") or {})),
        "recipe_cards": MappingProxyType(_read_cards(gathering, raw)),
        "rule_decisions": _read_decisions(gathering, raw),
    }


def _whole(found: Mapping[str, Any], section: str) -> bool:
    """Tell whether every needed key was read; one that was not has been told."""
    return all(
        key in found for key, asked in sections("practice")[section].items() if asked.required
    )


def _read_kept(gathering: Gathering, raw: Mapping[str, Any]) -> dict[str, KeptDevice]:
    read: dict[str, KeptDevice] = {}
    for item in raw:
        where = f"kept.{item}"
        if item not in items():
            gathering.tell(
                where,
                "Item",
                "is not in the table of items",
                _nearest_item(item, tuple(items())),
                check="unknown_key",
                value=shown_raw(item),
            )
            continue
        table = gathering.table(raw, item, where)
        if table is not raw[item]:
            continue  # no section, and told as such
        found: dict[str, Any] = dict(gathering.answers(table, section="kept", path=where))
        if _whole(found, "kept"):
            read[item] = KeptDevice(item=item, **found)
    return read


def _nearest_item(written: str, known: tuple[str, ...]) -> str:
    found = nearest(written, known)
    return found if found.startswith("Did") else "The page on the practice file lists the items."


def with_recipe_cards() -> tuple[str, ...]:
    """Return the items whose strength comes from a recipe card.

    Examples
    --------
    >>> "trypan_blue" in with_recipe_cards(), "iris_hooks" in with_recipe_cards()
    (True, False)
    """
    return tuple(key for key, item in items().items() if item.needs_card)


def _read_cards(gathering: Gathering, raw: Mapping[str, Any]) -> dict[str, RecipeCard]:
    read: dict[str, RecipeCard] = {}
    seen: set[str] = set()
    for place, table in enumerate(gathering.tables(raw, "recipe_card", "recipe_card")):
        path = f"recipe_card[{place}]"
        found: dict[str, Any] = dict(gathering.answers(table, section="recipe_card", path=path))
        item = found.get("item", "")
        _item_takes_a_card(gathering, item, f"{path}.item", twice=item in seen)
        seen.add(item)
        if _whole(found, "recipe_card"):
            read[item] = RecipeCard(**found)
    return read


def _item_takes_a_card(gathering: Gathering, item: str, path: str, *, twice: bool) -> None:
    if not item:
        return
    if item not in items():
        limit, check = "is not in the table of items", "wrong_value"
        remedy = _nearest_item(item, with_recipe_cards())
    elif item not in with_recipe_cards():
        limit, check = (
            f"is of the kind {items()[item].kind}, and takes no recipe card",
            "contradicts",
        )
        remedy = "Take the card out; only drugs and dyes have one."
    elif twice:
        limit, check = "has two cards", "set_twice"
        remedy = "Keep the one that holds."
    else:
        return
    label = field("recipe_card", "item", which="practice").label
    gathering.tell(path, label, limit, remedy, check=check, value=shown_raw(item))


def _read_decisions(gathering: Gathering, raw: Mapping[str, Any]) -> tuple[RuleDecision, ...]:
    label = field("rule_decision", "rule", which="practice").label
    read: list[RuleDecision] = []
    for place, table in enumerate(gathering.tables(raw, "rule_decision", "rule_decision")):
        path = f"rule_decision[{place}]"
        found: dict[str, Any] = dict(gathering.answers(table, section="rule_decision", path=path))
        tell_unknown_rule(gathering, found, f"{path}.rule", label=label, of_an_eye=False)
        _own_words_fit(gathering, table, found, path)
        if _whole(found, "rule_decision"):
            read.append(RuleDecision(**found))
    return tuple(read)


def _own_words_fit(
    gathering: Gathering, raw: Mapping[str, Any], found: Mapping[str, Any], path: str
) -> None:
    """Tell a changed rule without own words, and own words beside another decision."""
    decision = found.get("decision")
    if decision is None:
        return
    if decision == "changed":
        _own_words_needed(gathering, raw, path)
        return
    for key in _OWN_WORDS:
        if key in raw:
            gathering.tell(
                f"{path}.{key}",
                field("rule_decision", key, which="practice").label,
                f"stands only with decision changed, and this one is {decision}",
                f'Take {key} out, or write decision = "changed".',
                check="contradicts",
            )


def _own_words_needed(gathering: Gathering, raw: Mapping[str, Any], path: str) -> None:
    tried = any(gathering.document.failed(f"{path}.{key}") for key in _OWN_WORDS)
    if tried or "title" in raw or raw.get("do"):
        return
    gathering.tell(
        f"{path}.decision",
        field("rule_decision", "decision", which="practice").label,
        "needs the department's own words",
        "Add title = … or do = [ … ], or choose another decision.",
        check="missing",
        value="changed",
    )
