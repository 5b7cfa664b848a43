"""The tables of keys as pages: ``docs/case-file.md`` and ``docs/practice-file.md``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from zonule.findings.fields import Field, Which, derived_names, groups, placements, sections
from zonule.library.reading import STATUS_WORDS, status, table
from zonule.library.tray import items

_HEADINGS: Final = {
    "top": ("At the top", ""),
    "patient": ("Patient", "[patient]"),
    "aim": ("Aim", "[aim]"),
    "eye": ("Each eye", "[right] and [left]"),
    "biometry": ("Measurements", "[[right.biometry]] and [[left.biometry]], one per sitting"),
    "operation": ("Operation", "[right.operation] and [left.operation]"),
    "overruled": (
        "Rules set aside",
        "[[right.overruled]] and [[left.overruled]], one per rule",
    ),
    "lens": ("Lens", "[[lens]], one per model"),
    "constants": ("Constants", "[lens.constants.srkt] and so on, one per formula; in each"),
    "constants.srkt": ("SRK/T", "[lens.constants.srkt]"),
    "constants.t2": ("T2", "[lens.constants.t2]"),
    "constants.holladay1": ("Holladay 1", "[lens.constants.holladay1]"),
    "constants.hofferq": ("Hoffer Q", "[lens.constants.hofferq]"),
    "constants.haigis": ("Haigis", "[lens.constants.haigis]"),
    "stock": ("Stock", '[lens.stock], one row per power: "+20.50" = { … }'),
    "share": ("Own shares", "[shares], one row per place: sulcus_capture = 0.1"),
    "machine": ("Machine", "[machine]"),
    "cup_test": ("Cup test", "[[machine.cup_test]], one per reading"),
    "risk": ("Risk", "[risk]"),
    "energy": ("Ultrasound energy", "[energy]"),
    "energy_term": ("Terms of an own measure", "[[energy.term]], one per mode"),
    "energy_log": ("Columns of the own energy log", "the file that log names, one row per case"),
    "habits": ("Habits", "[habits]"),
    "kept": ("Where items are kept", "[kept], one row per item: iris_hooks = { … }"),
    "recipe_card": ("Recipe cards", "[[recipe_card]], one per drug or dye"),
    "rule_decision": ("Decisions about rules", "[[rule_decision]], one per decision"),
}
_LEFT_OUT: Final = ("stock_power", "cup_flow")

_OPENING: Final = {
    "case": """A case file is TOML: one patient, both eyes, and which eye is to be done. A key that
is absent is *not recorded*. Where a value may be unknown, `"not_examined"`, `"not_possible"` and
`"unknown"` (asked, nobody knows) are values too. Numbers take a point; a pasted true minus is a
minus; a comma, another dash, a second point or letters are refused and never repaired. Days are
plain: `2026-11-02`. Every fault of a file is told at once, with its line.

`nothing_abnormal = ["pupil", "zonule"]` in an eye writes each item of these groups as looked for
and absent (the column *normal*). An entry typed beside it counts and is asked about. Numbers
without a normal value stay not recorded.

K values stand in their own `keratometer_index` (1.3375 if not given); another index, and corneal
radii, come in through the radius. A cylinder may be typed in either sign; it is kept as minus and
read back.

A rule set aside for an eye stays in sight with its reason. To change or switch off a rule for every
eye, use the practice file.""",
    "practice": """A practice file is TOML: the surgeon, the repertoire, the lens store with its
constants and stock, own shares, habits, where items are kept, recipe cards, decisions about rules.
Nothing here may be unknown: what is not known is not written.
Every fault of a file is told at once, with its line.

A place in `repertoire` and `[shares]` is an id, or `id:variant`; in `[shares]` an id with a variant
stands in quotation marks. The device identifier is the 14 digits of the box; its last digit is
checked, and each stands for one power of one lens only.

`[[machine.cup_test]]` holds one reading of the set-up in use, sleeve and tip fitted; two heights
show whether one resistance serves. A vacuum stands with the flow that was set for it.

Strengths of drugs and dyes come from your recipe cards alone, word for word; nothing is computed
from them. An item without a row in `[kept]` is *not recorded*, and never read as absent. Several
decisions about one rule may stand one after the other: the last one holds.""",
}


def page(which: Which) -> str:
    """Return the page that lists every key of a kind of file.

    Examples
    --------
    >>> page("case").splitlines()[0]
    '# Case file'
    """
    return "\n".join([*_page(which), ""])


def _page(which: Which) -> Iterator[str]:
    meta = table(f"fields/{which}")["meta"]
    yield f"# {meta['title']}"
    yield ""
    yield f"Schema `{meta['schema']}`. This page is made from the table of keys; do not edit it."
    yield ""
    yield _OPENING[which]
    for name, fields in sections(which).items():
        if name not in _LEFT_OUT:
            yield from _section(name, fields)
    yield from _places() if which == "case" else _items()


def _section(name: str, fields: Mapping[str, Field]) -> Iterator[str]:
    heading, where = _HEADINGS[name]
    yield ""
    yield f"## {heading}"
    if where:
        yield ""
        yield f"Under `{where}`."
    own = [field for field in fields.values() if field.section == name]
    in_groups = name == "eye"
    yield from _rows(own) if not in_groups else _by_group(own)


def _by_group(fields: list[Field]) -> Iterator[str]:
    for group, title in groups().items():
        rows = [field for field in fields if field.group == group]
        if rows:
            yield ""
            yield f"### {title} (`{group}`)"
            yield from _rows(rows)


def _rows(fields: list[Field]) -> Iterator[str]:
    yield ""
    yield "| key | what it is | value | normal | limit from |"
    yield "| --- | --- | --- | --- | --- |"
    for field in fields:
        needed = " **Needed.**" if field.required else ""
        note = f" {field.note}" if field.note else ""
        must = field.limit_sentence().removeprefix("must be ")
        normal = "" if field.normal is None else f"`{_toml(field.normal)}`"
        said = f"{field.label}. {field.help}{needed}{note}"
        yield f"| `{field.key}` | {said} | {must} | {normal} | {_limit_from(field)} |"


def _limit_from(field: Field) -> str:
    return "" if field.low is None else STATUS_WORDS[status(field.status)]


def _toml(value: bool | int | float | str) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"


def _items() -> Iterator[str]:
    yield ""
    yield "## Items"
    yield ""
    yield "Keys of `[kept]`; those of the kind drug or dye take a recipe card."
    yield ""
    yield "| key | what it is | kind |"
    yield "| --- | --- | --- |"
    for key, item in items().items():
        stays = ", an implant" if item.implant else ""
        yield f"| `{key}` | {item.label}. {item.help} | {item.kind}{stays} |"


def _places() -> Iterator[str]:
    yield ""
    yield "## Places"
    yield ""
    yield "| id | variants |"
    yield "| --- | --- |"
    for name, variants in placements().items():
        yield f"| `{name}` | {', '.join(f'`{one}`' for one in variants)} |"
    yield ""
    yield "## Never entered"
    yield ""
    yield "These are derived, or stand elsewhere. A file that holds one is refused."
    yield ""
    yield "| name | it comes from |"
    yield "| --- | --- |"
    for name, origin in derived_names().items():
        yield f"| `{name}` | {origin} |"
