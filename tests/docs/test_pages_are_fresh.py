"""The pages that are made from the program say what the program says now (a snapshot)."""

from pathlib import Path

import pytest
from tools.refresh_docs import pages

PAGES = pages()


@pytest.mark.parametrize("path", PAGES, ids=[path.name for path in PAGES])
def test_the_page_is_fresh(path: Path) -> None:
    assert path.read_text(encoding="utf-8") == PAGES[path], "run `make docs`"


def test_there_are_pages() -> None:
    assert len(PAGES) == 3
