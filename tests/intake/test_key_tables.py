"""The printed tables of keys are fresh, and every key carries what a reader needs."""

from pathlib import Path
from typing import get_args

import pytest

from zonule.findings.fields import Which, groups, placement_names, sections
from zonule.intake.key_tables import page
from zonule.library.reading import reference, status

DOCS = Path(__file__).parents[2] / "docs"
KINDS = get_args(Which)


@pytest.mark.parametrize("which", KINDS)
def test_the_page_is_fresh(which: Which) -> None:
    written = (DOCS / f"{which}-file.md").read_text(encoding="utf-8")
    assert written == page(which)


@pytest.mark.parametrize("which", KINDS)
def test_every_key_is_complete(which: Which) -> None:
    fields = [field for rows in sections(which).values() for field in rows.values()]
    assert len(fields) > 25
    for field in fields:
        where = f"{field.section}.{field.key}"
        assert field.label, where
        assert field.help.endswith((".", ":")) or ":" in field.help, where
        assert reference(field.source).key == field.source, where
        assert status(field.status), where
        assert (field.low is None) == (field.high is None), where
        assert not field.group or field.group in groups(), where
        if field.unit == "mm":
            assert field.key.endswith("_mm") or which == "practice", where
        if field.type in ("choice", "choices"):
            assert field.choices, where


def test_placements_of_an_operation_are_the_placements() -> None:
    assert sections("case")["operation"]["placement"].choices == tuple(
        name for name in placement_names() if ":" not in name
    )
