"""A real browser, and the pages of the examples to look at with it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright
from tools.browser import NoChromium, launched, served


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser for the tests of one file; without one they fail and say how to get it."""
    with sync_playwright() as playwright:
        try:
            running = launched(playwright)
        except NoChromium as missing:
            pytest.fail(str(missing), pytrace=False)
        yield running
        running.close()


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """The address of the example cases, served on the demo day."""
    with served() as found:
        yield found
